"""Asked at a real terminal: a formula line by line, and a bake in the order of the bench."""

from __future__ import annotations

import contextlib
import os
import pty
import select
import shlex
import signal
import sys
import time

import pytest

from refusals_support import offered

pytestmark = pytest.mark.counted

NOW = "2026-11-04T12:00:00+01:00"
RYE = """
formula: caraway-rye
title: Caraway rye
makes: 2 loaves of 885 g
score_after: 20 h
aims:
  crust: firm, deep brown
  crumb: moist and even, never gummy
ingredients:
  medium rye flour: 600 g
  strong wheat flour: 400 g
  water: 740 g
  salt: 20 g
  caraway seed: 15 g
preferments:
  rye-sour:
    takes: 40% of the flour
    medium rye flour: 100%
    water: 80%
    rest: 14 h at 28 C
process:
  - mix: 6 min, low, dough 28 C
  - bulk: 45 min at 28 C
  - divide: 885 g
  - final proof: 60 min at 30 C
  - bake: 50 min at 250 C falling to 200 C, steam
"""


class Terminal:
    """ovenleaf at the other end of a pseudo-terminal. `seen` is what came since the last answer, `screen` all of it."""

    def __init__(self, *words, cwd, now=NOW):
        self.pid, self.end = pty.fork()
        if not self.pid:
            os.chdir(cwd)
            os.environ["OVENLEAF_NOW"] = now
            os.execv(sys.executable, [sys.executable, "-m", "ovenleaf", *words])
        self.seen = self.screen = ""

    def _read(self):
        """What comes next; raises OSError when nothing comes any more."""
        data = os.read(self.end, 65536)
        if not data:
            raise OSError
        text = data.decode().replace("\r\n", "\n")
        self.seen += text
        self.screen += text

    def wait_for(self, text, seconds=20):
        """Read until `text` is on the screen."""
        until = time.monotonic() + seconds
        while text not in self.seen:
            assert time.monotonic() < until, f"no {text!r} in {self.seen!r}"
            ready, _, _ = select.select([self.end], [], [], 0.2)
            if ready:
                try:
                    self._read()
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
            while True:
                self._read()
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
    asked.answer("Day of baking, if not today, Wednesday 4 November: ", "yesterday")
    asked.wait_for("Taken as Tuesday 3 November 2026.")
    asked.answer("Batch, planned 24 rolls of 85 g, from 1217 g of flour: ", "600")
    asked.answer("Strong wheat flour, which and what lot: ", "Mill Lane, lot B-114")
    asked.answer("Water, planned 390 g, in all: ", "396")
    asked.wait_for("66.0 % of the flour")
    asked.answer("Anything else weighed differently", "no")
    asked.answer("Room temperature, such as 21 C: ", "")
    asked.answer("Dough temperature, planned 25 °C: ", "25,5")
    asked.wait_for("Taken as 25.5 °C.")
    asked.answer("Bulk, planned 60 min: ", "=")
    asked.answer("Oven, planned 220 °C: ", "220")
    asked.wait_for("An oven needs its scale")
    asked.answer("Oven, planned 220 °C: ", "=")
    asked.answer("Time in the oven, planned 18 min: ", "19")
    asked.answer("How many rolls, planned 12: ", "=")
    asked.answer("All the bread together, when cold, in g: ", "884")
    asked.wait_for("12.1 % less than the 1006 g of dough.")
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
    asked.answer("Day of baking, if not today, Wednesday 4 November: ", "")
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
    asked.answer("Day of baking, if not today, Wednesday 4 November: ", "when it rained")
    asked.answer("Day of baking, if not today, Wednesday 4 November: ", "the other day")
    asked.answer("Day of baking, if not today, Wednesday 4 November: ", "dunno")
    asked.wait_for("Left unrecorded.")
    asked.answer("Batch", "stop")
    assert asked.finish() == 0


