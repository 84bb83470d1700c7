"""The water's temperature and its ice, against what has been printed."""

from __future__ import annotations

from decimal import Decimal as D

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders import QUICK
from ovenleaf.domain.temperature import ice, warming, water_temperature


def celsius(fahrenheit):
    """Degrees Celsius."""
    return (D(fahrenheit) - 32) / D("1.8")


def fahrenheit(degrees):
    """Degrees Fahrenheit."""
    return degrees * D("1.8") + 32


def water(target, others, friction, to_celsius=D):
    """The water for a printed case, whose friction is n times the rise in the mixer."""
    named = tuple((f"t{place}", to_celsius(degrees)) for place, degrees in enumerate(others))
    return water_temperature(to_celsius(target), named, friction / (len(others) + 1)).water


@pytest.mark.parametrize(
    ("target", "others", "friction", "printed"),
    [
        (75, (65, 65), 8, 87),  # San Francisco Baking Institute, Artisan I handout, 2009
        (75, (71, 71, 71), 20, 67),  # Cook's Illustrated, a how-to, 4 temperatures
        (78, (85, 67), 0, 82),  # A Treatise on Baking (its author, J. E. Wihlfahrt, is from memory)
        (78, (72, 62), 0, 100),  # the same
    ],
)
def test_published_cases_in_fahrenheit(target, others, friction, printed):
    """Worked in °C, a friction being a difference and so without the 32: the printed °F, within rounding."""
    assert abs(fahrenheit(water(target, others, D(friction) / D("1.8"), celsius)) - printed) < D("1e-20")


@pytest.mark.parametrize(
    ("target", "others", "friction", "printed"),
    [
        (24, (21, 20), 2, 29),  # a French vocational lesson (CAP level)
        (24, (20, 22, 21), 8, 25),  # computed
        (25, (19, 18, 20), 16, 27),  # computed
        (23, (21, 21), 21, 6),  # French base temperature: base 48, flour 21, room 21; 3 x 23 less a friction of 21
    ],
)
def test_published_and_computed_cases_in_celsius(target, others, friction, printed):
    """The same in °C."""
    assert abs(water(target, others, D(friction)) - printed) < D("1e-20")


def test_the_two_scales_agree_on_the_published_cases():
    """87 °F is 30.556 °C, and 67 °F is 19.444 °C, exactly (computed from the two cases above)."""
    assert round(water(75, (65, 65), 8 / D("1.8"), celsius), 3) == D("30.556")
    assert round(water(75, (71, 71, 71), 20 / D("1.8"), celsius), 3) == D("19.444")


@given(
    target=st.integers(60, 90),
    others=st.lists(st.integers(32, 100), min_size=2, max_size=3),
    rise=st.integers(0, 20),
)
@QUICK
def test_celsius_and_fahrenheit_agree(target, others, rise):
    """The rule in °F gives the water of the rule in °C, with three temperatures and with four."""
    n = len(others) + 1
    in_fahrenheit = n * target - sum(others) - n * rise
    in_celsius = water(target, others, n * D(rise) / D("1.8"), celsius)
    assert abs(fahrenheit(in_celsius) - in_fahrenheit) < D("1e-15")


@given(
    dough=st.integers(15, 32),
    others=st.lists(st.integers(0, 40), min_size=2, max_size=3),
    rise=st.integers(0, 12),
)
@QUICK
def test_the_warming_that_was_used_is_the_one_that_is_learned(dough, others, rise):
    """Pour what was worked out, reach the dough that was aimed at, and the mixer's rise comes back, for 3 and 4."""
    poured = water_temperature(D(dough), tuple((str(n), D(t)) for n, t in enumerate(others)), D(rise)).water
    assert abs(warming(D(dough), (*map(D, others), poured)) - rise) < D("1e-20")


def test_the_mixer_s_warming_is_learned_in_degrees():
    """Dough 26; flour 20, room 22, water 18: a friction of 18 over three temperatures, a rise of 6 °C (computed).

    With four temperatures the same rise is a friction of 24: so degrees are kept, and not the friction.
    """
    assert warming(D(26), (D(20), D(22), D(18))) == 6


PRINTED_ICE = [
    (70, 50, "0.109"),
    (60, 40, "0.115"),
    (80, 60, "0.103"),
    (40, 20, "0.130"),
    (32, 20, "0.083"),
    (32, 0, "0.222"),
    (32, -30, "0.430"),
    (80, -30, "0.573"),
]


@pytest.mark.parametrize(("tap", "needed", "printed"), PRINTED_ICE)
def test_ice_against_a_published_table(tap, needed, printed):
    """A published bakery ice table, lb of ice to the lb of water, within 0.002."""
    assert abs(ice(D(1), celsius(tap), celsius(needed)) - D(printed)) < D("0.002")


def test_the_one_cell_of_the_ice_table_that_is_a_slip():
    """Tap 50, needed 35 °F is printed as 0.087; the heat balance gives 0.0926, and the cells around it agree with
    that."""
    assert round(ice(D(1), celsius(50), celsius(35)), 4) == D("0.0926")


@pytest.mark.parametrize(("tap", "needed", "printed"), PRINTED_ICE)
def test_ice_in_fahrenheit_is_ice_in_celsius(tap, needed, printed):
    """(tap - needed) / (tap + 112) in °F is (tap - needed) / (tap + 80) in °C: 112 is 144 - 32, 80 is 144 / 1.8."""
    assert abs(ice(D(1), celsius(tap), celsius(needed)) - D(tap - needed) / (tap + 112)) < D("1e-20")


def test_ice_for_forty_kilograms():
    """40 kg, tap 20, needed 10 °C: 4.0 kg of ice, and the mixture is at 10 °C again (computed, 4.1)."""
    melting = ice(D(40), D(20), D(10))
    assert melting == 4
    assert abs(((40 - melting) * 20 - melting * D("79.93")) / 40 - 10) < D("0.01")


def test_ice_in_mixed_units():
    """12 of water, tap 18, needed 4 °C: 1.714; the same from 64.4 and 39.2 °F (computed, 4.1)."""
    assert round(ice(D(12), D(18), D(4)), 3) == D("1.714")
    assert round(ice(D(12), celsius("64.4"), celsius("39.2")), 3) == D("1.714")


def test_a_tap_that_is_cold_enough_needs_no_ice():
    """Never less than nothing."""
    assert ice(D(40), D(8), D(10)) == ice(D(40), D(10), D(10)) == 0


@given(tap=st.integers(1, 40), needed=st.integers(-60, 39), grams=st.integers(100, 50000))
@QUICK
def test_ice_balances_its_heat(tap, needed, grams):
    """Ice takes up 80 for melting; what comes of it is as cold as wanted, and there is less ice than water."""
    melting = ice(D(grams), D(tap), D(needed))
    if needed < tap:
        assert abs(((grams - melting) * tap - melting * 80) / grams - needed) < D("1e-15")
        assert 0 < melting < grams
