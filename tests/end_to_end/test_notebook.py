"""A bake as it happens, as a baker types it: begun, jotted, finished; two days, a power cut, five doughs at once."""

from __future__ import annotations

import json
import shlex

import pytest

from refusals_support import reads_well, refused
from support import run_ovenleaf

ROLL = """
formula: market-roll
title: Market roll
makes: 24 rolls of 85 g
ingredients:
  strong wheat flour: 100%
  water: 65%
  salt: 2%
  butter: 3%, soft
  instant yeast: 0.62%
preferments:
  poolish:
    takes: 20% of the flour
    strong wheat flour: 100%
    water: 100%
    instant yeast: 0.1%
    rest: 12 h at 21 C
process:
  - first mix: 3 min, low
  - second mix: 9 min, medium, dough 25 C
  - bulk: 60 min at 26 C, covered, until half as big again
  - divide: 85 g
  - shape: round, seam underneath
  - final proof: 50 min at 28 C, covered, until a dent springs back slowly
  - bake: 18 min at 220 C, steam, no fan, until golden and crackling
"""
COUNTRY = """
formula: country-loaf
title: Country loaf
makes: 2 loaves of 900 g
ingredients:
  strong wheat flour: 90%
  medium rye flour: 10%
  water: 74%
  salt: 2%
preferments:
  levain:
    takes: 15% of the flour
    strong wheat flour: 100%
    water: 100%
    rest: 10 h at 24 C
process:
  - mix: 6 min, dough 25 C
  - bulk: 4 h at 25 C
  - shape: tight
  - cold proof: 16 h at 4 C
  - bake: 45 min at 250 C falling to 210 C
"""


class Kitchen:
    """A book, and a baker who types at given times."""

    def __init__(self, folder):
        self.folder = folder
        self.screen = ""
        assert run_ovenleaf("start stall --baker noor", cwd=folder, now="2026-11-04T12:00:00+01:00").code == 0
        self.book = folder / "stall"

    def enter(self, page):
        """Puts a formula in."""
        ran = run_ovenleaf("enter -", cwd=self.book, now="2026-11-04T12:00:00+01:00", typed=page)
        assert ran.code == 0, ran.err

    def at(self, time, line, code=0):
        """Types a line at a time; gives what the screen says, or what was refused."""
        ran = run_ovenleaf(*shlex.split(line), cwd=self.book, now=time)
        assert ran.code == code, (line, ran.out, ran.err)
        said = ran.out or ran.err
        self.screen += f"$ ovenleaf {line}\n{said}\n"
        return said

    def page(self, day, formula):
        """The trial's page as it lies in the book."""
        return (self.book / f"trials/{formula}/{day}-noor.yaml").read_text(encoding="utf-8")


@pytest.fixture
def kitchen(tmp_path):
    """A kitchen with the market roll in its book."""
    made = Kitchen(tmp_path)
    made.enter(ROLL)
    return made


def test_a_running_bake(kitchen, golden):
    """From the poolish in the evening to the cold rolls next noon; each line is told back as it was understood."""
    for time, line in (
        ("2026-11-11T19:30:00+01:00", "begin market-roll --flour 600g"),
        ("2026-11-11T19:36:00+01:00", "jot poolish mixed 21C, flour lot B-114"),
        ("2026-11-12T07:28:00+01:00", ""),
        ("2026-11-12T07:39:00+01:00", "jot +6 g water, felt tight"),
        ("2026-11-12T07:44:00+01:00", "jot mixed, dough 25,5C"),
        ("2026-11-12T08:42:00+01:00", "jot bulk end"),
        ("2026-11-12T08:55:00+01:00", "jot shaped"),
        ("2026-11-12T09:44:00+01:00", "jot in the oven at 220C, 2 min ago"),
        ("2026-11-12T09:50:00+01:00", "list"),
        ("2026-11-12T10:00:00+01:00", "jot core 79C"),
        ("2026-11-12T10:01:00+01:00", "jot core 97C, out"),
        ("2026-11-12T10:02:00+01:00", ""),
        ("2026-11-12T12:05:00+01:00", "jot 12 rolls 884 g cold"),
        ("2026-11-12T12:20:00+01:00", "finish --crumb 7 --crust 8"),
        ("2026-11-12T12:21:00+01:00", "show A1"),
    ):
        kitchen.at(time, line)
    reads_well(kitchen.screen)
    golden("notebook/running-bake", kitchen.screen)
    page = kitchen.page("2026-11-11", "market-roll")
    assert "bake_date: 2026-11-12\n" in page
    assert "  water: 396 g\n" in page
    assert "  - bulk: 58 min\n  - final proof: 47 min\n  - bake: 19 min at 220 C, core 97 C\n" in page
    assert "  - 2026-11-12T09:42:00+01:00 (told 2026-11-12T09:44:00+01:00) in the oven at 220C, 2 min ago\n" in page
    kitchen.at("2026-11-12T12:30:00+01:00", "check")


