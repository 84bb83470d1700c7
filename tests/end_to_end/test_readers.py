"""Who reads a book in other ways: without its history, from standard input, late, and beside another baker."""

from __future__ import annotations

import json
import re
import shutil
import subprocess

import pytest

from refusals_support import reads_well, snapshot

NOW = "2026-11-25T12:00:00+01:00"
LOAF = """\
formula: stall-loaf
title: Stall loaf
ingredients:
  strong wheat flour: 100%
  water: 68%
  salt: 2%
process:
  - bulk: 90 min at 25 C
"""


def git(book, *words):
    """What plain git says of the book, used by somebody who bakes as tomas."""
    who = ("-c", "user.name=Tomas", "-c", "user.email=tomas@stall.invalid")
    return subprocess.run(["git", "-C", book, *who, *words], capture_output=True, text=True, check=True).stdout


@pytest.fixture
def book(oven, tmp_path):
    """A book of noor's with one formula."""
    assert oven("start stall --baker noor", cwd=tmp_path).code == 0
    assert oven("enter -", cwd=tmp_path / "stall", typed=LOAF).code == 0
    return tmp_path / "stall"


@pytest.fixture
def two_bakers(oven, book):
    """Both noor and tomas have a revision 2; tomas keeps the book with plain git. Each was baked once."""
    assert oven("tweak", "stall-loaf", "water=70%", "--why", "softer", cwd=book).code == 0
    folder = book / "formulas/stall-loaf"
    theirs = (folder / "r2.noor.yaml").read_text().replace("by: noor", "by: tomas").replace("70%", "72%")
    (folder / "r2.tomas.yaml").write_text(theirs.replace("softer", "much softer"))
    git(book, "add", "-A")
    git(book, "commit", "-q", "-m", "my own second revision")
    assert oven("record stall-loaf r2.noor --crumb 7 --crust 7", cwd=book).code == 0
    assert oven("record stall-loaf r2.tomas --crumb 8 --crust 7", cwd=book).code == 0
    return book


@pytest.mark.parametrize("line", ["check", "list --json", "rank --json", "diff market-roll --json", "show A4 --json"])
def test_a_copy_without_history_answers_scripts_the_same(line, sample_book, oven, tmp_path):
    """Documents are the same too, but for the note of check that this copy can be read and not written."""
    copy = tmp_path / "copy"
    shutil.copytree(sample_book, copy, ignore=shutil.ignore_patterns(".git"))
    there, here = (oven(line, cwd=folder, now=NOW) for folder in (sample_book, copy))
    if line == "check":
        assert there.code == here.code == 0
        counted = re.search(r"\w+ formulas, \d+ revisions and \d+ trials", " ".join(there.out.split()))
        assert counted[0] in " ".join(here.out.split())
        assert "can be read, not written" in " ".join(here.out.split())
    else:
        assert (there.code, there.out) == (here.code, here.out)


@pytest.mark.parametrize(
    "line",
    [
        "enter -",
        "tweak stall-loaf water=70% --why x",
        "save",
        "record stall-loaf crumb 7, crust 8",
        "score A1 --taster tomas --crumb 7",
        "mark stall-loaf r1 keeper --why x",
        "copy stall-loaf evening-loaf",
        "retire stall-loaf --why x",
    ],
)
def test_no_writing_command_writes_into_a_copy_without_history(line, book, oven):
    """Each is refused in words, and no page is touched."""
    assert oven("record stall-loaf --crumb 6", cwd=book).code == 0
    shutil.rmtree(book / ".git")
    page = book / "formulas/stall-loaf.yaml"
    if line == "save":
        page.write_text(page.read_text().replace("68%", "69%"))
        line = "save --why x"
    before = snapshot(book)
    ran = oven(f"--baker noor {line}", cwd=book, typed=LOAF.replace("stall-loaf", "other-loaf"))
    assert (ran.code, ran.out) == (3, "")
    assert "no history" in ran.err
    reads_well(ran.err)
    assert snapshot(book) == before


TOUCHES = {
    "a comment": ("  salt: 2%\n", "  salt: 2%   # grey sea salt\n"),
    "another order": ("  water: 68%\n  salt: 2%\n", "  salt: 2%\n  water: 68%\n"),
    "quotes": ("title: Stall loaf", 'title: "Stall loaf"'),
    "spacing": ("ingredients:\n  strong wheat flour: 100%", "\ningredients:\n  strong wheat flour:    100%"),
    "the same figure otherwise written": ("68%", "68.0 %"),
}