def test_a_terminal_that_closes_loses_nothing_that_was_told(book):
    """What was told before the window closed is in the book."""
    asked = Terminal("record", "market-roll", cwd=book)
    asked.answer("Day of baking, if not today, Wednesday 4 November: ", "")
    asked.answer("Batch", "600 g flour")
    asked.wait_for("which and what lot: ")
    assert asked.hang_up() == 0
    page = next((book / "trials/market-roll").glob("*.yaml")).read_text()
    assert "batch: 600 g flour" in page


def test_a_formula_of_which_nothing_is_told_leaves_nothing_behind(book):
    """An empty line at the first ingredient is asked again, three times at most; no page is laid down."""
    asked = Terminal("enter", "field-loaf", cwd=book)
    for _ in range(3):
        asked.answer("1: ", "")
        asked.wait_for("Begin with one ingredient and its amount")
    assert asked.finish() == 3
    assert "no ingredient was told" in " ".join(asked.screen.split())
    assert not (book / "field-loaf.yaml").exists()


def test_a_weight_is_no_number_of_loaves(book):
    """`770 g` is asked again, and a loss that no oven takes is remarked on."""
    asked = Terminal("record", "market-roll", cwd=book)
    asked.answer("Day of baking", "")
    asked.answer("Batch", "1020 g dough")
    for left_open in ("which and what lot", "Water", "Anything else", "Room", "Dough temp", "Bulk", "Oven", "Time in"):
        asked.answer(left_open, "")
    asked.answer("How many rolls", "770 g")
    asked.wait_for("Give a number, as in 12.")
    asked.answer("How many rolls", "12")
    asked.answer("All the bread together, when cold, in g: ", "77 g")
    asked.wait_for("If it is a slip, say back.")
    asked.answer("Hours after baking", "stop")
    assert asked.finish() == 0


def test_ctrl_c_records_nothing(book):
    """Ctrl-C at a question: exit 130, and no trial."""
    asked = Terminal("record", "market-roll", cwd=book)
    asked.answer("Day of baking, if not today, Wednesday 4 November: ", "")
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


def test_the_story_of_a_rye_that_is_asked_about(tmp_path, oven, golden):
    """Every question holds its plan and its unit, whole to the ear; what was meant is said back at once."""
    assert oven("start stall --baker noor", cwd=tmp_path).code == 0
    assert oven("enter -", cwd=tmp_path / "stall", typed=RYE).code == 0
    asked = Terminal("record", "caraway-rye", cwd=tmp_path / "stall", now="2026-11-09T12:00:00+01:00")
    asked.answer("Day of baking, if not today, Monday 9 November: ", "yesterday")
    asked.answer("Batch, planned 1000 g of flour, 1775 g of dough: ", "=")
    asked.answer("Medium rye flour, which and what lot: ", "Mill Lane, lot 0610")
    asked.answer("Strong wheat flour, which and what lot: ", "")
    asked.answer("Water, planned 740 g, rye-sour included: ", "760")
    asked.answer("Anything else weighed differently, such as salt 12 g, or no: ", "no")
    asked.answer("Rye sour, how long it stood, planned 14 h: ", "15")
    asked.answer("Room temperature, such as 21 C: ", "21")
    asked.answer("Dough temperature, planned 28 °C: ", "27,5")
    asked.answer("Bulk, planned 45 min: ", "=")
    asked.answer("Final proof, planned 60 min: ", "70")
    asked.answer("Oven, planned 250 °C falling to 200 °C: ", "=")
    asked.answer("Time in the oven, planned 50 min: ", "=")
    asked.answer("How many loaves, planned 2: ", "=")
    asked.answer("All the bread together, when cold, in g: ", "1540 g")
    asked.answer("Hours after baking when you tasted, this bread waits 20 h: ", "20")
    asked.answer("Crumb, 0 to 10, aim: moist and even, never gummy: ", "7")
    asked.answer("Crust, 0 to 10, aim: firm, deep brown: ", "6 too pale")
    asked.answer("Anything to add: ", "sour smelled of apples, good")
    assert asked.finish() == 0
    golden("asking/caraway-rye", asked.screen)