def test_another_yeast_in_a_cold_kitchen_is_the_plan_of_one_bake(kitchen, oven, golden):
    """The arithmetic stands on the trial's page, water is planned by it, and the formula has no new revision."""
    for time, line in (
        ("2026-11-11T19:00:00+01:00", 'weigh market-roll --flour 600g --swap "fresh yeast"'),
        ("2026-11-11T19:30:00+01:00", 'begin market-roll --flour 600g --swap "fresh yeast"'),
        ("2026-11-12T07:39:00+01:00", "jot +6 g water"),
        ("2026-11-12T12:20:00+01:00", "finish --crumb 7 --crust 8"),
        ("2026-11-12T12:21:00+01:00", "show A1"),
    ):
        kitchen.at(time, line)
    reads_well(kitchen.screen)
    golden("notebook/fresh-yeast", kitchen.screen)
    # 0.62 % of instant yeast are 1.88 % of fresh (1 : 0.33, Hamelman 2004), 7.6 g less water on 600 g of flour
    assert "Water 388.4 g instead of 382.4 g" in kitchen.screen
    assert "plan:\n  swap: fresh yeast\n  changed: Of all the flour, 0.62 % instant yeast" in kitchen.page(
        "2026-11-11", "market-roll"
    )
    assert [path.name for path in (kitchen.book / "formulas/market-roll").glob("r*.yaml")] == ["r1.noor.yaml"]
    for swap, told in (("salt", "salt is not a yeast"), ("instant yeast", "made with instant yeast as it is")):
        ran = oven(f'begin market-roll --another --swap "{swap}"', cwd=kitchen.book, now="2026-11-12T13:00:00+01:00")
        assert ran.code == 3
        assert ran.err.startswith("Not begun: ")
        assert told in ran.err


def test_a_bake_with_water_held_back(kitchen):
    """Six short lines: 40 g of water kept back, 25 g of it went in; the hydration shown is what was really poured."""
    kitchen.at("2026-11-20T18:00:00+01:00", "begin market-roll --flour 1kg")
    lines = (
        "jot poolish mixed 20C",
        "jot held back 40 g water",
        "jot +25 g water, looked thirsty",
        "jot mixed 9 min, dough 24,5 C",
        "jot bulk start",
        "jot room 21C",
    )
    said = [kitchen.at(f"2026-11-20T18:{minute}:00+01:00", line) for minute, line in enumerate(lines, start=10)]
    assert "Water 635 g instead of 610 g: 63.5 % of the flour, planned 65.0 %." in said[2]
    shown = kitchen.at("2026-11-20T20:00:00+01:00", "show A1")
    assert "63.5 %" in shown
    assert "1.5 points less" in shown
    page = kitchen.page("2026-11-20", "market-roll")
    assert page.count("  - 2026-11-20T18:1") == 6
    assert "was: 610 g\n    now: 635 g" in page
    assert "A1" in said[0]


