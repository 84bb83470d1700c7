"""--preview on every writing command: nothing is written, and what is shown is what would come of it."""

from __future__ import annotations

import importlib
import inspect

import pytest

from asking.test_questions import Terminal
from ovenleaf.cli import table
from ovenleaf.cli.context import Context
from picture_builders import png

NOW = "2026-11-25T12:00:00+01:00"
FIRST = "A preview: nothing was written. Without --preview it would be this."
LOAF = (
    "formula: stall-loaf\nmakes: 1 loaf of 800 g\ningredients:\n  strong wheat flour: 100%\n  water: 68%\n  salt: 2%\n"
    "  instant yeast: 0.6%\n"
)
BAKE = "batch: 600 g flour\nweighed:\n  water: 420 g\nscores:\n  noor:\n    crumb: 7\n    crust: 8\n"

# Each with what is done to the book first, and what is typed on standard input.
COMMANDS = {
    "enter": ("enter -", LOAF),
    "adopt": ("adopt - --name card-loaf", "500 g bread flour\n340 g water\n10 g salt\n3 g instant yeast\n"),
    "enter-why": ("enter - --why 'wetter again'", None),
    "tweak": ("tweak market-roll water=70% --why softer", ""),
    "tweak-part": ("tweak market-roll poolish:water=110% bulk.time=70min --why softer", ""),
    "tweak-from": ("tweak market-roll salt=1.8% --from r2 --why softer", ""),
    "save": ("save --why 'by hand'", ""),
    "save-one": ("save market-roll --why 'by hand'", ""),
    "mark": ("mark market-roll r4 keeper --why softer", ""),
    "mark-dropped": ("mark market-roll r2 dropped --why 'too tight'", ""),
    "copy": ("copy market-roll evening-roll --title 'Evening roll' --why x", ""),
    "retire": ("retire olive-flatbread --why 'too oily'", ""),
    "retire-back": ("retire seeded-roll --back --why 'asked for again'", ""),
    "record": ("record caraway-rye --crumb 7 --crust 8 --baked-on 2026-11-20 --weighed water=396g", ""),
    "record-words": ("record caraway-rye crumb 7, crust 8, dough 27C, tight", ""),
    "record-page": ("record caraway-rye --from -", BAKE),
    "record-taster": ("record caraway-rye --taster lena --crumb 7 --crust 8", ""),
    "begin": ("begin market-roll --flour 600g", ""),
    "jot": ("jot +6 g water, mixed, dough 25.5C", ""),
    "jot-named": ("jot --trial A1 room 21C", ""),
    "finish": ("finish --crumb 7 --crust 8", ""),
    "finish-short": ("finish --cut-short --because 'the power failed'", ""),
    "score": ("score A1 --taster lena --crumb 7", ""),
    "photo": ("photo A4 ../shot.png", ""),
    "score-again": ("score A1 --crumb 6 --why 'typed the wrong mark'", ""),
    "correct": ("correct A4 weighed.water=390g scores.noor.crumb=8 --why 'misread the scale'", ""),
    "correct-adding": ("correct A4 measured.height=62mm", ""),
    "ingredient": ("ingredient rye crisp --kind seed --water 6 --allergen rye --source 'the bag'", ""),
    "publish": ("publish market-roll --as recipe --out ../roll.txt", ""),
    "publish-taken-down": ("publish market-roll --as recipe --out ../roll.txt --taken-down", ""),
    "check": ("check market-roll --meant 'I know'", ""),
    "undo": ("undo", ""),
    "taste": ("taste A2 A4 --tasters noor,tomas", ""),
    "next": ("next market-roll --keep 1", ""),
    "settle": ("settle market-roll water=70% --why 'the smaller step'", ""),
    "settle-both": ("settle market-roll --keep-both wet-roll", ""),
}
BY_HAND = {"save", "save-one", "check"}


def everything(folder):
    """Every file and folder below a folder, bytes, kinds and rights: all that a preview could have touched.

    The index is left out: it holds what was read, and looking may add to it.
    """
    return {
        path.relative_to(folder).as_posix(): (path.lstat().st_mode, path.read_bytes() if path.is_file() else None)
        for path in sorted(folder.rglob("*"))
        if path.name != "index.sqlite"
    }


@pytest.fixture
def book(name, sample_book, oven):
    """The sample book with what the command wants to find there."""
    page = sample_book / "formulas/market-roll.yaml"
    if name == "check":
        page.write_text(page.read_text().replace("salt: 2%", "salt: 12%"))
        assert oven("save --why x --meant 'for the test'", cwd=sample_book, now=NOW).code == 0
        marks = sample_book / "formulas/market-roll/marks.yaml"
        text = marks.read_text()
        marks.write_text(text[: text.index("meant:")])
    elif name == "photo":
        (sample_book.parent / "shot.png").write_bytes(png())
    elif name == "publish-taken-down":
        assert oven("publish market-roll --as recipe --out ../roll.txt", cwd=sample_book, now=NOW).code == 0
    elif name in BY_HAND:
        page.write_text(page.read_text().replace("water: 71%", "water: 72%"))
    elif name in ("jot", "finish", "finish-short"):
        assert oven("begin market-roll --flour 600g", cwd=sample_book, now="2026-11-25T08:00:00+01:00").code == 0
    elif name.startswith("settle"):
        other = shared_with_petra(sample_book, oven)
        assert oven("tweak market-roll water=70% --why softer", cwd=sample_book, now=NOW).code == 0
        assert oven("tweak market-roll water=72% --why open", cwd=other, now=NOW).code == 0
        assert oven("share", cwd=other, now=NOW).code == 0
        assert oven("share", cwd=sample_book, now=NOW).code == 4
    elif name == "retire-back":
        assert oven("retire seeded-roll --why x", cwd=sample_book, now=NOW).code == 0
    return sample_book


