"""A book with something broken in it: the others are answered for, the broken page is named and never written over."""

from __future__ import annotations

import shutil
import subprocess

import pytest

from ovenleaf.book import store, write_faults
from refusals_support import offered, reads_well, refused, whole

pytestmark = pytest.mark.counted

NOW = "2026-11-25T12:00:00+01:00"
BROKEN = "formula: market-roll\ningredients: [\n"


def left_out(text):
    """What a screen says of pages it could not read, up to the next heading."""
    start = text.index("One page could not be read")
    return text[start:].partition("\n\nNext")[0].rstrip()


def read(oven, command, book):
    """A reading command that answers, in words that read well, and leaves the book as it is."""
    before = whole(book)
    ran = oven(command, cwd=book, now=NOW)
    assert (ran.code, ran.err) == (0, ""), (command, ran.err)
    reads_well(ran.out)
    assert whole(book) == before
    return ran.out


def trial_page(book, code):
    """The page of a trial, by its code."""
    return next(page for page in (book / "trials").rglob("*.yaml") if f"\ncode: {code}\n" in page.read_text())


def test_a_broken_current_page_stops_nothing_else(sample_book, oven, golden):
    """Lists and rankings go on; what needs the page says where it is broken and offers what was last saved."""
    (sample_book / "formulas/market-roll.yaml").write_text(BROKEN)
    golden("bad/books/broken-page-list", left_out(read(oven, "list", sample_book)))
    for command in (
        "rank",
        "rank market-roll",
        "history market-roll",
        "diff market-roll",
        "show market-roll r1",
        "show A1",
        "show caraway-rye",
        "weigh market-roll",
    ):
        read(oven, command, sample_book)
    said = refused(oven, "show market-roll", sample_book, now=NOW)
    golden("bad/books/broken-page-show", said)
    read(oven, offered(said)[0], sample_book)
    for command in ("record market-roll --crumb 5", "tweak market-roll water=70% --why x", "save --why x"):
        assert "formulas/market-roll.yaml, line 2" in refused(oven, command, sample_book, now=NOW)
    assert oven("record market-roll r4 --crumb 5", cwd=sample_book, now=NOW).code == 0
    assert oven("record caraway-rye --crumb 5", cwd=sample_book, now=NOW).code == 0


def test_a_broken_kept_revision_is_found_by_check_and_stops_nothing_else(sample_book, oven, golden):
    """check tells of it like of any other mistake; history leaves it out and says so; its trials keep their places."""
    (sample_book / "formulas/market-roll/r3.noor.yaml").write_text(BROKEN)
    ran = oven("check", cwd=sample_book, now=NOW)
    assert ran.code == 1
    assert "In formulas/market-roll/r3.noor.yaml, line 2:" in ran.out
    golden("bad/books/broken-kept-history", left_out(read(oven, "history market-roll", sample_book)))
    for command in ("list", "rank market-roll", "rank market-roll --by revision", "show market-roll", "show A1"):
        read(oven, command, sample_book)
    golden("bad/books/broken-kept-diff", refused(oven, "diff market-roll", sample_book, now=NOW))


def test_a_page_longer_than_a_page_can_be_stops_nothing_else(sample_book, oven):
    """A kept revision, a trial, a current page over 1 MB: told of by check, and left out elsewhere."""
    data = "formula: market-roll\nwhy: " + "x" * 1_000_001
    for page in ("formulas/market-roll/r2.noor.yaml", "formulas/caraway-rye.yaml"):
        (sample_book / page).write_text(data)
    trial_page(sample_book, "A2").write_text(data)
    for command in ("list", "rank", "history market-roll", "show market-roll", "diff market-roll"):
        read(oven, command, sample_book)
    found = oven("check", cwd=sample_book, now=NOW)
    assert found.code == 1
    assert "In formulas/market-roll/r2.noor.yaml, line 1: This page is longer" in found.out