def test_the_first_five_minutes_need_no_file(tmp_path, oven, golden):
    """A book, a formula and a bake by typing alone: each screen leads to the next."""
    assert oven('start ferry-lane --title "Ferry Lane bread" --baker noor', cwd=tmp_path).code == 0
    book = tmp_path / "ferry-lane"
    entered = Terminal("enter", "stall-loaf", cwd=book)
    for place, line in enumerate(("strong wheat flour 500 g", "water 340 g", "salt 10 g", "instant yeast 3 g", "")):
        entered.answer(f"{place + 1}: ", line)
    entered.answer("What does it make: ", "1 loaf")
    entered.answer("The crust you want: ", "thick and dark")
    entered.answer("The crumb you want: ", "open and moist")
    assert entered.finish() == 0
    golden("asking/stall-loaf", entered.screen)
    told = Terminal("record", "stall-loaf", "--crumb", "6", "--crust", "8", "--note", "a little tight", cwd=book)
    assert told.finish() == 0
    golden("asking/stall-loaf-told", told.screen)


def test_whoever_follows_the_screens_alone_comes_to_a_comparison(tmp_path, oven, golden):
    """From nothing but `ovenleaf` in an empty folder to a formula, two bakes and a comparison: each command that is
    typed was offered by the screen before it, and what is asked is answered."""
    typed = ["ovenleaf"]

    def follow(screen, words):
        line = next(line for line in offered(screen) if line.startswith(words))
        typed.append(f"ovenleaf {line}")
        return shlex.split(line)

    first = follow(oven(cwd=tmp_path).out, "start ferry-lane")
    book = tmp_path / "ferry-lane"
    start = oven(*first, cwd=tmp_path).out
    entered = Terminal(*follow(start, "enter"), cwd=book)
    for place, line in enumerate(("strong wheat flour 500 g", "water 340 g", "salt 10 g", "instant yeast 3 g", "")):
        entered.answer(f"{place + 1}: ", line)
    entered.answer("What does it make: ", "stop")
    assert entered.finish() == 0
    screen = baked(follow(entered.seen, "record"), book, "6", "8")
    screen = oven(*follow(screen, "tweak"), cwd=book).out
    screen = baked(follow(screen, "record"), book, "7", "8")
    compared = oven(*follow(screen, "diff"), cwd=book).out
    assert "crumb            6.0            7.0     up 1.0" in compared
    assert "water            68.0 %         70.0 %     up 2.0 points" in compared
    golden("asking/followed", "\n".join(typed))


def baked(words, book, crumb, crust):
    """A bake told when asked: the marks, and nothing else. Gives the screen behind the questions."""
    asked = Terminal(*words, cwd=book)
    asked.answer("Day of baking, if not today, Wednesday 4 November: ", "")
    asked.wait_for(": ")
    while "Crumb, 0 to 10: " not in asked.seen:
        asked.answer(": ", "")
        asked.wait_for(": ")
    asked.answer("Crumb, 0 to 10: ", crumb)
    asked.answer("Crust, 0 to 10: ", crust)
    asked.answer("Anything to add: ", "stop")
    assert asked.finish() == 0
    return asked.seen


def test_marks_are_asked_for_where_a_trial_is_there(book, oven, golden):
    """`score A1 --taster tomas` asks what that taster has not said yet, on the scale of the trial."""
    assert oven("record market-roll --crumb 7 --crust 8", cwd=book).code == 0
    asked = Terminal("score", "A1", "--taster", "tomas", cwd=book)
    asked.answer("Hours after baking when you tasted: ", "3")
    asked.answer("Crumb, 0 to 10, aim: soft and even: ", "11")
    asked.wait_for("11 is off the scale of this book, 0 to 10.")
    asked.answer("Crumb, 0 to 10, aim: soft and even: ", "6 too tight")
    asked.answer("Crust, 0 to 10: ", "stop")
    assert asked.finish() == 0
    golden("asking/marks", asked.screen)
    later = Terminal("score", "A1", "--taster", "tomas", cwd=book)
    later.answer("Crust, 0 to 10: ", "7")
    later.answer("Anything to add: ", "")
    assert later.finish() == 0
    assert "Crumb" not in later.screen
    page = (book / "trials/market-roll/2026-11-04-noor.yaml").read_text()
    assert "  tomas:\n    crumb: 6\n    faults:\n      - too tight\n    hours_after: 3\n    crust: 7\n" in page


