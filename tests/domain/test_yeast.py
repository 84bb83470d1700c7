"""One yeast for another, and time for warmth."""

from __future__ import annotations

from decimal import Decimal as D

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders import QUICK, pantry
from ovenleaf.domain.ingredients import Kind
from ovenleaf.domain.yeast import swap, time_at

YEASTS = tuple(name for name in pantry().names if pantry().get(name).kind is Kind.YEAST)


def made(old, new, amount):
    """A swap of one yeast of the list for another."""
    return swap(pantry().get(old), pantry().get(new), D(amount))


def test_thirty_grams_of_fresh_yeast():
    """30 g fresh are 12.0 active dry or 9.9 instant: 1 : 0.40 : 0.33 (J. Hamelman, Bread, 2004, Yeast Conversions)."""
    assert made("fresh yeast", "active dry yeast", 30).new == 12
    assert made("fresh yeast", "instant yeast", 30).new == D("9.9")


def test_instant_for_active_dry():
    """Instant is 0.825 of active dry by the same factors; 0.75 is also in print."""
    assert made("active dry yeast", "instant yeast", 1).factor == D("0.825")


def test_water_for_what_is_missing():
    """0.67 g of water a gram of fresh yeast keeps the dough as heavy (computed from the same factors)."""
    one = made("fresh yeast", "instant yeast", 1)
    assert one.water == D("0.67")
    assert one.new + one.water == one.old


def test_solids_do_not_explain_the_factor_of_active_dry():
    """31.0 and 94.92 g of solids in 100 (USDA SR28 18374, 18375) make 0.3266; 0.40 allows for dead cells, so that the
    printed factor is the one used."""
    fresh, dry = (pantry().get(name).water for name in ("fresh yeast", "active dry yeast"))
    assert round((100 - fresh) / (100 - dry), 4) == D("0.3266")
    assert made("fresh yeast", "active dry yeast", 1).factor == D("0.40") != D("0.3266")


@given(old=st.sampled_from(YEASTS), new=st.sampled_from(YEASTS), amount=st.decimals("0.01", 500, places=2))
@QUICK
def test_there_and_back_is_the_same(old, new, amount):
    """A yeast swapped and swapped back weighs what it did, and so does its water."""
    there = made(old, new, amount)
    back = made(new, old, there.new)
    assert abs(back.new - amount) < D("1e-20")
    assert abs(there.water + back.water) < D("1e-20")


def test_time_against_temperature():
    """120 min at 24 °C moved to 20 °C: 160.9 min by twice as fast per 17 °F, 175.7 by 10 % a degree."""
    low, high = time_at(D(120), D(24), D(20))
    assert (round(low, 1), round(high, 1)) == (D("160.9"), D("175.7"))


def test_the_two_rules_per_degree():
    """10 % a degree doubles in 7.27 °C, 2.594 in 10; per 17 °F it is 7.62 % a degree, 2.083 in 10 (computed)."""
    low, high = time_at(D(1000), D(30), D(20))
    assert (round(low), round(high)) == (2083, 2594)
    low, high = time_at(D(1000), D(25), D(24))
    assert (round(low, 1), round(high, 1)) == (D("1076.2"), D(1100))


@pytest.mark.parametrize(("planned", "actual"), [(24, 4), (24, 33), (14, 20), (36, 24)])
def test_outside_15_to_32_degrees_no_rule_holds(planned, actual):
    """Not in the fridge, not in the heat."""
    assert time_at(D(120), D(planned), D(actual)) is None


@given(minutes=st.integers(5, 1000), planned=st.integers(15, 32), actual=st.integers(15, 32))
@QUICK
def test_colder_is_longer(minutes, planned, actual):
    """Warmer is shorter, colder longer, the same is the same; the range is low before high."""
    low, high = time_at(D(minutes), D(planned), D(actual))
    assert low <= high
    assert (high < minutes, low > minutes) == (actual > planned, actual < planned)