def test_a_broken_trial_is_named_when_it_is_asked_for(sample_book, oven, golden):
    """Its code, its day, `last`: it is never said not to be there, and no other is taken in its place."""
    page = trial_page(sample_book, "D3")
    page.write_text(page.read_text().replace("state: done", "state: [done"))
    golden("bad/books/broken-trial-list", left_out(read(oven, "list", sample_book)))
    said = refused(oven, "show D3", sample_book, now=NOW)
    golden("bad/books/broken-trial-show", said)
    for command in ("score D3 --crumb 5", "diff caraway-rye --trials D3 C7"):
        assert refused(oven, command, sample_book, now=NOW) == said
    assert refused(oven, "score caraway-rye 2026-11-07 --crumb 5", sample_book, now=NOW) == said
    for command in ("rank caraway-rye", "history caraway-rye", "show C7"):
        read(oven, command, sample_book)
    last = read(oven, "show last", sample_book).split(",")[0].removeprefix("Trial ")
    trial_page(sample_book, last).write_text("state: [done\n")
    for command in ("show last", "score last --crumb 5"):
        said = refused(oven, command, sample_book, now=NOW)
        assert said.startswith("A bracket that is opened in this line is not closed.")
    recorded = oven("record caraway-rye --crumb 5", cwd=sample_book, now=NOW).out
    code = recorded.split(",")[0].removeprefix("Recorded: trial ")
    assert f"Trial {code}," in oven("show last", cwd=sample_book, now=NOW).out


def test_marks_that_cannot_be_read_are_not_taken_for_none(sample_book, oven, golden):
    """The keeper is unknown, not missing: what leans on it says so, lists tell of the page."""
    (sample_book / "formulas/market-roll/marks.yaml").write_text("marks: [\n")
    golden("bad/books/broken-marks-list", left_out(read(oven, "list", sample_book)))
    assert "marks.yaml, line 1" in read(oven, "history market-roll", sample_book)
    said = refused(oven, "show market-roll keeper", sample_book, now=NOW)
    golden("bad/books/broken-marks-keeper", said)
    for command in ("weigh market-roll", "mark market-roll r2 dropped --why x"):
        assert "marks.yaml, line 1" in refused(oven, command, sample_book, now=NOW)
    read(oven, "weigh market-roll r3", sample_book)


def test_a_book_page_that_cannot_be_read_stops_no_reading(sample_book, oven, golden):
    """What is usual stands in for scale and weights, and every screen that goes by them says so; nothing is written."""
    page = sample_book / "book.yaml"
    good = page.read_text()
    page.write_text(good.replace("scale: 0 to 10", "scale: 10 to 0"))
    golden("bad/books/scale-upside-down", left_out(read(oven, "list", sample_book)))
    page.write_text(good.replace("scale: 0 to 10", "scale: [0"))
    golden("bad/books/broken-book-page", left_out(read(oven, "rank", sample_book)))
    for command in (
        "--sentences",
        "list",
        "list --gaps",
        "find crumb above 7",
        "history market-roll",
        "rank market-roll --by revision",
        "diff market-roll",
        "diff market-roll caraway-rye",
        "diff --trials A1 A2",
        "show A1",
        "weigh market-roll",
    ):
        screen = read(oven, command, sample_book)
        assert "scores are read as from 0 to 10" in " ".join(screen.split()), command
    read(oven, "show market-roll", sample_book)
    read(oven, "show butter", sample_book)
    for command in ("record market-roll --crumb 5", "score A1 --flavour 5", "tweak market-roll water=70% --why x"):
        assert "book.yaml, line 4" in refused(oven, command, sample_book, now=NOW)
    assert oven("check", cwd=sample_book, now=NOW).code == 1


def test_an_ingredient_list_that_cannot_be_read_is_named(sample_book, oven, golden):
    """Shares need it; marks and lists do not."""
    (sample_book / "ingredients.yaml").write_text("format: ingredients/1\ningredients:\n  einkorn flour: [\n")
    golden("bad/books/broken-ingredients", refused(oven, "show market-roll", sample_book, now=NOW))
    for command in ("list", "rank market-roll"):
        read(oven, command, sample_book)


def newer(page, kind):
    """Makes a page one that a newer ovenleaf wrote."""
    text = page.read_text()
    assert f"format: {kind}/1" in text
    page.write_text(text.replace(f"format: {kind}/1", f"format: {kind}/9"))
    return page.read_bytes()


