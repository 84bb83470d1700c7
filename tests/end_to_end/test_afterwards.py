"""A bake told afterwards, from the sheet that was printed for it: what was seen, when, and what is missing."""

from __future__ import annotations

import json
import re

import pytest

from refusals_support import reads_well, refused

PRINTED = "2026-11-24T06:00:00+01:00"
LATE = "2026-11-25T23:10:00+01:00"
BLANK = "_" * 8

# What Ben pencilled in, by the words before the blank.
BOXES = {
    "bake date": "yesterday",
    "baker": "tomas",
    "oven": "stall oven 220C",
    "room": "21C",
    "flour": "20C",
    "water": "27C",
    "preferment": "20,5C",
    "dough temperature": "25.5C",
    "pieces": "24",
    "dough weight": "2030",
    "baked weight": "1770 g",
    "cooled": "2 h",
    "core": "97C",
    "crumb": "7",
    "crust": "6 too pale",
    "taster": "tomas",
    "hours after": "3",
}
WEIGHTS = ("236", "235", "0.23", "938 g", "570", "470", "23.5", "35", "7,1")
TIMES = ("03:16", "03.19", "03:28", "04:26", "04:50", "05:05 at 28C", "05:52, 19 min")


def filled(sheet, boxes=BOXES, weights=WEIGHTS, times=TIMES, note="sour smelled of apples"):
    """The printed sheet as somebody filled it in; "" leaves a blank."""
    for name, written in boxes.items():
        sheet = re.sub(
            rf"((?:^|   ){name} ){BLANK}", lambda found, w=written: found[1] + (w or BLANK), sheet, flags=re.M
        )
    for before, over in ((r"went in ", weights), (r"(?<=  )at ", times)):
        written = iter(over)
        sheet = re.sub(rf"({before}){BLANK}", lambda found, w=written: found[1] + (next(w) or BLANK), sheet)
    return sheet.replace("note ____", f"note {note}____", 1) if note else sheet


@pytest.fixture(scope="module")
def printed(sample_as_built, tmp_path_factory):
    """The sheet of the keeper for 24 rolls, printed the day before; it is not the newest revision."""
    from support import run_ovenleaf

    path = tmp_path_factory.mktemp("printed") / "roll.txt"
    ran = run_ovenleaf("weigh", "market-roll", "--sheet", str(path), cwd=sample_as_built, now=PRINTED)
    assert ran.code == 0, ran.err
    return path.read_text()


@pytest.fixture
def hand_in(oven, sample_book, tmp_path):
    """Records a sheet; gives what the screen says."""

    def go(text, words="record --from ../roll.txt"):
        (tmp_path / "roll.txt").write_text(text, encoding="utf-8")
        ran = oven(words, cwd=sample_book, now=LATE)
        assert ran.code == 0, ran.err
        reads_well(ran.out)
        return ran.out

    return go


def test_every_blank_filled_comes_back(printed, hand_in, oven, sample_book, golden):
    """Weigh, print, fill in every blank, record: the trial has all of it, of the sheet's own revision."""
    golden("afterwards/recorded", hand_in(filled(printed)))

    shown = json.loads(oven("show last --json", cwd=sample_book, now=LATE).out)
    assert (shown["revision"], shown["bake_date"], shown["baker"]) == ("r3.noor", "2026-11-24", "tomas")
    rows = {row["name"]: row["actual"] for row in shown["rows"]}
    assert rows["water"] == "68.5 %"
    assert (rows["salt"], rows["butter"]) == ("2.0 %", "2.98 %")
    assert (rows["bulk"], rows["final proof"], rows["time in the oven"]) == ("58 min", "47 min", "19 min")
    assert (rows["oven"], rows["oven, which"], rows["water, how warm"]) == ("220 °C", "stall oven", "27 °C")
    assert shown["measured"] == {
        "dough temperature": "25.5 C",
        "pieces": "24",
        "dough weight": "2030 g",
        "baked weight": "1770 g",
        "cooled": "2 h",
        "core temperature": "97 C",
    }
    [marks] = shown["scores"]
    assert (marks["taster"], marks["crumb"], marks["crust"], marks["hours_after"]) == ("tomas", 7, 6, 3)
    assert (marks["faults"], marks["note"]) == (["too pale"], "sour smelled of apples")
    assert oven("check", cwd=sample_book, now=LATE).code == 0


def test_yesterday_s_sheet_with_two_boxes_that_cannot_be_read(printed, hand_in, oven, sample_book, golden):
    """Typed up at 23:10: times are the sheet's, the entry is today's, unread is not recorded, and the gaps are told."""
    boxes = {**BOXES, "dough temperature": "?", "core": "unreadable", "oven": ""}
    screen = hand_in(filled(printed, boxes=boxes))
    golden("afterwards/two_boxes", screen)

    told = " ".join(screen.split())
    assert "baked Tuesday 24 November 2026" in told
    assert "Told late, on 25 November 2026 at 23:10; the times are those of the sheet" in told
    assert "Could not be read, so not recorded: dough temperature and core temperature." in told
    assert "you would also want: which strong wheat flour, dough temperature and the oven's heat" in told
    page = (sample_book / "trials/market-roll/2026-11-24-noor.yaml").read_text()
    assert "entered: 2026-11-25T23:10:00+01:00" in page
    assert "  - bulk: at 03:28, 58 min to the divide" in page
    assert "core temperature" not in page
    assert "dough temperature" not in page
    golden("afterwards/show", oven("show last", cwd=sample_book, now=LATE).out)