def test_a_two_day_dough(kitchen):
    """Levain on Friday night, mixed on Saturday, baked on Sunday: one trial, right times, and Sunday on the label."""
    kitchen.enter(COUNTRY)
    kitchen.at("2026-11-06T22:00:00+01:00", "begin country-loaf")
    kitchen.at("2026-11-06T22:00:00+01:00", "jot levain fed")
    kitchen.at("2026-11-07T08:00:00+01:00", "jot mixed, dough 25C")
    kitchen.at("2026-11-07T12:00:00+01:00", "record market-roll --crumb 7 --crust 7 --baked-on 2026-11-05")
    assert kitchen.at("2026-11-07T12:01:00+01:00", "show last").startswith("Trial A1, Country loaf")
    kitchen.at("2026-11-07T13:00:00+01:00", "jot bulk end")
    kitchen.at("2026-11-07T13:00:00+01:00", "jot shaped")
    kitchen.at("2026-11-07T13:20:00+01:00", "jot into the fridge 4C")
    night = kitchen.at("2026-11-07T23:30:00+01:00", "")
    assert "cold proof for 10 h 10 min, look at it about 05:20 tomorrow" in " ".join(night.split())
    assert "next: bake, 45 min at 250 °C falling to 210 °C" in night
    assert "7 Nov" not in night.split("In hand")[1]
    kitchen.at("2026-11-08T07:15:00+01:00", "jot in the oven at 250C")
    kitchen.at("2026-11-08T08:00:00+01:00", "jot out")
    assert "A1" in kitchen.at("2026-11-08T08:01:00+01:00", "show last")
    done = kitchen.at("2026-11-08T12:00:00+01:00", "finish --crumb 7 --crust 8")
    assert "baked Sunday 8 November 2026" in done
    assert "A1     8 Nov" in kitchen.at("2026-11-08T12:00:00+01:00", "list")
    page = kitchen.page("2026-11-06", "country-loaf")
    assert "bake_date: 2026-11-08\n" in page
    steps = page.split("steps:\n")[1].split("measured:")[0]
    assert steps == ("  - levain: 10 h\n  - bulk: 5 h\n  - cold proof: 17 h 55 min at 4 C\n  - bake: 45 min at 250 C\n")


def test_a_step_after_midnight_and_a_night_when_the_clocks_change(kitchen):
    """A clock time before now that would be tomorrow is yesterday's; a night that is an hour longer counts it."""
    kitchen.enter(COUNTRY)
    kitchen.at("2026-10-24T20:00:00+02:00", "begin country-loaf")
    said = kitchen.at("2026-10-25T00:30:00+02:00", "jot levain fed 23:50")
    assert "A1, yesterday 23:50, told at 00:30." in said
    kitchen.at("2026-10-25T08:50:00+01:00", "jot mixed")
    assert "  - levain: 10 h\n" in kitchen.page("2026-10-24", "country-loaf")


def test_a_bake_that_was_cut_short(kitchen, golden):
    """The power fails: kept with its reason and left out of rankings, which say so; taken up again, or finished."""
    kitchen.at("2026-11-28T08:00:00+01:00", "begin market-roll --flour 600g")
    kitchen.at("2026-11-28T09:00:00+01:00", "jot mixed, dough 25C")
    kitchen.at("2026-11-28T10:00:00+01:00", "jot in the oven at 220C")
    kitchen.at("2026-11-28T10:11:00+01:00", "finish --cut-short", code=3)
    kitchen.at("2026-11-28T10:11:00+01:00", "finish --cut-short --given-up --because x", code=3)
    kitchen.at("2026-11-28T10:11:00+01:00", 'finish --cut-short --because "the power failed" --crumb 4 --crust 4')
    kitchen.at("2026-11-28T10:12:00+01:00", "rank market-roll")
    kitchen.at("2026-11-28T10:12:00+01:00", "")
    kitchen.at("2026-11-28T10:40:00+01:00", "jot --trial A1 rolls still soft")
    assert "state: cut short\n" in kitchen.page("2026-11-28", "market-roll")
    kitchen.at("2026-11-28T10:50:00+01:00", "jot --trial A1 in the oven at 220C")
    kitchen.at("2026-11-28T11:00:00+01:00", "jot out")
    kitchen.at("2026-11-28T12:00:00+01:00", "finish")
    ranked = kitchen.at("2026-11-28T12:01:00+01:00", "rank market-roll")
    assert "the power failed" in ranked
    reads_well(kitchen.screen)
    golden("notebook/cut-short", kitchen.screen)
    page = kitchen.page("2026-11-28", "market-roll")
    assert "  - bake: 11 min at 220 C\n  - bake: 10 min at 220 C\n" in page
    assert "left_out: the power failed\n" in page
    assert "cut short: the power failed" in page.split("log:")[1]


def test_a_bake_that_was_given_up(kitchen):
    """No bread came of it: kept, told of, not ranked."""
    kitchen.at("2026-11-28T08:00:00+01:00", "begin market-roll --flour 600g")
    said = kitchen.at("2026-11-28T09:00:00+01:00", 'finish A1 --given-up --because "forgot the yeast"')
    assert said.startswith("Given up: trial A1, Market roll, revision 1, Saturday 28 November 2026.")
    ranked = kitchen.at("2026-11-28T09:01:00+01:00", "rank market-roll")
    assert "given up, forgot the yeast" in " ".join(ranked.split())