def shared_with_petra(book, oven):
    """The book is shared in a folder beside it, and this is a copy that another baker has."""
    assert oven("share --at ../shared", cwd=book, now=NOW).code == 0
    assert oven("join shared other --baker petra", cwd=book.parent, now=NOW).code == 0
    return book.parent / "other"


@pytest.mark.parametrize("name", COMMANDS)
def test_a_preview_leaves_everything_and_says_what_would_be(name, book, oven, monkeypatch):
    """Not a byte of the folder changes, .git included; the command itself then says the same without that sentence."""
    # What is drawn by lot falls the same way both times.
    monkeypatch.setattr(Context, "permute", lambda self, count: tuple(range(count)))
    line, typed = COMMANDS[name]
    if typed is None:
        typed = (book / "formulas/market-roll.yaml").read_text().replace("water: 71%", "water: 73%")
    before = everything(book)
    shown = oven(f"{line} --preview", cwd=book, now=NOW, typed=typed)
    assert shown.code == 0, shown.err
    assert everything(book) == before
    first, _, rest = shown.out.partition("\n\n")
    assert first == FIRST
    done = oven(line, cwd=book, now=NOW, typed=typed)
    assert (done.code, done.out) == (0, rest)
    assert everything(book) != before


@pytest.mark.parametrize(
    "line",
    [
        "tweak market-roll watr=70% --why x",
        "record market-roll --crumb 11",
        "record market-roll --crumb 7 --taster tomsa",
        "score Z9 --crumb 7",
        "mark market-roll r9 keeper --why x",
        "copy market-roll caraway-rye",
        "retire market-roll",
        "save --why x",
        "publish market-roll --as recipe --out ../none/roll.txt",
    ],
)
def test_what_would_be_refused_is_refused_in_a_preview_too(line, oven, sample_book):
    """In the same words, but for the word --preview in what can be typed next; and nothing is touched."""
    before = everything(sample_book)
    shown = oven(f"{line} --preview", cwd=sample_book, now=NOW)
    told = oven(line, cwd=sample_book, now=NOW)
    assert (shown.code, shown.out) == (told.code, told.out) == (3, "")
    assert shown.err.replace(" --preview", "") == told.err
    assert everything(sample_book) == before


def test_a_book_that_would_be_started_is_not_there(oven, tmp_path):
    """No folder, and the screen that `start` shows."""
    shown = oven("start stall --title Stall --baker noor --preview", cwd=tmp_path)
    assert shown.code == 0
    assert list(tmp_path.iterdir()) == []
    first, _, rest = shown.out.partition("\n\n")
    assert first == FIRST
    assert oven("start stall --title Stall --baker noor", cwd=tmp_path).out == rest


def test_a_copy_that_would_be_made_is_not_there(oven, sample_book):
    """No folder, and the screen that `join` shows; what is shared stays as it was."""
    assert oven("share --at ../shared", cwd=sample_book, now=NOW).code == 0
    before = everything(sample_book.parent)
    shown = oven("join shared mine --baker petra --preview", cwd=sample_book.parent, now=NOW)
    assert (shown.code, everything(sample_book.parent)) == (0, before), shown.err
    first, _, rest = shown.out.partition("\n\n")
    assert first == FIRST
    assert oven("join shared mine --baker petra", cwd=sample_book.parent, now=NOW).out == rest


def test_what_would_be_shared_stays_where_it_is(oven, sample_book):
    """Neither the book nor the place changes by a look at what would go, the first time and later."""
    before = everything(sample_book.parent)
    shown = oven("share --at ../shared --preview", cwd=sample_book, now=NOW)
    assert shown.out.startswith("Nothing has been sent. This would go to ../shared:")
    assert everything(sample_book.parent) == before
    assert oven("share --at ../shared", cwd=sample_book, now=NOW).code == 0
    assert oven("mark market-roll r4 keeper --why softer", cwd=sample_book, now=NOW).code == 0
    before = everything(sample_book.parent)
    shown = oven("share --preview", cwd=sample_book, now=NOW)
    assert shown.out.startswith("Nothing has been sent. One entry would go to")
    assert everything(sample_book.parent) == before


def test_a_preview_does_not_remember_who_bakes(oven, sample_book):
    """The name that a preview was given is asked for again."""
    (sample_book / ".git/ovenleaf/baker").unlink()
    before = everything(sample_book)
    assert oven("--baker tomas tweak market-roll water=70% --why x --preview", cwd=sample_book, now=NOW).code == 0
    assert everything(sample_book) == before
    assert oven("tweak market-roll water=70% --why x", cwd=sample_book, now=NOW).code == 3


def test_a_bake_asked_about_in_a_preview_is_not_written(sample_book):
    """The questions come as ever; what was told is shown and not kept."""
    before = everything(sample_book)
    asked = Terminal("record", "market-roll", "--preview", cwd=sample_book, now=NOW)
    asked.answer("Day of baking", "")
    asked.answer("Batch", "600")
    asked.answer("which and what lot: ", "stop")
    assert asked.finish() == 0
    assert FIRST in asked.seen
    assert "600 g flour" in asked.seen
    assert everything(sample_book) == before


def test_every_command_that_writes_can_be_previewed():
    """A command that signs an entry has --preview, and it is tried above."""
    tried = {line.split(" ")[0] for line, _ in COMMANDS.values()} | {"start", "join", "share"}
    for command in table.COMMANDS:
        module, _, function = command.target.partition(":")
        source = inspect.getsource(importlib.import_module(module))
        if "signed(" in source:
            takes = inspect.signature(getattr(importlib.import_module(module), function)).parameters
            assert "preview" in takes, command.name
            assert command.name in tried
