"""What is looked for, read from a few words: every way of saying it, and what is said of those that mean nothing."""

from __future__ import annotations

import contextlib
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders import QUICK
from ovenleaf.domain.find_words import looked_for
from ovenleaf.domain.finding import Baked, Bounds, Figure, FindFault, NotRecorded, Standing, Words

TODAY = date(2026, 11, 25)  # a Wednesday

UNDERSTOOD = {
    "gummy": "the word gummy",
    "too pale": "the words too pale",
    "not gummy": "not the word gummy",
    "without steam": "not the word steam",
    "lot B-114": "the words lot B-114",
    "2 folds": "the words 2 folds",
    "in a tin": "the words in a tin",
    "formula market-roll": "formula market-roll",
    "flour Mill Lane": "flour Mill Lane",
    "flours: Mill Lane": "flour Mill Lane",
    "fault too pale": "fault too pale",
    "faults too pale": "fault too pale",
    "note apples": "note apples",
    "question more water": "question more water",
    "revision r3": "revision r3",
    "oven stall": "oven stall",
    "by tomas": "baked by tomas",
    "baker tomas": "baked by tomas",
    "taster petra": "tasted by petra",
    "left out": "left out",
    "cut short": "cut short",
    "interrupted": "cut short",
    "given up": "given up",
    "in hand": "in hand",
    "late": "told late",
    "not scored": "not scored",
    "with pictures": "with pictures",
    "not recorded dough temperature": "dough temperature not recorded",
    "dough temperature not recorded": "dough temperature not recorded",
    "missing: core": "core not recorded",
    "dough above 26C": "dough above 26 °C",
    "dough over 26 °C": "dough above 26 °C",
    "dough > 26C": "dough above 26 °C",
    "dough>26C": "dough above 26 °C",
    "dough was warmer than 26,5 C": "dough above 26.5 °C",
    "dough at least 79F": "dough at least 79 °F",
    "dough >= 26C": "dough at least 26 °C",
    "dough at most 26C": "dough at most 26 °C",
    "dough up to 26C": "dough at most 26 °C",
    "dough between 24 and 26 C": "dough between 24 °C and 26 °C",
    "dough between 24C to 26C": "dough between 24 °C and 26 °C",
    "dough 26 C": "dough 26 °C",
    "oven above 230C": "oven above 230 °C",
    "bulk at least 1h30": "bulk at least 1 h 30 min",
    "bulk longer than 90 min": "bulk above 1 h 30 min",
    "final proof shorter than 45 min": "final proof below 45 min",
    "hydration above 70 %": "hydration above 70 %",
    "salt below 1.9%": "salt below 1.9 %",
    "baked weight below 0,9 kg": "baked weight below 0.9 kg",
    "crumb below 6": "crumb below 6",
    "crumb under 6,5": "crumb below 6.5",
    "crumb 7": "crumb 7",
    "crust = 7": "crust 7",
    "pieces 24": "pieces 24",
    "ph below 4.2": "ph below 4.2",
    "since October": "baked since 1 October 2026",
    "since oct": "baked since 1 October 2026",
    "since december": "baked since 1 December 2025",
    "since 1 October": "baked since 1 October 2026",
    "since yesterday": "baked since 24 November 2026",
    "before 1 October": "baked before 1 October 2026",
    "before October": "baked before 1 October 2026",
    "after October": "baked after 31 October 2026",
    "until 2026-10-04": "baked until 4 October 2026",
    "in November": "baked from 1 November 2026 to 30 November 2026",
    "baked in November 2025": "baked from 1 November 2025 to 30 November 2025",
    "in 2025": "baked from 1 January 2025 to 31 December 2025",
    "baked yesterday": "baked on 24 November 2026",
    "on Sunday": "baked on 22 November 2026",
    "between 1 and 9 November": "baked from 1 November 2026 to 9 November 2026",
    "between 1 October and 9 November": "baked from 1 October 2026 to 9 November 2026",
    "between November and January": "baked from 1 November 2025 to 31 January 2026",
    "this week": "baked from 23 November 2026 to 25 November 2026",
    "last week": "baked from 16 November 2026 to 22 November 2026",
    "this month": "baked from 1 November 2026 to 25 November 2026",
    "today": "baked on 25 November 2026",
}


@pytest.mark.parametrize(("typed", "said"), UNDERSTOOD.items())
def test_what_is_understood_is_echoed(typed, said):
    """One clause, told back with its unit."""
    [asked] = looked_for(typed, TODAY)
    assert asked.said == said


def test_a_comma_and_an_and_both_mean_both():
    """A decimal comma parts nothing, nor does the `and` between two bounds."""
    asked = looked_for("gummy, dough above 26,5C and between 1 and 9 November; crumb between 5 and 6", TODAY)

    assert [type(one) for one in asked] == [Words, Figure, Baked, Figure]


def test_a_figure_has_its_bounds_in_one_unit():
    """Heat in degrees C, time in minutes, weights in g, whatever was typed."""
    bounds = {
        "dough above 77F": Bounds(kind="heat", low=Decimal(25), strictly=True),
        "bulk up to 1 h": Bounds(kind="time", high=Decimal(60)),
        "baked weight below 1 kg": Bounds(kind="mass", high=Decimal(1000), strictly=True),
        "crumb between 5 and 6,5": Bounds(kind="plain", low=Decimal(5), high=Decimal("6.5")),
    }
    for typed, meant in bounds.items():
        [asked] = looked_for(typed, TODAY)
        assert asked.bounds == meant


def test_bounds_hold_their_ends_or_not():
    """Above is more than; at least is as much too."""
    above, least = Bounds(kind="heat", low=Decimal(26), strictly=True), Bounds(kind="heat", low=Decimal(26))

    assert [above.holds(Decimal(value)) for value in ("25.9", "26", "26.1")] == [False, False, True]
    assert [least.holds(Decimal(value)) for value in ("25.9", "26", "26.1")] == [False, True, True]


MEANINGLESS = {
    "": "nothing is asked for",
    ",": "nothing is asked for",
    "since flour": "flour is no day",
    "since": "this is no day",
    "dough above warm": "warm is no figure",
    "bulk above 3 furlongs": "3 furlongs is no figure",
    "dough between 26 and 24C": "26 °C to 24 °C is no span",
    "dough between 26C": "between wants two figures",
    "salt above 2 tsp": "2 tsp cannot be compared",
    "fault": "fault of what",
}


@pytest.mark.parametrize(("typed", "what"), MEANINGLESS.items())
def test_what_means_nothing_is_said(typed, what):
    """With how to write it; nothing is guessed."""
    with pytest.raises(FindFault) as caught:
        looked_for(typed, TODAY)
    assert caught.value.what == what
    assert caught.value.how


def test_a_state_and_a_gap_are_no_words():
    """They ask about the page, not for words on it."""
    assert looked_for("left out", TODAY) == (Standing(state="left out"),)
    assert looked_for("not recorded core", TODAY) == (NotRecorded(name="core"),)


@QUICK
@given(st.text("abcdefgh 0123456789,.<>=%C&()[]'\"_+-*/since above between", max_size=40))
def test_no_line_breaks_it(typed):
    """Whatever is typed is understood or refused, and never evaluated."""
    with contextlib.suppress(FindFault):
        assert looked_for(typed, TODAY)
