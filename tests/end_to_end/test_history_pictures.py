"""history --against and --chart: scores against what was really weighed, in words, as text and as a file."""

from __future__ import annotations

import json
from xml.etree import ElementTree

import pytest

from refusals_support import reads_well, refused

NOW = "2026-11-25T12:00:00+01:00"
SCREENS = {
    "against-hydration": "history market-roll --against hydration",
    "against-bulk": "history market-roll --against bulk",
    "against-crumb": "history caraway-rye --against water --of crumb",
    "against-all-the-same": 'history olive-flatbread --against "final proof"',
    "against-sentences": "history honey-milk-bun --against hydration --sentences",
    "chart": "history market-roll --chart",
    "chart-sentences": "history market-roll --chart --sentences",
}
REFUSED = {
    "against-nothing-such": "history market-roll --against luck",
    "against-two": "history market-roll --against yeast",
    "against-of-nothing": "history market-roll --against hydration --of shape",
    "against-and-chart": "history market-roll --against hydration --chart",
    "svg-of-nothing": "history market-roll --svg roll.svg",
}


@pytest.mark.parametrize("name", SCREENS)
def test_a_picture_in_text(name, oven, sample_as_built, golden):
    """Golden, and read by eye."""
    ran = oven(SCREENS[name], cwd=sample_as_built, now=NOW)
    assert ran.code == 0, ran.err
    reads_well(ran.out)
    golden(f"pictures/{name}", ran.out)


@pytest.mark.parametrize("name", REFUSED)
def test_a_picture_that_cannot_be_drawn(name, oven, sample_as_built, golden):
    """What there is to choose from is said."""
    golden(f"pictures/{name}", refused(oven, REFUSED[name], sample_as_built, now=NOW))


def test_water_is_as_it_was_weighed_and_not_as_planned(oven, sample_as_built):
    """A4 got 396 g on 600 g of flour, 66 %, where revision 2 plans 65."""
    made = json.loads(oven("history market-roll --against hydration --json", cwd=sample_as_built, now=NOW).out)
    doughs = {dough["codes"][0]: dough for dough in made["against"]["doughs"]}

    assert (doughs["A4"]["value"], doughs["A4"]["source"]) == (66, "as recorded")
    assert (doughs["A7"]["value"], doughs["A7"]["source"]) == (65, "as planned, confirmed")
    assert made["against"]["slope_low"] < made["against"]["slope"] < made["against"]["slope_high"]


@pytest.mark.parametrize("what", ["--against hydration", "--chart"])
def test_a_picture_goes_into_a_new_file_only(what, oven, sample_book, tmp_path):
    """It is written once and never over something; the screen says where it is."""
    command = f"--book {sample_book} history market-roll {what} --svg roll.svg"
    ran = oven(command, cwd=tmp_path, now=NOW)

    assert "The picture is in roll.svg" in ran.out
    drawn = (tmp_path / "roll.svg").read_text(encoding="utf-8")
    told = " ".join(node.text or "" for node in ElementTree.fromstring(drawn.encode()).iter())
    assert all(code in told for code in ("A1", "B5", "D1"))
    assert "there is a file roll.svg already" in oven(command, cwd=tmp_path, now=NOW).err.lower()
    assert (tmp_path / "roll.svg").read_text(encoding="utf-8") == drawn


@pytest.mark.parametrize("what", ["--against salt", "--chart"])
def test_before_the_first_score_there_is_nothing_to_draw_and_no_fault(what, oven, tmp_path):
    """No bakes, then one bake, then two that are all equal."""
    book = tmp_path / "stall"
    oven("start stall --baker noor", cwd=tmp_path)
    page = "formula: loaf\ningredients:\n  strong wheat flour: 100%\n  water: 68%\n  salt: 2%\n"
    oven("enter -", cwd=book, typed=page)
    record = "record loaf --crumb 7 --crust 7"
    for before in ("show loaf", "record loaf --note plain", record, record):
        assert oven(before, cwd=book).code == 0
        ran = oven(f"history loaf {what} --svg {before.count('-')}{len(before)}.svg", cwd=book)
        assert ran.code in (0, 3), ran.err
        reads_well(ran.out + ran.err)
        assert "nan" not in (ran.out + ran.err).lower().split()
        (book / f"{before.count('-')}{len(before)}.svg").unlink(missing_ok=True)