def test_five_doughs_of_three_formulas(kitchen):
    """Each line goes to the dough whose code it names, at either end; a letter that fits two is asked about."""
    kitchen.enter(COUNTRY)
    kitchen.enter(COUNTRY.replace("country", "village").replace("Country", "Village"))
    for minute, formula in enumerate(("market-roll", "country-loaf", "village-loaf", "market-roll", "country-loaf")):
        kitchen.at(f"2026-11-27T16:{minute:02}:00+01:00", f"begin {formula} --another")
    for code in ("A1", "A2", "A3", "A4", "A5"):
        kitchen.at("2026-11-27T17:00:00+01:00", f"jot {code}: mixed")
    said = kitchen.at("2026-11-27T17:30:00+01:00", "jot fold A2")
    assert said == "A2, country loaf, 17:30. Folded.\n"
    assert kitchen.at("2026-11-27T17:31:00+01:00", "jot a3 fold") == "A3, village loaf, 17:31. Folded.\n"
    newest = kitchen.at("2026-11-27T17:32:00+01:00", "jot felt slack")
    assert newest.startswith("A5, country loaf, 17:32. Note kept: felt slack.")
    refused = kitchen.at("2026-11-27T17:33:00+01:00", "jot fold A", code=3)
    assert "A can be" in refused
    assert "  ovenleaf jot A2 fold" in refused
    day = kitchen.at("2026-11-27T17:40:00+01:00", "list")
    assert [line[2:4] for line in day.split("Formulas")[0].splitlines() if line.startswith("  A")] == [
        "A1",
        "A2",
        "A3",
        "A4",
        "A5",
    ]
    folded = [p.name for p in (kitchen.book / "trials").rglob("*.yaml") if " fold\n" in p.read_text()]
    assert len(folded) == 2


def test_one_dough_baked_in_two_ways(kitchen, golden):
    """Half the same day, half after a cold night: shared up to dividing, two changes, and one dough in rankings."""
    kitchen.enter(
        COUNTRY.replace(
            "  - shape: tight\n  - cold proof: 16 h at 4 C",
            "  - divide: 900 g\n  - shape: tight\n  - proof: 2 h at 25 C",
        )
    )
    for time, line in (
        ("2026-11-07T08:00:00+01:00", "begin country-loaf"),
        ("2026-11-07T08:01:00+01:00", "jot mixed, dough 25C, -15 g water, room 22C"),
        ("2026-11-07T12:00:00+01:00", "jot bulk end 60%"),
        ("2026-11-07T12:10:00+01:00", "jot divided 2 loaves of 900 g"),
        ("2026-11-07T12:11:00+01:00", "begin country-loaf --shares-dough-with A1 --pieces 1"),
        ("2026-11-07T12:20:00+01:00", "jot A1 shaped"),
        ("2026-11-07T12:21:00+01:00", "jot A2 shaped"),
        ("2026-11-07T12:22:00+01:00", "jot A2 proof at 4C"),
        ("2026-11-07T14:20:00+01:00", "jot A1 in the oven at 250C"),
        ("2026-11-07T15:06:00+01:00", "jot A1 out"),
        ("2026-11-07T15:30:00+01:00", "finish A1 --crumb 6 --crust 8"),
        ("2026-11-08T04:20:00+01:00", "jot in the oven at 240C, on the stone"),
        ("2026-11-08T05:00:00+01:00", "jot out"),
        ("2026-11-08T09:00:00+01:00", "finish --crumb 8 --crust 7"),
        ("2026-11-08T09:01:00+01:00", "show A2"),
        ("2026-11-08T09:01:00+01:00", "diff --trials A1 A2"),
        ("2026-11-08T09:01:00+01:00", "rank country-loaf --by revision"),
    ):
        kitchen.at(time, line)
    reads_well(kitchen.screen)
    golden("notebook/one-dough-two-bakes", kitchen.screen)
    compared = " ".join(kitchen.at("2026-11-08T09:02:00+01:00", "diff --trials A1 A2").split())
    assert "Same dough: differs in proof and oven, two changes." in compared
    assert "one revision, one dough" in kitchen.screen
    page = kitchen.page("2026-11-07", "country-loaf")
    other = (kitchen.book / "trials/country-loaf/2026-11-07-noor-2.yaml").read_text()
    assert "shares_dough_with: A1\n" in other
    assert "bulk" not in other
    assert "  - bulk: 3 h 59 min, rise 60 %\n" in page
    kitchen.at("2026-11-08T09:03:00+01:00", "check")
    told = json.loads(kitchen.at("2026-11-08T09:04:00+01:00", "show A2 --json"))
    assert (told["started"], told["shares_dough_with"]) == ("2026-11-07T12:11:00+01:00", "A1")