@pytest.mark.parametrize("name", TOUCHES)
def test_what_does_not_change_the_dough_makes_no_revision(name, book, oven):
    """The page keeps what was typed, the number stays, and it is no draft."""
    page = book / "formulas/stall-loaf.yaml"
    before = page.read_text()
    touched = before.replace(*TOUCHES[name])
    assert touched != before
    page.write_text(touched)
    assert "draft" not in oven("show stall-loaf", cwd=book).out
    saved = oven("save", cwd=book)
    assert saved.code == 0, saved.err
    assert "Touched up" in saved.out
    assert page.read_text() == touched
    assert [row["revision"] for row in history(oven, book)] == ["r1.noor"]


@pytest.mark.parametrize("saved", [True, False], ids=["saved", "not saved"])
def test_a_remark_made_since_the_last_revision_is_not_lost_by_a_tweak(saved, book, oven):
    """The next revision is made on the page as it stands, remarks and order and all."""
    page = book / "formulas/stall-loaf.yaml"
    page.write_text(page.read_text().replace("  salt: 2%\n", "  salt: 2%   # grey sea salt\n"))
    if saved:
        assert oven("save", cwd=book).code == 0
    assert oven("tweak stall-loaf water=70% --why softer", cwd=book).code == 0
    assert "# grey sea salt" in page.read_text()
    assert "# grey sea salt" in (book / "formulas/stall-loaf/r2.noor.yaml").read_text()


@pytest.mark.parametrize("line", ["enter - --why x", "tweak stall-loaf water=70% --from r1 --why x"])
def test_a_remark_that_is_not_saved_is_not_written_over_by_another_page(line, book, oven):
    """Where another page would take its place, unsaved remarks stop it; the command that is offered clears the way."""
    assert oven("tweak stall-loaf water=69% --why x", cwd=book).code == 0
    page = book / "formulas/stall-loaf.yaml"
    page.write_text(page.read_text().replace("  salt: 2%\n", "  salt: 2%   # grey sea salt\n"))
    before = snapshot(book)
    ran = oven(line, cwd=book, typed=LOAF.replace("68%", "71%"))
    assert (ran.code, ran.out) == (3, "")
    assert snapshot(book) == before
    reads_well(ran.err)
    (offered,) = re.findall(r"^  ovenleaf (.*?)   ", ran.err, re.M)
    assert oven(offered, cwd=book).code == 0
    assert oven(line, cwd=book, typed=LOAF.replace("68%", "71%")).code == 0


def test_a_draft_on_a_number_that_two_have_can_be_recorded_either_way(two_bakers, oven):
    """The refusal names the baker, and its first command, typed as it stands, records the saved one."""
    page = two_bakers / "formulas/stall-loaf.yaml"
    page.write_text(page.read_text().replace("70%", "74%"))
    ran = oven("record stall-loaf --crumb 6 --crust 6", cwd=two_bakers)
    assert ran.code == 3
    assert "since revision 2 by noor" in " ".join(ran.err.split())
    offered = re.findall(r"^  ovenleaf (record .*?)(?:   |$)", ran.err, re.M)[0]
    assert offered == "record stall-loaf r2.noor --crumb 6 --crust 6"
    assert oven(offered, cwd=two_bakers).code == 0


def history(oven, book):
    """The rows of `history --json`."""
    return json.loads(oven("history stall-loaf --json", cwd=book).out)["revisions"]


def test_an_edit_by_hand_is_a_draft_until_it_is_saved(book, oven):
    """Each reading command that shows the formula says so; after `save` none does."""
    page = book / "formulas/stall-loaf.yaml"
    page.write_text(page.read_text().replace("68%", "70%"))
    asked = {
        "list": "edited, not saved",
        "show stall-loaf": "a draft, not saved yet",
        "history stall-loaf": "is not saved yet",
        "--book .": "Edited by hand and not saved",
    }
    for line, words in asked.items():
        assert words in " ".join(oven(*line.split(), cwd=book).out.split()), line
    saved = oven("save --why softer", cwd=book)
    assert "up 2.0 points" in saved.out
    for line, words in asked.items():
        assert words not in " ".join(oven(*line.split(), cwd=book).out.split()), line


def test_a_bake_told_late_says_when_it_was_baked_and_when_it_was_told(book, oven):
    """`--baked-on` keeps the two days apart, on the page and on the screen."""
    ran = oven("record stall-loaf --crumb 6 --crust 7 --baked-on 2026-11-04", cwd=book, now=NOW)
    assert "baked Wednesday 4 November 2026" in " ".join(ran.out.split())
    page = (book / "trials/stall-loaf/2026-11-04-noor.yaml").read_text()
    assert "bake_date: 2026-11-04" in page
    assert f"entered: {NOW}" in page
    shown = " ".join(oven("show last", cwd=book, now=NOW).out.split())
    assert "Told late, on Wednesday 25 November 2026." in shown
    on_the_day = oven("record stall-loaf --crumb 6 --crust 7", cwd=book, now=NOW)
    assert "late" not in on_the_day.out


