"""100 % flour with a culture besides: two things it can mean, both worked out, neither guessed."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders import QUICK, pantry, sheet, told
from ovenleaf.domain.numbers import rounded
from ovenleaf.domain.readings import COUNTED_IN, ON_TOP, two_readings
from ovenleaf.records.wording import share_text

DOUBTFUL = {"strong wheat flour": Decimal(100), "water": Decimal(70), "levain": Decimal(20), "salt": Decimal(2)}


def as_page(lines):
    return "ingredients:\n" + "".join(f"  {item}: {share_text(share)}\n" for item, share in lines)


def test_on_top_all_shares_shrink():
    """100 / 70 / 20 is 90.9 flour, 72.7 water in all, 18.2 levain of which flour 9.1."""
    on_top, _ = two_readings(DOUBTFUL, pantry())
    shares = {item: rounded(share, 1) for item, share in on_top.lines}

    assert on_top.name == ON_TOP
    assert (shares["strong wheat flour"], shares["levain"]) == (Decimal("90.9"), Decimal("18.2"))
    assert rounded(on_top.culture_flour, 1) == Decimal("9.1")
    assert rounded(dict(on_top.lines)["water"] + on_top.culture_water, 1) == Decimal("72.7")


def test_counted_in_flour_and_water_give_up_what_the_culture_brings():
    """90 flour, 60 water, 20 levain: 100 flour and 70 water in all."""
    _, counted_in = two_readings(DOUBTFUL, pantry())

    assert counted_in.name == COUNTED_IN
    assert dict(counted_in.lines) == DOUBTFUL | {"strong wheat flour": 90, "water": 60}


@pytest.mark.parametrize("reading", [0, 1], ids=[ON_TOP, COUNTED_IN])
def test_each_reading_is_a_page_that_comes_out(reading):
    """What is offered can be taken: the flours are 100 % as it would be written."""
    lines = two_readings(DOUBTFUL, pantry())[reading].lines

    made = sheet(as_page(lines)).totals
    assert rounded(made.all_water, 1) == (Decimal("72.7") if reading == 0 else 70)


def test_both_are_told_with_their_figures():
    """The line of the culture, and 90.9, 72.7, 18.2, of which flour 9.09."""
    finding = told(as_page(DOUBTFUL.items()))

    assert (finding.line, finding.text) == (4, "levain: 20%")
    question, on_top, counted_in = finding.fix.splitlines()
    assert question == "The levain is part flour. What was meant?"
    for figure in ("strong wheat flour 90.9 %", "levain 18.2 %", "9.09 % flour", "Water in all 72.7 %"):
        assert figure in on_top
    for figure in ("strong wheat flour 90.0 %", "levain 20.0 %", "10.0 % flour", "Water in all 70.0 %"):
        assert figure in counted_in


@pytest.mark.parametrize(
    "masses",
    [
        {"wheat flour": 100, "water": 70},
        {"wheat flour": 80, "water": 50, "levain": 40},
        {"wheat flour": 95, "water": 50, "levain": 40},
        {"water": 50, "levain": 40},
    ],
    ids=["no culture", "right as it is", "some other slip", "no flour"],
)
def test_there_are_no_two_readings_of_anything_else(masses):
    """Only flours that are 100 % without their culture can be meant in two ways."""
    assert two_readings({item: Decimal(mass) for item, mass in masses.items()}, pantry()) == ()


def test_a_reading_that_leaves_no_water_is_not_offered():
    """With 70 % of levain and 30 % of water, the water cannot already hold the levain's 35."""
    masses = {"wheat flour": Decimal(100), "water": Decimal(30), "levain": Decimal(70)}

    assert [reading.name for reading in two_readings(masses, pantry())] == [ON_TOP]


@QUICK
@given(st.integers(1, 180), st.integers(1, 150), st.integers(0, 99))
def test_every_reading_has_100_percent_of_flour(levain, water, rye):
    """Whatever the culture, once it is counted."""
    masses = {"wheat flour": Decimal(100 - rye), "water": Decimal(water), "levain": Decimal(levain)}
    masses |= {"rye flour": Decimal(rye)} if rye else {}

    readings = two_readings(masses, pantry())
    assert readings[0].name == ON_TOP
    for reading in readings:
        flours = sum(share for item, share in reading.lines if item.endswith("flour"))
        assert abs(flours + reading.culture_flour - 100) < Decimal("1e-20")
        assert all(share > 0 for _, share in reading.lines)