def test_a_taster_who_left_before_the_crumb(kitchen):
    """Four tasters of the crust, three of the crumb: blank is not zero, and the late mark can be added."""
    kitchen.at("2026-11-28T08:00:00+01:00", "begin market-roll --flour 600g")
    kitchen.at("2026-11-28T09:00:00+01:00", "finish --crumb 6 --crust 6")
    for name in ("tomas", "petra"):
        kitchen.at("2026-11-28T09:05:00+01:00", f"score A1 --taster {name} --crumb 9 --crust 6")
    said = kitchen.at("2026-11-28T09:06:00+01:00", "score A1 --taster lena --crust 10")
    assert "Not everyone marked everything: crumb by three tasters and crust by four" in " ".join(said.split())
    assert "8.0       7.0      7.50" in kitchen.at("2026-11-28T09:07:00+01:00", "rank market-roll")
    kitchen.at("2026-11-29T09:06:00+01:00", "score A1 --taster lena --crumb 4")
    assert "7.0       7.0      7.00" in kitchen.at("2026-11-29T09:07:00+01:00", "rank market-roll")
    shown = kitchen.at("2026-11-29T09:08:00+01:00", "show A1")
    assert "crumb     4 of 10      lena, added 29 Nov\n" in shown
    assert "crust     10 of 10     lena\n" in shown
    assert "29 Nov, 09:06     crumb 4 from lena, added by noor" in shown
    lena = next(one for one in json.loads(kitchen.at("2026-11-29T09:09:00+01:00", "show A1 --json"))["scores"][::-1])
    assert (lena["taster"], lena["added"]) == ("lena", {"crumb": "2026-11-29T09:06:00+01:00"})
    kitchen.at("2026-11-29T09:10:00+01:00", "undo")
    assert "added 29 Nov" not in kitchen.at("2026-11-29T09:11:00+01:00", "show A1")


def test_recording_beside_a_bake_in_hand(kitchen):
    """What is recorded is a bake of its own; that another is in hand is said."""
    kitchen.at("2026-11-28T08:00:00+01:00", "begin market-roll --flour 600g")
    said = " ".join(kitchen.at("2026-11-28T09:00:00+01:00", "record market-roll --crumb 6 --crust 7").split())
    assert (
        "A1 of this formula is still in hand, and was not touched. If this was it, say so: ovenleaf finish A1." in said
    )


REFUSED = {
    "second-by-mistake": "begin market-roll --flour 600g",
    "no-reason": "finish --given-up",
    "off-the-scale": "finish --crumb 11",
    "day-to-come": "finish --baked-on 2026-12-24",
    "which-dough": "jot A fold",
    "unknown-code": "jot --trial Z9 +20 g water, felt tight",
}


@pytest.mark.parametrize("name", REFUSED)
def test_what_is_refused_with_a_bake_in_hand(kitchen, oven, golden, name):
    """What to type next is in it, and the book is left alone."""
    kitchen.at("2026-11-28T08:00:00+01:00", "begin market-roll --pieces 12")
    kitchen.at("2026-11-28T08:00:00+01:00", "begin market-roll --another")
    golden(f"notebook/refused-{name}", refused(oven, REFUSED[name], kitchen.book, now="2026-11-28T08:12:00+01:00"))


def test_a_line_with_nothing_in_hand_is_told_back_whole(kitchen):
    """The command that is offered holds the line as it was said, brackets and all, so that nothing is lost."""
    kitchen.at("2026-11-28T08:00:00+01:00", "begin market-roll")
    kitchen.at("2026-11-28T12:00:00+01:00", "finish --crumb 7 --crust 7")
    said = kitchen.at("2026-11-28T12:10:00+01:00", "jot 'felt {odd}; next time > 26C'", code=3)
    assert "ovenleaf jot --trial A1 'felt {odd}; next time > 26C'" in said


