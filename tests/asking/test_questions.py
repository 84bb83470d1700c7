"""Asked at a real terminal: a formula line by line, and a bake in the order of the bench."""

from __future__ import annotations

import contextlib
import os
import pty
import select
import signal
import sys
import time

import pytest

NOW = "2026-11-04T12:00:00+01:00"


class Terminal:
    """ovenleaf at the other end of a pseudo-terminal."""

    def __init__(self, *words, cwd):
        self.pid, self.end = pty.fork()
        if not self.pid:
            os.chdir(cwd)
            os.environ["OVENLEAF_NOW"] = NOW
            os.execv(sys.executable, [sys.executable, "-m", "ovenleaf", *words])
        self.seen = ""

    def wait_for(self, text, seconds=20):
        """Read until `text` is on the screen."""
        until = time.monotonic() + seconds
        while text not in self.seen:
            assert time.monotonic() < until, f"no {text!r} in {self.seen!r}"
            ready, _, _ = select.select([self.end], [], [], 0.2)
            if ready:
                try:
                    self.seen += os.read(self.end, 65536).decode().replace("\r\n", "\n")
                except OSError:
                    break
        assert text in self.seen, self.seen

    def answer(self, question, text):
        """Wait for a question and answer it."""
        self.wait_for(question)
        self.seen = self.seen[self.seen.index(question) + len(question) :]
        os.write(self.end, f"{text}\n".encode())

    def finish(self):
        """The rest of the screen and the exit code."""
        with contextlib.suppress(OSError):
            while data := os.read(self.end, 65536):
                self.seen += data.decode().replace("\r\n", "\n")
        _, status = os.waitpid(self.pid, 0)
        os.close(self.end)
        return os.waitstatus_to_exitcode(status)

    def hang_up(self):
        """The window is closed."""
        os.close(self.end)
        _, status = os.waitpid(self.pid, 0)
        return os.waitstatus_to_exitcode(status)


@pytest.fixture
def book(oven, tmp_path):
    """A book with one baker and one formula."""
    assert oven("start stall --baker noor", cwd=tmp_path).code == 0
    page = (
        "formula: market-roll\nmakes: 24 rolls of 85 g\naims:\n  crumb: soft and even\ningredients:\n"
        "  strong wheat flour: 100%\n  water: 65%\n  salt: 2%\n  instant yeast: 0.6%\nprocess:\n"
        "  - mix: 9 min, medium, dough 25 C\n  - bulk: 60 min at 26 C\n  - bake: 18 min at 220 C\n"
    )
    assert oven("enter -", cwd=tmp_path / "stall", typed=page).code == 0
    return tmp_path / "stall"


def test_a_formula_is_asked_for_line_by_line(book, oven):
    """A slip is told at once and asked again; no file is opened; an empty line ends the list."""
    asked = Terminal("enter", "stall-loaf", cwd=book)
    asked.answer("1: ", "strong wheat flour 500 g")
    asked.answer("2: ", "watr 340 g")
    asked.wait_for("Did you mean water?")
    asked.answer("2: ", "water 68%")
    asked.wait_for("in weights")
    asked.answer("2: ", "340 g water")
    asked.answer("3: ", "salt 11 g")
    asked.answer("4: ", "back")
    asked.answer("3: ", "salt 10 g")
    asked.answer("4: ", "")
    asked.answer("What does it make: ", "1 loaf")
    asked.answer("The crust you want: ", "thick and dark")
    asked.answer("The crumb you want: ", "")
    assert asked.finish() == 0
    assert "Entered: Stall loaf, revision 1" in asked.seen
    assert "68.0 %" in asked.seen
    page = (book / "formulas/stall-loaf.yaml").read_text()
    assert "crust: thick and dark" in page
    assert "crumb:" not in page


