"""weigh at the bench: screens, refusals, the printed sheet, the calendar."""

from __future__ import annotations

import json
import re

import pytest

from refusals_support import reads_well, snapshot

NOW = "2026-11-25T12:00:00+01:00"
SCREENS = {
    "pieces": "weigh market-roll r1 --pieces 24 --each 85g --bench-loss 2%",
    "baked": "weigh market-roll --pieces 24 --each 74g --baked",
    "enriched": "weigh honey-milk-bun r2 --pieces 24",
    "water": "weigh market-roll --water-temp --room 19C --flour-temp 18C --preferment-temp 20C",
    "water-ice": "weigh market-roll --water-temp --room 30C --flour-temp 28C --tap 24C",
    "swap": 'weigh market-roll --swap "fresh yeast"',
    "swap-flour": 'weigh market-roll --swap "strong wheat flour=plain wheat flour"',
    "swap-poolish": "weigh market-roll --swap poolish=60%",
    "household": "weigh honey-milk-bun r2 --household",
    "ounces": "weigh market-roll --ounces",
    "schedule": "weigh market-roll --ready 2026-11-29T07:00 --room 21C",
    "several": "weigh market-roll caraway-rye --pieces 24,2",
}
REFUSED = {
    "no-pieces": "weigh market-roll --pieces 0",
    "negative-pieces": "weigh market-roll --pieces=-3",
    "loss-100": "weigh market-roll --bench-loss 100%",
    "loss-words": "weigh market-roll --bake-loss some",
    "no-scale": "weigh market-roll --water-temp --room 40 --flour-temp 18C",
    "wrong-scale": "weigh market-roll --water-temp --room 70C --flour-temp 18C",
    "below-freezing": "weigh market-roll --water-temp --room 20C --flour-temp=-80C",
    "boiling": "weigh market-roll --water-temp --room 5C --flour-temp=-20C --target 45C",
    "room-wanting": "weigh market-roll --water-temp",
    "coarse-scale": "weigh market-roll --dough 50g --scale 10g",
    "swap-no-yeast": "weigh market-roll --swap butter",
    "swap-no-flour": 'weigh market-roll --swap "rice flour=spelt flour"',
    "two-at-once": "weigh market-roll --pieces 24 --flour 500g",
    "calendar-no-time": "weigh market-roll --calendar bake.ics",
    "time-unclear": "weigh market-roll --ready tomorrow",
    "unknown-formula": "weigh market-rol",
}


@pytest.mark.parametrize("name", SCREENS)
def test_a_weigh_up_reads_well(name, sample_book, oven, golden):
    """Each screen is golden, and nothing in the book changes by looking."""
    before = snapshot(sample_book)
    ran = oven(SCREENS[name], cwd=sample_book, now=NOW)
    assert ran.code == 0, ran.err
    reads_well(ran.out)
    golden(f"weigh/{name}", ran.out)
    assert snapshot(sample_book) == before


@pytest.mark.parametrize("name", REFUSED)
def test_what_cannot_be_weighed_is_refused(name, sample_book, oven, golden):
    """Exit 3, a golden word, nothing written."""
    ran = oven(REFUSED[name], cwd=sample_book, now=NOW)
    assert (ran.code, ran.out) == (3, "")
    reads_well(ran.err)
    golden(f"weigh/refused-{name}", ran.err)


def test_printed_lines_add_up_as_printed(sample_book, oven):
    """In every bowl the last line is the sum of those above it."""
    out = oven("weigh market-roll --pieces 37 --each 83g", cwd=sample_book, now=NOW).out
    for bowl in out.split("\n\n"):
        grams = [float(found) for found in re.findall(r"([0-9.]+) g$", bowl, re.MULTILINE)]
        if len(grams) > 3:
            assert sum(grams[:-1]) == pytest.approx(grams[-1])


def test_json_has_the_keys_that_scripts_rely_on(sample_book, oven):
    """Flour, dough, pieces, bowls, water and ice."""
    line = "weigh market-roll --water-temp --room 30C --flour-temp 28C --tap 24C --json"
    document = json.loads(oven(line, cwd=sample_book, now=NOW).out)
    wanted = {"flour_g", "dough_g", "pieces", "each_g", "bowls", "water_temperature_c", "ice_g"}
    assert wanted <= set(document)
    assert document["water_temperature_c"] == 5  # 3 x 25 - 30 - 28 - 3 x 4
    assert document["ice_g"] > 0


def test_losses_come_from_the_formula_s_own_bakes(sample_book, oven):
    """Where no bake loss is given, those that were measured are used, and it is said so."""
    out = " ".join(oven("weigh market-roll --pieces 24 --each 74g --baked", cwd=sample_book, now=NOW).out.split())
    assert "as three bakes of this formula measured" in out


def test_the_printed_sheet_fits_a_page(sample_book, oven, golden):
    """No line over 80 columns, no more than a page, a square and a blank for each line; nothing is written over."""
    line = "weigh market-roll --ready 2026-11-29T07:00 --sheet roll.txt --calendar roll.ics"
    assert oven(line, cwd=sample_book.parent, now=NOW, env={"OVENLEAF_BOOK": str(sample_book)}).code == 0
    sheet = (sample_book.parent / "roll.txt").read_text()
    golden("weigh/sheet", sheet)
    lines = sheet.splitlines()
    assert len(lines) <= 62
    assert all(len(line) <= 80 for line in lines)
    assert sum("[ ]" in line and "____" in line for line in lines) >= 9
    again = oven(line, cwd=sample_book.parent, now=NOW, env={"OVENLEAF_BOOK": str(sample_book)})
    assert again.code == 3
    assert "not written over" in again.err


def test_the_calendar_holds_events_with_alarms(sample_book, oven):
    """RFC 5545: CRLF, lines of 75 octets at most, an event and an alarm for each step, in universal time."""
    line = "weigh market-roll --ready 2026-11-29T07:00 --calendar roll.ics"
    assert oven(line, cwd=sample_book.parent, now=NOW, env={"OVENLEAF_BOOK": str(sample_book)}).code == 0
    data = (sample_book.parent / "roll.ics").read_bytes()
    assert all(len(line) <= 75 for line in data.split(b"\r\n"))
    assert b"\n" not in data.replace(b"\r\n", b"")
    text = data.decode()
    assert text.count("BEGIN:VEVENT") == text.count("BEGIN:VALARM") == 6
    assert "DTEND:20261129T060000Z" in text


def test_a_combined_revision_with_open_questions_cannot_be_weighed(sample_book, oven):
    """Exit 4: it waits for the bakers."""
    page = (sample_book / "formulas/market-roll/r4.noor.yaml").read_text()
    opened = (
        page.replace("revision: 4", "revision: 5") + "open:\n  water:\n    was: 68%\n    noor: 71%\n    tomas: 70%\n"
    )
    (sample_book / "formulas/market-roll/r5.noor.yaml").write_text(opened)
    ran = oven("weigh market-roll r5", cwd=sample_book, now=NOW)
    assert ran.code == 4
    assert "open questions" in ran.err
