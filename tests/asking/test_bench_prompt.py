"""The bench prompt at a real terminal: one line at a time, each on disk before the next is asked for."""

from __future__ import annotations

import os
import signal

import pytest

from asking.test_questions import Terminal

pytestmark = pytest.mark.counted

NOW = "2026-11-12T10:01:00+01:00"
PAGE = "trials/market-roll/2026-11-12-noor.yaml"
ROLL = (
    "formula: market-roll\ntitle: Market roll\nmakes: 12 rolls of 85 g\ningredients:\n  strong wheat flour: 100%\n"
    "  water: 65%\n  salt: 2%\n  instant yeast: 0.6%\nprocess:\n  - mix: 9 min, dough 25 C\n"
    "  - bulk: 60 min at 26 C, until half as big again\n  - divide: 85 g\n  - shape: round\n"
    "  - final proof: 50 min at 28 C\n  - bake: 18 min at 220 C\n"
)


@pytest.fixture
def book(oven, tmp_path):
    """A book with a market roll in hand, mixed at 07:44."""
    assert oven("start stall --baker noor", cwd=tmp_path, now="2026-11-04T12:00:00+01:00").code == 0
    book = tmp_path / "stall"
    assert oven("enter -", cwd=book, typed=ROLL, now="2026-11-04T12:00:00+01:00").code == 0
    assert oven("begin market-roll --flour 600g", cwd=book, now="2026-11-12T07:30:00+01:00").code == 0
    assert oven("jot mixed, dough 25.5C", cwd=book, now="2026-11-12T07:44:00+01:00").code == 0
    return book


def told(book):
    """The words of the log, less the times."""
    block = (book / PAGE).read_text().split("log:\n")[1]
    return [line for line in block.splitlines() if line.startswith("  - ")]


def test_a_bake_from_bulk_to_the_oven(book, oven, golden):
    """What the shell would eat is safe here; a slip is taken back, visibly; an empty line ends."""
    at = Terminal("jot", cwd=book, now=NOW)
    at.answer("A1: ", "bulk end 60% 08:42")
    at.answer("A1: ", "shaped 08:55, covered > & damp")
    at.answer("A1: ", "in the oven at 220C, 19 min ago")
    at.answer("A1: ", "core 79C")
    at.answer("A1: ", "undo")
    at.answer("A1: ", "core 97C, out")
    at.answer("A1: ", "")
    assert at.finish() == 0
    golden("asking/bench-prompt", at.screen)
    page = (book / PAGE).read_text()
    assert "  - bake: 19 min at 220 C, core 97 C\n" in page
    assert "taken back: core 79C" in page
    assert "core 79C" in page.split("taken back")[0]
    assert oven("check", cwd=book, now=NOW).code == 0


def test_two_undos_go_back_two_lines(book, oven):
    """What a line set goes back, named as a correction each; the log keeps the lines and says so."""
    at = Terminal("jot", cwd=book, now=NOW)
    at.answer("A1: ", "+6 g water")
    at.answer("A1: ", "room 21C")
    at.answer("A1: ", "undo")
    at.wait_for("Taken back: room 21C.")
    at.answer("A1: ", "undo")
    at.wait_for("Taken back: +6 g water.")
    at.answer("A1: ", "undo")
    at.wait_for("Nothing was said at this prompt yet")
    at.answer("A1: ", "")
    assert at.finish() == 0
    page = (book / PAGE).read_text()
    head, _, log = page.partition("log:\n")
    assert "weighed:" not in head
    assert "kitchen:" not in head
    assert len(told(book)) == 1 + 4 + 2
    for field in ("weighed.water", "kitchen.room"):
        assert f"  - field: {field}\n" in log
    assert oven("check", cwd=book, now=NOW).code == 0
    assert oven("undo", cwd=book, now=NOW).code == 0  # the line before the prompt: what was taken back is not met again
    assert "taken back: mixed, dough 25.5C" in (book / PAGE).read_text()


def test_another_dough_is_spoken_of(book, oven):
    """A code at the head of a line, or alone, moves the prompt to that dough; an unknown word is just a word."""
    assert oven("begin market-roll --another", cwd=book, now="2026-11-12T09:00:00+01:00").code == 0
    at = Terminal("jot", cwd=book, now=NOW)
    at.wait_for("Begin a line with A1 to")
    at.answer("A2: ", "A1: fold")
    at.wait_for("10:01. Folded.")
    at.answer("A1: ", "A2")
    at.answer("A2: ", "Z9 fold")
    at.wait_for("Note kept: Z9 fold.")
    at.answer("A2: ", "")
    assert at.finish() == 0
    assert told(book)[-1] == "  - 2026-11-12T10:01:00+01:00 fold"


def test_a_killed_prompt_loses_only_the_line_being_typed(book, oven):
    """Each line is on disk, with its entry, as soon as it is answered."""
    at = Terminal("jot", cwd=book, now=NOW)
    at.answer("A1: ", "fold")
    at.answer("A1: ", "smells of apples")
    at.wait_for("Note kept: smells of apples.")
    at.wait_for("A1: ")
    os.write(at.end, b"half a li")
    os.kill(at.pid, signal.SIGKILL)
    os.waitpid(at.pid, 0)
    os.close(at.end)
    assert [line.rpartition(":00 ")[2] for line in told(book)[1:]] == ["fold", "smells of apples"]
    assert "Nothing is unsaved" in oven(cwd=book, now=NOW).out


def test_a_closed_window_ends_the_prompt(book):
    """What was said is kept."""
    at = Terminal("jot", cwd=book, now=NOW)
    at.answer("A1: ", "fold")
    at.wait_for("Folded.")
    at.wait_for("A1: ")
    at.hang_up()
    assert told(book)[-1].endswith(" fold")


def test_what_cannot_be_is_said_and_the_prompt_goes_on(book):
    """A refusal, here of a withdrawn dough's name, never ends the prompt."""
    at = Terminal("jot", cwd=book, now=NOW)
    at.answer("A1: ", "core 104C")
    at.wait_for("Kept as words only: core 104C.")
    at.answer("A1: ", "240C falling to -")
    at.answer("A1: ", "")
    assert at.finish() == 0
    assert "(as words) core 104C" in (book / PAGE).read_text()


def test_the_rest_of_a_line_is_asked_for(book):
    """On a terminal, a command line that ends in a dash is asked about."""
    at = Terminal("jot", "oven", "240C", "-", cwd=book, now=NOW)
    at.wait_for("Did the shell take the rest")
    at.answer("The rest, or Enter if that was all: ", "> 220C")
    assert at.finish() == 0
    assert told(book)[-1].endswith("oven 240C - > 220C")


def test_a_second_bake_is_asked_about(book):
    """The one in hand, or another: only `another` begins one."""
    for answer, code, trials in (("a1", 3, 1), ("another", 0, 2)):
        at = Terminal("begin", "market-roll", cwd=book, now="2026-11-12T07:50:00+01:00")
        at.wait_for("market-roll was begun 20 min ago, as A1, and is in hand.")
        at.answer("Is that the one, or do you begin another: a1 or another: ", answer)
        assert at.finish() == code
        assert len(list((book / "trials").rglob("*.yaml"))) == trials