def test_a_bake_is_asked_for_in_the_order_of_the_bench(book, oven):
    """Enter leaves a thing unrecorded, = is as planned, and each answer that needs it is echoed."""
    asked = Terminal("record", "market-roll", cwd=book)
    asked.wait_for("This trial is called A1.")
    asked.answer("Day of baking, if not today: ", "yesterday")
    asked.wait_for("Taken as Tuesday 3 November 2026.")
    asked.answer("Batch, planned 1000 g of flour, 1676 g of dough: ", "600")
    asked.answer("Strong wheat flour, which and what lot: ", "Mill Lane, lot B-114")
    asked.answer("Water", "396")
    asked.wait_for("66.0 % of the flour")
    asked.answer("Anything else weighed differently", "no")
    asked.answer("Room temperature: ", "")
    asked.answer("Dough temperature, planned 25 °C: ", "25,5")
    asked.wait_for("Taken as 25.5 °C.")
    asked.answer("Bulk, planned 60 min: ", "=")
    asked.answer("Oven, planned 220 °C: ", "220")
    asked.wait_for("An oven needs its scale")
    asked.answer("Oven, planned 220 °C: ", "=")
    asked.answer("Time in the oven, planned 18 min: ", "19")
    asked.answer("How many rolls", "12")
    asked.answer("when cold", "884")
    asked.answer("Hours after baking when you tasted", "3")
    asked.answer("Crumb, 0 to 10, aim: soft and even: ", "7")
    asked.answer("Crust, 0 to 10", "6 too pale")
    asked.answer("Anything to add: ", "good")
    assert asked.finish() == 0
    assert "Recorded: trial A1" in asked.seen
    page = next((book / "trials/market-roll").glob("*.yaml")).read_text()
    assert "water: 396 g" in page
    assert "bake: 220 C, 19 min" in page
    assert "room" not in page
    assert "bake_date: 2026-11-03" in page
    assert "- too pale" in page


def test_stop_and_back_do_what_they_say(book):
    """`back` asks again, `stop` keeps what was told."""
    asked = Terminal("record", "market-roll", cwd=book)
    asked.answer("Day of baking, if not today: ", "")
    asked.answer("Batch", "600 g flour")
    asked.answer("Strong wheat flour, which and what lot: ", "back")
    asked.answer("Batch", "700 g flour")
    asked.answer("Strong wheat flour, which and what lot: ", "stop")
    assert asked.finish() == 0
    page = next((book / "trials/market-roll").glob("*.yaml")).read_text()
    assert "batch: 700 g flour" in page


def test_an_answer_that_means_nothing_three_times_is_left_open(book):
    """After three tries the question is left unrecorded and the next is asked."""
    asked = Terminal("record", "market-roll", cwd=book)
    asked.answer("Day of baking, if not today: ", "when it rained")
    asked.answer("Day of baking, if not today: ", "the other day")
    asked.answer("Day of baking, if not today: ", "dunno")
    asked.wait_for("Left unrecorded.")
    asked.answer("Batch", "stop")
    assert asked.finish() == 0


def test_a_terminal_that_closes_loses_nothing_that_was_told(book):
    """What was told before the window closed is in the book."""
    asked = Terminal("record", "market-roll", cwd=book)
    asked.answer("Day of baking, if not today: ", "")
    asked.answer("Batch", "600 g flour")
    asked.wait_for("which and what lot: ")
    asked.hang_up()
    page = next((book / "trials/market-roll").glob("*.yaml")).read_text()
    assert "batch: 600 g flour" in page


def test_ctrl_c_records_nothing(book):
    """Ctrl-C at a question: exit 130, and no trial."""
    asked = Terminal("record", "market-roll", cwd=book)
    asked.answer("Day of baking, if not today: ", "")
    asked.wait_for("Batch")
    os.kill(asked.pid, signal.SIGINT)
    assert asked.finish() == 130
    assert "Nothing was changed" in asked.seen
    assert not (book / "trials").exists()


def test_the_baker_s_name_is_asked_once(tmp_path, oven):
    """At a terminal the name is asked, and remembered for this copy of the book."""
    asked = Terminal("start", "stall", cwd=tmp_path)
    asked.answer("Your name in this book, small letters: ", "noor")
    assert asked.finish() == 0
    assert "You bake here as noor." in asked.seen
    page = "formula: x-loaf\ningredients:\n  strong wheat flour: 100%\n  water: 65%\n  salt: 2%\n"
    assert "by noor" in oven("enter -", cwd=tmp_path / "stall", typed=page).out


@pytest.mark.parametrize(("answer", "number"), [("saved", 1), ("page", 2)])
def test_a_draft_in_the_way_is_asked_about(book, answer, number):
    """Which was baked: the revision as saved, or the page as it is, which then becomes one."""
    page = book / "formulas/market-roll.yaml"
    page.write_text(page.read_text().replace("water: 65%", "water: 66%"))
    asked = Terminal("record", "market-roll", "--crumb", "7", "--crust", "8", cwd=book)
    asked.answer("saved or page: ", answer)
    if answer == "page":
        asked.answer("Why was it changed: ", "a little softer")
    assert asked.finish() == 0
    assert f"revision {number}, baked today" in " ".join(asked.seen.split())