def test_a_formula_page_by_a_newer_ovenleaf_is_kept_and_never_worked_with(sample_book, oven, golden):
    """Listed as such, refused by what would read or replace it; older revisions stay at hand."""
    page = sample_book / "formulas/market-roll.yaml"
    data = newer(page, "formula")
    listed = read(oven, "list", sample_book)
    assert "its page is by a newer ovenleaf" in listed
    golden("bad/books/newer-list", left_out(listed))
    golden("bad/books/newer-show", refused(oven, "show market-roll", sample_book, now=NOW))
    handed_in = "formula: market-roll\ningredients:\n  strong wheat flour: 100%\n  water: 60%\n"
    for command in (
        "record market-roll --crumb 5",
        "tweak market-roll water=70% --why x",
        "tweak market-roll water=70% --from r2 --why x",
        "save --why x",
        "save market-roll --why x",
        "enter - --why x",
        "diff market-roll --draft",
    ):
        said = refused(oven, command, sample_book, now=NOW, typed=handed_in)
        assert "newer ovenleaf" in " ".join(said.split()), command
    for command in ("history market-roll", "diff market-roll", "rank market-roll", "show market-roll r4"):
        read(oven, command, sample_book)
    checked = oven("check", cwd=sample_book, now=NOW)
    assert checked.code == 0
    golden("bad/books/newer-check", checked.out)
    assert oven("record market-roll r4 --crumb 5", cwd=sample_book, now=NOW).code == 0
    assert oven("tweak caraway-rye water=+1point --why 'a little softer'", cwd=sample_book, now=NOW).code == 0
    assert page.read_bytes() == data


def test_a_trial_by_a_newer_ovenleaf_gets_no_marks_from_this_one(sample_book, oven, golden):
    """It is kept byte for byte, named when asked for, and left out of rankings with a word."""
    page = trial_page(sample_book, "A1")
    data = newer(page, "trial")
    golden("bad/books/newer-trial", refused(oven, "score A1 --taster petra --crumb 5", sample_book, now=NOW))
    assert "newer ovenleaf" in " ".join(read(oven, "rank market-roll", sample_book).split())
    assert oven("save --why 'came by mail'", cwd=sample_book, now=NOW).code == 0
    assert page.read_bytes() == data


def test_a_book_inside_another_history_leaves_that_one_alone(oven, tmp_path, golden):
    """It is read; writing is refused; the outer folder, its history too, stays byte for byte."""
    subprocess.run(["git", "init", "-q", tmp_path], check=True)
    book = tmp_path / "stall"
    book.mkdir()
    (book / "book.yaml").write_text("format: book/1\ntitle: Inner\n")
    (tmp_path / "notes.txt").write_text("not ours\n")
    page = "formula: x-loaf\ningredients:\n  strong wheat flour: 100%\n"
    before = whole(tmp_path)
    assert oven("list", cwd=book).code == 0
    said = refused(oven, "--baker noor enter -", book, typed=page)
    golden("bad/books/inside-another", said)
    assert refused(oven, "enter -", book, typed=page) == said  # before anybody is asked for a name in vain
    assert whole(tmp_path) == before


def test_a_copy_without_its_history_reads_and_does_not_write(sample_book, oven):
    """Every reading command answers; writing says what is missing."""
    shutil.rmtree(sample_book / ".git")
    for command in ("list", "rank", "show market-roll", "diff market-roll", "history market-roll", "check"):
        assert oven(command, cwd=sample_book, now=NOW).code == 0
    assert "has no history" in refused(oven, "record market-roll --crumb 5", sample_book, now=NOW)