def test_a_line_whose_rest_the_shell_took(kitchen, golden):
    """It is kept as words, and said on the other stream, since the first may have gone into a file."""
    kitchen.at("2026-11-28T08:00:00+01:00", "begin market-roll")
    said = kitchen.at("2026-11-28T08:10:00+01:00", "jot oven 240C -", code=3)
    golden("notebook/cut-off-line", said)
    assert "(as words) oven 240C -" in kitchen.page("2026-11-28", "market-roll")


def test_a_page_edited_by_hand_is_asked_about_before_it_is_begun(kitchen, oven, golden):
    """Which of the two is baked is never guessed."""
    page = kitchen.book / "formulas/market-roll.yaml"
    page.write_text(page.read_text().replace("water: 65%", "water: 66%"))
    now = "2026-11-28T08:10:00+01:00"
    golden("notebook/refused-draft", refused(oven, "begin market-roll --flour 600g", kitchen.book, now=now))
    assert "revision 1," in kitchen.at(now, "begin market-roll r1 --flour 600g")


def test_a_line_for_a_bake_that_is_done(kitchen):
    """Adding is not correcting: a lot that was forgotten goes in late, and it is said which bake it is of."""
    kitchen.at("2026-11-28T08:00:00+01:00", "record market-roll --crumb 7 --crust 7")
    said = kitchen.at("2026-11-29T08:00:00+01:00", "jot --trial A1 bulk 55 min, flour lot B-114")
    assert said.startswith("A1, market roll, 08:00. Bulk 55 min, planned 60 min.\nStrong wheat flour: lot B-114.")
    page = kitchen.page("2026-11-28", "market-roll")
    assert "state: done\n" in page
    assert "  - bulk: 55 min\n" in page


def test_a_loaf_weighed_wrong_is_put_right_in_the_open(kitchen):
    """432 g at 10:00, put right to 423 g at 10:20: 423 counts, once; what stood there, who, when and why are kept.

    The example of this notebook's rules for records, after 21 CFR 11.10(e) and FDA's data integrity guidance of 2018.
    """
    kitchen.at("2026-11-28T07:00:00+01:00", "begin market-roll --flour 600g")
    kitchen.at("2026-11-28T07:10:00+01:00", "jot dough 500 g")
    kitchen.at("2026-11-28T10:00:00+01:00", "jot 1 loaf 432 g cold")
    before = kitchen.page("2026-11-28", "market-roll")
    kitchen.at("2026-11-28T10:20:00+01:00", "correct A1 'measured.baked weight=423 g' --why transposed")
    after = kitchen.page("2026-11-28", "market-roll")
    assert "  baked weight: 423 g\n" in after
    entry = (
        "corrections:\n  - field: measured.baked weight\n    was: 432 g\n    now: 423 g\n    by: noor\n"
        "    at: 2026-11-28T10:20:00+01:00\n    why: transposed\n"
    )
    assert entry in after
    log = before[before.index("log:") : before.index("pin:")]
    assert log in after
    kitchen.at("2026-11-28T11:00:00+01:00", "finish --crumb 7 --crust 7")
    shown = kitchen.at("2026-11-28T11:01:00+01:00", "show A1")
    assert "15.4 %" in shown  # 77 of 500 g
    assert "15.4 %, as one bake of this formula measured" in " ".join(
        kitchen.at("2026-11-28T11:02:00+01:00", "weigh market-roll --pieces 4 --each 85g --baked").split()
    )


def test_a_bake_is_closed_and_scored_in_words(kitchen):
    """Marks may be said behind the code, as at the bench; what is no mark is refused, and one put back in goes on."""
    day = "2026-11-04"
    kitchen.at(f"{day}T13:00:00+01:00", "begin market-roll")
    kitchen.at(f"{day}T15:00:00+01:00", "jot in the oven")
    kitchen.at(f"{day}T15:10:00+01:00", 'finish --cut-short --because "the power failed"')
    assert "In the oven." in kitchen.at(f"{day}T15:40:00+01:00", "jot --trial A1 back in the oven")
    closed = kitchen.at(f"{day}T16:00:00+01:00", "finish A1 crumb 6, crust 5, pale")
    assert "crumb     6 of 10     noor" in closed
    assert "crust     5 of 10     noor" in closed
    said = kitchen.at(f"{day}T17:00:00+01:00", "score A1 crumb 7, crust 8 --taster tomas --new-taster")
    assert "crumb     7 of 10     tomas" in said
    refused = kitchen.at(f"{day}T17:00:00+01:00", "score A1 crumb 7, dough 24C --taster tomas", code=3)
    assert "cannot be taken for marks" in refused
