"""undo: the last entry taken back by a new one, step by step to the beginning; nothing is lost on the way."""

from __future__ import annotations

import json
import shutil
import subprocess

import pytest

from ovenleaf.records.codec.books import read_marks
from ovenleaf.records.yaml_text import read
from refusals_support import reads_well, snapshot
from support import run_ovenleaf

LOAF = (
    "formula: loaf\nmakes: 1 loaf of 800 g\ningredients:\n  strong wheat flour: 100%\n  water: 68%   # from the well\n"
    "  salt: 2%\n  instant yeast: 0.6%\nprocess:\n  - bulk: 60 min at 26 C\n  - bake: 40 min at 230 C\n"
)
# A story in which each line is one entry, and what undo says of it.
STORY = [
    ("enter -", "loaf r1.noor: a new formula"),
    ("tweak loaf water=70% --why softer", "loaf r2.noor: water 68 to 70 %"),
    ("begin loaf --flour 600g", "loaf A1"),
    ("jot +6 g water, felt tight", "loaf A1"),
    ("jot mixed, dough 25.5C", "loaf A1"),
    ("finish --crumb 7 --crust 8", "loaf A1"),
    ("record loaf r1 crumb 6, crust 6", "loaf A2"),
    ("score A1 --taster tomas --crumb 6 --crust 7", "loaf A1 (tomas): crumb 6, crust 7"),
    ("score A1 --taster tomas --crumb 6.5 --why 'read the wrong line'", "loaf A1 (tomas): crumb 6.5"),
    ("correct A2 scores.noor.crumb=6.5 --why 'read the wrong line'", "loaf A2 (noor): crumb, noor 6 to 6.5."),
    ("mark loaf r2 keeper --why 'best so far'", "loaf r2.noor: marked keeper"),
    ("mark loaf r1 keeper --why 'sells better'", "loaf r1.noor: marked keeper"),
    ("copy loaf evening-loaf --why x", "evening-loaf r1.noor: begun from loaf"),
    ("retire loaf --why 'not now'", "loaf: put away"),
    ("retire loaf --back --why 'asked for'", "loaf: taken out again"),
    ("ingredient rye crisp --kind seed --water 6 --allergen rye --source 'the bag'", "rye crisp"),
    ("tweak loaf salt=12% --why salty --meant 'sea air'", "loaf r3.noor: salt 2 to 12 %"),
]


def at(number):
    """A time for each line, 5 min apart."""
    return f"2026-11-04T{6 + number // 12:02}:{number % 12 * 5:02}:00+01:00"


def git(book, *words):
    """What plain git says of the book."""
    return subprocess.run(["git", "-C", book, *words], capture_output=True, text=True, check=True).stdout


def facts(book, oven, now):
    """All that a baker can ask of a book: its pages to the letter, its trials and marks by what they say."""
    pages = {
        path.relative_to(book).as_posix(): path.read_bytes()
        for path in (*book.glob("*.yaml"), *book.glob("formulas/*.yaml"), *book.glob("tastings/*.yaml"))
    }
    marks = {}
    for path in (book / "formulas").glob("*/marks.yaml"):
        page = read_marks(read(path.read_text(encoding="utf-8"), path=path.name))
        standing = {revision: mark for revision, mark in page.standing.items() if mark != "taken back"}
        out = tuple((one.kind, one.file) for one in page.out)
        marks[path.parent.name] = (standing, page.keeper, page.is_away, page.answers, out)
    trials = {}
    for path in (book / "trials").glob("*/*.yaml"):
        shown = json.loads(oven(f"show {path.parent.name}/{path.stem} --json", cwd=book, now=now).out)
        shown.pop("log")
        shown.pop("corrections")
        if shown["state"] != "withdrawn":
            trials[path.stem] = shown
    return pages, {name: one for name, one in marks.items() if one != ({}, "", False, (), ())}, trials


@pytest.fixture(scope="module")
def told(tmp_path_factory):
    """The story told, with the book after each line; gives the finished book and what each step left."""
    folder = tmp_path_factory.mktemp("told")

    def oven(line, *, cwd=folder, now="", typed=""):
        return run_ovenleaf(line, cwd=cwd, now=now or at(0), typed=typed)

    assert oven("start stall --title Stall --baker noor").code == 0
    book = folder / "stall"
    left = [facts(book, oven, at(0))]
    for number, (line, _) in enumerate(STORY, start=1):
        ran = oven(line, cwd=book, now=at(number), typed=LOAF if line == "enter -" else "")
        assert ran.code == 0, (line, ran.err)
        left.append(facts(book, oven, at(number)))
    return book, left


@pytest.fixture
def book(told, tmp_path):
    """The told book, to be worked with."""
    shutil.copytree(told[0], tmp_path / "stall")
    return tmp_path / "stall"