def test_a_draft_in_the_way_of_record_offers_commands_that_work(sample_book, oven, golden):
    """The bake is told again with the saved revision, or after the page is saved; both as they stand."""
    page = sample_book / "formulas/market-roll.yaml"
    page.write_text(page.read_text().replace("water: 71%", "water: 72%"))
    told = "record market-roll --crumb 7 --crust 8 --note 'a little \"tight\"'"
    said = refused(oven, told, sample_book, now=NOW)
    golden("bad/books/draft-in-the-way", said)
    saved, draft = offered(said)
    assert oven(saved, cwd=sample_book, now=NOW).code == 0
    assert "revision 4" in oven("show last", cwd=sample_book, now=NOW).out
    for command in draft.replace('"..."', '"softer"').split(" && "):
        ran = oven(command.removeprefix("ovenleaf "), cwd=sample_book, now=NOW)
        assert ran.code == 0, ran.err
    assert "revision 5" in oven("show last", cwd=sample_book, now=NOW).out
    assert 'a little "tight"' in oven("show last", cwd=sample_book, now=NOW).out


def test_a_draft_in_the_way_of_others_is_told(sample_book, oven, golden):
    """tweak and enter would write over what was edited by hand; they name what to do with it."""
    page = sample_book / "formulas/market-roll.yaml"
    page.write_text(page.read_text().replace("water: 71%", "water: 72%"))
    said = refused(oven, "tweak market-roll salt=1.8% --why x", sample_book, now=NOW)
    golden("bad/books/draft-in-the-way-of-tweak", said)
    assert refused(oven, "enter -", sample_book, now=NOW, typed=BROKEN.replace("[", "\n  water: 60%")) == said
    for command in reversed(offered(said)):
        assert oven(command.replace('"..."', '"softer"'), cwd=sample_book, now=NOW).code == 0


SETTINGS = {
    "fsmonitor": "[core]\n\tfsmonitor = touch never\n",
    "hooks": "[core]\n\thooksPath = ../hooks\n",
    "alias": "[alias]\n\tstatus = !touch never\n",
    "include": "[include]\n\tpath = ../other\n",
    "filter": '[filter "x"]\n\tclean = touch never\n',
    "not-understood": "[core]\n\teditor\n",
}


@pytest.mark.parametrize("name", SETTINGS)
def test_a_setting_that_could_start_a_program_stops_writing(name, sample_book, oven, golden):
    """File and line are named, nothing is run, the book is read all the same, check tells of it."""
    config = sample_book / ".git/config"
    config.write_bytes(config.read_bytes() + SETTINGS[name].encode())
    ran = oven("tweak market-roll water=70% --why x", cwd=sample_book, now=NOW)
    assert (ran.code, ran.out) == (3, "")
    reads_well(ran.err)
    golden(f"bad/books/setting-{name}", ran.err)
    assert oven("list", cwd=sample_book, now=NOW).code == 0
    assert oven("check", cwd=sample_book, now=NOW).code == 1
    assert not list(sample_book.rglob("never"))


def test_a_note_of_a_cut_off_entry_that_makes_no_sense_is_told(sample_book, oven, golden):
    """Nothing is guessed from it and nothing written; reading goes on."""
    (sample_book / ".git/ovenleaf/pending").write_text("{")
    said = refused(oven, "tweak market-roll water=70% --why x", sample_book, now=NOW)
    golden("bad/books/note-unreadable", said)
    assert oven("list", cwd=sample_book, now=NOW).code == 0


def test_saving_several_pages_tells_what_came_before_a_fault(sample_book, oven, monkeypatch, golden):
    """The first is saved, the second is not: both are said, and saving again finishes it."""
    for name, old, new in (("caraway-rye", "salt: 2%", "salt: 1.9%"), ("market-roll", "salt: 2%", "salt: 1.9%")):
        page = sample_book / f"formulas/{name}.yaml"
        assert old in page.read_text()
        page.write_text(page.read_text().replace(old, new))
    real = store.write
    calls = []

    def full_at_the_second(*args, **words):
        calls.append(args)
        if len(calls) == 2:
            raise write_faults.CannotWrite("the disk is full")
        return real(*args, **words)

    monkeypatch.setattr(store, "write", full_at_the_second)
    ran = oven("save --why 'less salt'", cwd=sample_book, now=NOW)
    assert (ran.code, ran.out) == (3, "")
    golden("bad/books/half-saved", ran.err)
    monkeypatch.setattr(store, "write", real)
    assert oven("save --why 'less salt'", cwd=sample_book, now=NOW).code == 0
    assert oven("check", cwd=sample_book, now=NOW).code == 0