def test_a_typed_up_bake_comes_in_from_a_file_and_from_standard_input(book, oven, tmp_path):
    """Both give the same page but for its code."""
    sheet = "bake_date: 2026-11-04\nbatch: 600 g flour\nweighed:\n  water: 410 g\nscores:\n  noor:\n    crumb: 8\n"
    (tmp_path / "sheet.yaml").write_text(sheet)
    assert oven("record stall-loaf --from ../sheet.yaml", cwd=book, now=NOW).code == 0
    assert oven("record stall-loaf --from -", cwd=book, now=NOW, typed=sheet).code == 0
    one, other = (
        (book / f"trials/stall-loaf/2026-11-04-noor{more}.yaml").read_text().replace(f"noor{more}", "noor")
        for more in ("", "-2")
    )
    assert one.replace("code: A1", "code: A2") == other


@pytest.mark.parametrize(
    "words",
    [
        "crumb 5, crust 7, dough 24C, bulk 80 min, tight",
        "dough 24 °C, bulk 80 min, crust 7, crumb 5, tight",
        "--crumb 5 --crust 7 --dough-temp 24C --step 'bulk: 80 min' --note tight",
        "crumb 5, tight, dough 24,0C --crust 7 --step 'bulk: 80 min'",
    ],
)
def test_a_bake_may_be_told_in_any_order_and_by_options(words, book, oven):
    """Spoken order and options come to the same trial."""
    assert oven(f"record stall-loaf {words}", cwd=book).code == 0
    trial = json.loads(oven("show last --json", cwd=book).out)
    assert [(s["taster"], s["crumb"], s["crust"], s["note"]) for s in trial["scores"]] == [("noor", 5, 7, "tight")]
    beside = {row["name"]: row["actual"] for row in trial["rows"]}
    assert beside["bulk"] == "80 min"
    assert beside["dough temperature"] == "24 °C"


def test_nothing_told_is_nothing_recorded(book, oven):
    """Where nobody can be asked, a bare `record` is refused; both commands that it offers work."""
    before = snapshot(book)
    ran = oven("record stall-loaf", cwd=book)
    assert (ran.code, ran.out) == (3, "")
    assert snapshot(book) == before
    offered = re.findall(r"^  ovenleaf (.*?)   ", ran.err, re.M)
    assert len(offered) == 2
    assert all(oven(line, cwd=book).code == 0 for line in offered)


SCREENS = {
    "history stall-loaf": ["Revision 2 by noor", "Revision 2 by tomas"],
    "list": ["stall-loaf, revision 2 by noor", "stall-loaf, revision 2 by tomas"],
    "rank stall-loaf": ["revision 2 by noor", "revision 2 by tomas"],
    "rank stall-loaf --by revision": ["revision 2 by tomas", "record stall-loaf r2.tomas"],
    "diff stall-loaf r2.noor r2.tomas": ["revision 2 by noor", "revision 2 by tomas", "up 2.0 points"],
    "diff stall-loaf r1 r2.tomas": ["revision 1 of 4 Nov and revision 2 by tomas of 4 Nov", "up 4.0 points"],
    "show stall-loaf r2.tomas": ["revision 2 by tomas"],
    "show A1": ["revision 2 by noor"],
    "show A2": ["revision 2 by tomas"],
}


@pytest.mark.parametrize("line", SCREENS)
def test_every_screen_names_the_baker_where_two_have_the_number(line, two_bakers, oven):
    """A number alone would not say which dough it was."""
    ran = oven(line, cwd=two_bakers)
    assert ran.code == 0, ran.err
    reads_well(ran.out)
    said = " ".join(ran.out.split())
    for words in SCREENS[line]:
        assert words in said
    bare = re.findall(r"\brevision 2(?! by)", said)
    assert not bare, said


@pytest.mark.parametrize(
    "line", ["show stall-loaf r2", "show stall-loaf 2", "diff stall-loaf r1 r2", "weigh stall-loaf r2"]
)
def test_a_number_that_two_bakers_have_is_refused_alone(line, two_bakers, oven):
    """Both full names are offered."""
    ran = oven(line, cwd=two_bakers)
    assert (ran.code, ran.out) == (3, "")
    assert "r2.noor and r2.tomas" in ran.err
    assert "no history" not in ran.err


def test_the_next_revision_says_whose_it_was_made_from(two_bakers, oven):
    """Its number is above both, and the screen that keeps it names the baker of the one before."""
    ran = oven("tweak stall-loaf water=71% --from r2.tomas --why between", cwd=two_bakers)
    assert "revision 3" in ran.out
    assert "made from revision 2 by tomas" in " ".join(ran.out.split())
    marked = oven("mark stall-loaf r3 keeper --why x", cwd=two_bakers)
    assert "Revision 2 by tomas stands higher" in " ".join(marked.out.split())
    checked = oven("check", cwd=two_bakers)
    assert checked.code == 0, checked.out