def test_marks_that_nobody_gave_are_asked_for_again(book, oven):
    """Nothing but Enter is no tasting; the command to be asked again is offered, with the taster's name."""
    assert oven("record market-roll --crumb 7 --crust 8", cwd=book).code == 0
    asked = Terminal("score", "A1", "--taster", "tomas", cwd=book)
    asked.answer("Hours after baking when you tasted: ", "stop")
    assert asked.finish() == 3
    assert offered(asked.screen) == ["score A1 --taster tomas"]


def test_a_formula_without_steps_is_asked_about_all_the_same(tmp_path, oven):
    """Where the page has no steps, bulk, proof and oven are asked with an example and become steps of the trial."""
    assert oven("start stall --baker noor", cwd=tmp_path).code == 0
    page = "formula: x-loaf\ningredients:\n  strong wheat flour: 100%\n  water: 65%\n  salt: 2%\n"
    assert oven("enter -", cwd=tmp_path / "stall", typed=page).code == 0
    asked = Terminal("record", "x-loaf", cwd=tmp_path / "stall")
    asked.answer("Day of baking", "")
    asked.answer("Batch, such as 600 g flour or 12 rolls of 85 g: ", "=")
    asked.wait_for("Nothing is planned for this, so = says nothing.")
    asked.answer("Batch, such as 600 g flour or 12 rolls of 85 g: ", "")
    asked.answer("which and what lot: ", "no")
    asked.wait_for("Left unrecorded.")
    asked.answer("Water, planned 65.0 % of the flour, in all, in g: ", "=")
    asked.wait_for("Give what was weighed, as in 396 g.")
    asked.answer("Water, planned 65.0 % of the flour, in all, in g: ", "")
    asked.answer("Anything else weighed differently", "salt 12 g, waters 3")
    asked.wait_for("Begin with one of strong wheat flour, water, salt; or say no.")
    asked.answer("Anything else weighed differently", "salt 12 g, wheat 610")
    asked.answer("Room temperature", "")
    asked.answer("Dough temperature, such as 25 C: ", "47")
    asked.wait_for("Say it as 25.5 C or 78 F.")
    asked.answer("Dough temperature, such as 25 C: ", "78")
    asked.wait_for("Taken as 78 °F.")
    asked.answer("Bulk, such as 60 min: ", "70")
    asked.answer("Final proof, such as 60 min: ", "")
    asked.answer("Oven, such as 220 C: ", "240 C falling to 220 C")
    asked.answer("Time in the oven, such as 40 min: ", "35 min")
    asked.answer("How many pieces, a number: ", "2 loaves")
    asked.answer("All the bread together, when cold, in g: ", "0 g")
    asked.wait_for("Leave it out if it was not weighed.")
    asked.answer("All the bread together, when cold, in g: ", "")
    asked.answer("Hours after baking when you tasted: ", "-3")
    asked.answer("Hours after baking when you tasted: ", "3 hours")
    asked.answer("Crumb, 0 to 10: ", "11")
    asked.wait_for("11 is off the scale of this book, 0 to 10.")
    asked.answer("Crumb, 0 to 10: ", "7")
    asked.answer("Crust, 0 to 10: ", "8")
    asked.answer("Anything to add: ", "no")
    assert asked.finish() == 0
    page = next((tmp_path / "stall/trials/x-loaf").glob("*.yaml")).read_text()
    told = page[page.index("bake_date") : page.index("pin:")]
    assert told == (
        "bake_date: 2026-11-04\nweighed:\n  salt: 12 g\n  strong wheat flour: 610 g\nsteps:\n  - bulk: 70 min\n"
        "  - bake: 240 C falling to 220 C, 35 min\nmeasured:\n  dough temperature: 78 F\n  pieces: 2\n"
        "scale: 0 to 10\nscores:\n  noor:\n    crumb: 7\n    crust: 8\n    hours_after: 3\n"
    )