def test_a_sheet_of_an_older_revision_pins_that_one_and_says_so(printed, hand_in, sample_book):
    """The newest is another; what was baked is what stands on the sheet."""
    told = " ".join(hand_in(filled(printed)).split())

    assert "Market roll, revision 3" in told
    assert "The newest is revision 4." in told
    kept = (sample_book / "trials/market-roll/2026-11-24-noor.yaml").read_text()
    older = [
        line
        for line in (sample_book / "trials/market-roll/2026-11-03-noor.yaml").read_text().splitlines()
        if "pin" in line
    ]
    assert "revision: r3.noor" in kept
    assert older[0] in kept


def test_a_mangled_line_is_named_and_kept(printed, hand_in, oven, sample_book, golden):
    """With the number of its line, and as a note in the log."""
    text = (
        filled(printed).replace("Final dough\n", "Final dough\nthe mixer squeaked\n").replace("went in 570", "wnt 570")
    )
    screen = hand_in(text)
    golden("afterwards/mangled", screen)

    assert "the mixer squeaked" in screen
    assert "on the sheet: the mixer squeaked" in oven("show last", cwd=sample_book, now=LATE).out
    assert "570" in oven("show last", cwd=sample_book, now=LATE).out


def test_a_code_on_the_sheet_is_the_trial_s(printed, hand_in):
    """What stands on the tape stands in the book."""
    assert "trial E7" in hand_in(filled(printed, boxes={**BOXES, "trial": "e7"}))


def test_a_sheet_handed_in_on_the_day_it_was_printed_needs_no_day(printed, oven, sample_book, tmp_path):
    """It was baked that day; and times are kept apart all the same."""
    (tmp_path / "roll.txt").write_text(filled(printed, boxes={**BOXES, "bake date": ""}))
    ran = oven("record --from ../roll.txt", cwd=sample_book, now="2026-11-24T20:00:00+01:00")

    assert "baked today, 24 November 2026" in ran.out
    assert "late" not in ran.out


def test_of_two_sheets_the_one_that_is_named_is_read(oven, sample_book, tmp_path):
    """Printed together, they lie in one file."""
    ran = oven("weigh market-roll caraway-rye --sheet ../two.txt", cwd=sample_book, now=PRINTED)
    assert ran.code == 0
    text = (tmp_path / "two.txt").read_text().replace(f"crumb {BLANK}", "crumb 8")
    (tmp_path / "two.txt").write_text(text)
    ran = oven("record caraway-rye --from ../two.txt --baked-on 2026-11-24", cwd=sample_book, now=LATE)

    assert "Caraway rye" in ran.out
    assert "crumb     8 of 10" in ran.out


def test_words_and_options_behind_the_sheet_have_the_last_say(printed, hand_in):
    """As with a typed-up page."""
    screen = hand_in(filled(printed), "record market-roll --from ../roll.txt --dough-temp 26C --crumb 8 --taster tomas")

    assert "26 °C" in screen
    assert "8 of 10" in screen


REFUSED = {
    "no_day": ({"bake date": ""}, "record --from ../roll.txt"),
    "no_scale": ({"room": "21", "dough temperature": "25,5", "cooled": "2"}, "record --from ../roll.txt"),
    "off_scale": ({"crumb": "12"}, "record --from ../roll.txt"),
    "heavier": ({"baked weight": "2100"}, "record --from ../roll.txt"),
    "code_taken": ({"trial": "C2"}, "record --from ../roll.txt"),
    "other_formula": ({}, "record caraway-rye --from ../roll.txt"),
    "other_revision": ({}, "record market-roll r4 --from ../roll.txt"),
    "to_come": ({"bake date": "2026-12-24"}, "record --from ../roll.txt"),
    "near_taster": ({"taster": "tomsa"}, "record --from ../roll.txt"),
}


@pytest.mark.parametrize("name", REFUSED)
def test_what_is_refused(name, printed, oven, sample_book, tmp_path, golden):
    """Clearly, with the line where there is one, and nothing is written."""
    boxes, words = REFUSED[name]
    (tmp_path / "roll.txt").write_text(filled(printed, boxes={**BOXES, **boxes}))

    golden(f"afterwards/{name}", refused(oven, words, sample_book, now=LATE))


def test_the_same_sheet_twice_is_refused(printed, hand_in, oven, sample_book, golden):
    """It is in the book already, and as what."""
    hand_in(filled(printed))
    golden("afterwards/same", refused(oven, "record --from ../roll.txt", sample_book, now=LATE))


def test_a_head_that_is_gone_is_refused(printed, oven, sample_book, tmp_path, golden):
    """Nobody guesses which formula it was of."""
    (tmp_path / "roll.txt").write_text(filled(printed).replace("revision: r3.noor", "rev"))
    golden("afterwards/no_head", refused(oven, "record --from ../roll.txt", sample_book, now=LATE))
    (tmp_path / "bake.yaml").write_text("scores:\n  noor:\n    crumb: 7\n")
    golden("afterwards/no_formula", refused(oven, "record --from ../bake.yaml", sample_book, now=LATE))
    assert oven("record", cwd=sample_book, now=LATE).code == 2


def test_what_is_missing_all_over_the_book(oven, sample_book, golden):
    """Those that lack least first, with one line to type."""
    ran = oven("list --gaps", cwd=sample_book, now=LATE)
    reads_well(ran.out)
    golden("afterwards/gaps", ran.out)
    golden("afterwards/gaps_spoken", oven("list --gaps --sentences", cwd=sample_book, now=LATE).out)


def test_nothing_baked_lacks_nothing(oven, tmp_path, golden):
    """An empty book is not scolded."""
    assert oven("start stall --baker noor").code == 0
    golden("afterwards/gaps_empty", oven("list --gaps", cwd=tmp_path / "stall", now=LATE).out)