@pytest.mark.counted
def test_step_by_step_back_to_the_beginning(book, told, oven, golden):
    """Each undo takes back the line before: pages to the letter, trials and marks by what they say."""
    _, left = told
    kept = {path.name for path in (book / "formulas/loaf").glob("r*.yaml")}
    screens = []
    for number in range(len(STORY), 0, -1):
        line, said = STORY[number - 1]
        now = at(2 * len(STORY) - number)
        before = snapshot(book)
        preview = oven("undo --preview", cwd=book, now=now)
        assert snapshot(book) == before
        ran = oven("undo", cwd=book, now=now)
        assert ran.code == 0, (line, ran.err)
        assert preview.out.partition("\n\n")[2] == ran.out
        assert ran.out.startswith("Taken back: ")
        assert said in " ".join(ran.out.split()), line
        reads_well(ran.out)
        screens.append(f"after {line}\n\n{ran.out}")
        assert facts(book, oven, now) == left[number - 1], line
    golden("undo/story", "\n\n".join(screens))
    nothing = oven("undo", cwd=book, now=at(40))
    assert (nothing.code, nothing.out) == (3, "")
    golden("undo/nothing-left", nothing.err)
    assert {path.name for path in (book / "formulas/loaf").glob("r*.yaml")} == kept
    checked = oven("check", cwd=book, now=at(40))
    assert "nothing found" in " ".join(checked.out.split()), checked.out
    assert git(book, "status", "--porcelain") == ""


def test_what_was_taken_back_stays_readable_and_its_number_is_not_used_again(book, oven):
    """history marks it, show shows it, nothing takes it unless named, and the next revision has the next number."""
    oven("undo", cwd=book, now=at(30))
    said = oven("history loaf", cwd=book, now=at(31)).out
    assert "Revision 3, taken back" in said
    assert "12.0 %" in oven("show loaf r3", cwd=book, now=at(31)).out
    assert "revision 2" in oven("show loaf", cwd=book, now=at(31)).out
    assert "revision 2" in oven("list", cwd=book, now=at(31)).out
    assert "made from revision 2" in " ".join(oven("tweak loaf salt=2.1% --why x", cwd=book, now=at(32)).out.split())
    assert "Revision 4" in oven("history loaf", cwd=book, now=at(33)).out
    again = oven("enter formulas/loaf/r3.noor.yaml --why 'after all'", cwd=book, now=at(34))
    assert again.code == 0, again.err
    assert "revision 5" in again.out


def test_a_trial_taken_back_is_withdrawn_and_can_be_had_again(book, oven):
    """Its page and code stay, the ranking leaves it out with a word, `last` is another, and correct brings it back."""
    for number in range(len(STORY) - 6):
        assert oven("undo", cwd=book, now=at(30 + number)).code == 0
    now = at(60)
    assert "A2, 4 Nov, revision 1: withdrawn" in oven("rank loaf", cwd=book, now=now).out
    shown = oven("show A2", cwd=book, now=now).out
    assert "withdrawn" in shown.partition("\n\n")[0]
    assert "state: was done, now withdrawn" in shown
    assert "Trial A1" in oven("show last", cwd=book, now=now).out
    assert oven("record loaf crumb 8, crust 8", cwd=book, now=now).out.startswith("Recorded: trial A3")
    assert oven("correct A2 state=done --why 'it was baked after all'", cwd=book, now=now).code == 0
    assert "A2, 4 Nov, revision 1: withdrawn" not in oven("rank loaf", cwd=book, now=now).out


def test_a_line_of_the_log_taken_back_stays_in_it_with_a_word(book, oven):
    """The water is as it was before the line; the line is still there, and that it was taken back."""
    for number in range(len(STORY) - 3):
        assert oven("undo", cwd=book, now=at(30 + number)).code == 0
    page = next((book / "trials/loaf").glob("*.yaml")).read_text()
    assert "+6 g water, felt tight" in page
    assert "taken back: +6 g water, felt tight" in page
    assert "\nweighed:" not in page
    assert "In hand" in oven("list", cwd=book, now=at(60)).out


def test_the_entry_says_what_it_takes_back(book, oven):
    """Its line, its verb, and in a trailer the very entry."""
    last = git(book, "rev-parse", "HEAD").strip()
    assert oven("undo --why 'far too salty'", cwd=book, now=at(30)).code == 0
    form = "%s%n%b%n%(trailers:key=Ovenleaf-Verb,valueonly)%(trailers:key=Ovenleaf-Undoes,valueonly)"
    lines = git(book, "log", "-1", f"--format={form}").splitlines()
    assert lines[0] == "taken back: loaf r3.noor: salt 2 to 12 %"
    assert "far too salty" in lines
    assert ["undo", last] == [line for line in lines if line][-2:]
    assert "why: far too salty" in (book / "formulas/loaf/marks.yaml").read_text()