def test_a_formula_half_told_when_the_window_closes_is_entered_or_kept_as_a_page(book):
    """Lines that make a formula are one; those that do not lie beside the baker as a page, to be put right."""
    whole = Terminal("enter", "stall-loaf", cwd=book)
    for place, line in enumerate(("strong wheat flour 500 g", "water 340 g", "salt 10 g")):
        whole.answer(f"{place + 1}: ", line)
    whole.wait_for("4: ")
    whole.hang_up()
    assert "water: 340 g" in (book / "formulas/stall-loaf/r1.noor.yaml").read_text()
    half = Terminal("enter", "field-loaf", cwd=book)
    half.answer("1: ", "water 340 g")
    half.wait_for("2: ")
    half.hang_up()
    assert not (book / "formulas/field-loaf.yaml").exists()
    assert "water: 340 g" in (book / "field-loaf.yaml").read_text()


def test_which_revision_an_older_bake_was_of_is_asked(book, oven):
    """Baked before the newest was saved: both are named, the questions answered are kept, a closed window too."""
    later = {"now": "2026-11-20T12:00:00+01:00", "cwd": book}
    assert oven("tweak market-roll water=67% --why softer", **later).code == 0
    options = ("--crumb", "7", "--crust", "8", "--baked-on", "2026-11-12")
    for answers, ends in ((("2", "r2"), "revision 2"), (("R1",), "revision 1")):
        told = Terminal("record", "market-roll", *options, cwd=book, now="2026-11-25T12:00:00+01:00")
        told.wait_for("Revision 2 was saved after that day; revision 1 was the newest then.")
        for answer in answers:
            told.answer("Which did you bake: r1 or r2: ", answer)
        assert told.finish() == 0
        assert f"{ends}, baked Thursday 12 November" in " ".join(told.seen.split())
    asked = Terminal("record", "market-roll", cwd=book, now="2026-11-25T12:00:00+01:00")
    asked.answer("Day of baking", "12 November")
    asked.answer("Batch", "600")
    asked.answer("which and what lot: ", "stop")
    asked.wait_for("Which did you bake: r1 or r2: ")
    asked.hang_up()
    assert "batch: 600 g flour" in (book / "trials/market-roll/2026-11-12-noor-3.yaml").read_text()


def test_a_taster_misspelt_is_told_before_anything_is_asked(book, oven):
    """The command with the right name is offered, and no question comes first."""
    assert oven("record market-roll --crumb 7 --crust 8 --taster tomas", cwd=book).code == 0
    asked = Terminal("record", "market-roll", "--taster", "tomsa", cwd=book)
    assert asked.finish() == 3
    assert "ovenleaf record market-roll --taster tomas" in asked.seen
    assert "Day of baking" not in asked.screen


def test_a_draft_that_nobody_says_yes_or_no_to_is_left_alone(book):
    """Three answers that are neither: refused, with both commands, and nothing is written."""
    page = book / "formulas/market-roll.yaml"
    page.write_text(page.read_text().replace("water: 65%", "water: 66%"))
    asked = Terminal("record", "market-roll", "--crumb", "7", "--crust", "8", cwd=book)
    for _ in range(3):
        asked.answer("saved or page: ", "neither")
    assert asked.finish() == 3
    assert "ovenleaf record market-roll r1 --crumb 7 --crust 8" in asked.seen
    assert not (book / "trials").exists()


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