def test_an_entry_of_another_program_is_not_taken_back(book, oven, golden):
    """It is told of, and nothing is changed."""
    page = book / "formulas/loaf.yaml"
    page.write_text(page.read_text().replace("from the well", "from the tap"))
    who = ("-c", "user.name=Tomas", "-c", "user.email=tomas@stall.invalid")
    git(book, *who, "commit", "-qam", "tap water")
    before = snapshot(book)
    ran = oven("undo", cwd=book, now=at(30))
    assert ran.code == 3
    golden("undo/another-program", ran.err)
    assert snapshot(book) == before


def test_what_was_edited_by_hand_is_not_written_over(book, oven, golden):
    """A page that would go back and holds edits is kept first."""
    page = book / "formulas/loaf.yaml"
    page.write_text(page.read_text().replace("from the well", "from the tap"))
    before = snapshot(book)
    ran = oven("undo", cwd=book, now=at(30))
    assert ran.code == 3
    golden("undo/edited-by-hand", ran.err)
    assert snapshot(book) == before
    assert oven("save", cwd=book, now=at(31)).code == 0
    assert oven("undo", cwd=book, now=at(32)).code == 0
    assert "from the well" in page.read_text()


@pytest.mark.parametrize("page", ["trials/loaf/2026-11-04-noor.yaml", "formulas/loaf.yaml"])
def test_a_page_that_was_changed_in_another_way_since_does_not_go_back(page, book, oven):
    """Even where an entry of another program calls itself an undo."""
    assert oven("tweak loaf water=71% --why x", cwd=book, now=at(30)).code == 0
    assert oven("score A1 --taster lena --crumb 5", cwd=book, now=at(31)).code == 0
    path = book / page
    path.write_text(path.read_text().replace("crumb: 5", "crumb: 4").replace("water: 71%", "water: 72%"))
    message = "tidy\n\nOvenleaf-Verb: undo\nOvenleaf-Undoes: 0"
    git(book, "-c", "user.name=T", "-c", "user.email=t@x.invalid", "commit", "-qam", message)
    before = snapshot(book)
    first = oven("undo", cwd=book, now=at(32))
    if page.startswith("formulas"):
        assert first.code == 0, first.err
        before = snapshot(book)
        first = oven("undo", cwd=book, now=at(33))
    assert first.code == 3
    assert f"{page} has been changed in another way since" in " ".join(first.err.split())
    assert snapshot(book) == before


def test_an_ingredient_that_a_kept_revision_is_made_with_stays_on_the_list(book, oven, golden):
    """What can be read must stay readable."""
    assert oven("ingredient bran crisp --kind seed --water 6 --source 'the bag'", cwd=book, now=at(30)).code == 0
    assert oven("tweak loaf 'bran crisp=5%' --why x", cwd=book, now=at(31)).code == 0
    assert oven("undo", cwd=book, now=at(32)).code == 0
    ran = oven("undo", cwd=book, now=at(33))
    assert ran.code == 3
    golden("undo/in-use", ran.err)


def test_a_book_without_its_history_is_told_so(book, oven, golden):
    """Nothing can be taken back where nothing is known of what came before."""
    shutil.rmtree(book / ".git")
    ran = oven("--baker noor undo", cwd=book, now=at(30))
    assert ran.code == 3
    golden("undo/no-history", ran.err)


def test_a_formula_of_which_all_is_taken_back_is_told_so(book, oven, golden):
    """The copy was a new formula: it has no page any more, and says how to see it or have it again."""
    for number in range(5):
        assert oven("undo", cwd=book, now=at(30 + number)).code == 0
    assert "evening-loaf     taken back" in oven("list", cwd=book, now=at(40)).out
    ran = oven("weigh evening-loaf", cwd=book, now=at(40))
    assert ran.code == 3
    golden("undo/all-taken-back", ran.err)
    again = oven("enter formulas/evening-loaf/r1.noor.yaml --why 'after all'", cwd=book, now=at(41))
    assert again.code == 0, again.err
    assert "revision 2" in again.out


def test_a_tasting_goes_back_with_the_marks_it_brought(book, oven):
    """The marks leave the trials and the tasting is open again; then the tasting itself goes."""
    ran = oven("taste A1 A2 --tasters noor,lena", cwd=book, now=at(30))
    assert ran.code == 0, ran.err
    page = next((book / "tastings").rglob("*.yaml"))
    before = page.read_bytes()
    code = next(word for word in ran.out.replace(",", " ").split() if word.isdigit() and len(word) == 3)
    told = oven(f"taste {code} --taster lena --crumb 7 --crust 7", cwd=book, now=at(31))
    assert told.code == 0, told.err
    assert page.read_bytes() != before
    assert oven("undo", cwd=book, now=at(32)).code == 0
    assert page.read_bytes() == before
    gone = oven("undo", cwd=book, now=at(33))
    assert gone.code == 0, gone.err
    assert "was new and is not there any more" in " ".join(gone.out.split())
    assert not page.exists()
