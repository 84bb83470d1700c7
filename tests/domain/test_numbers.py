"""Numbers as a baker writes them, and nothing else."""

from __future__ import annotations

from decimal import Decimal, localcontext

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders import QUICK
from ovenleaf.domain.numbers import LARGEST, NumberFault, number, plain, portion, rounded, share_of


@pytest.mark.parametrize(
    ("typed", "value"),
    [
        ("62", "62"),
        ("62.5", "62.5"),
        ("62,5", "62.5"),
        (" 62.50 ", "62.50"),
        ("1/2", "0.5"),
        ("1 1/2", "1.5"),
        ("-3", "-3"),
        ("-1 1/2", "-1.5"),
        ("007", "7"),
        ("1000000000", "1000000000"),
    ],
)
def test_what_is_a_number(typed, value):
    """Points, decimal commas and fractions are read as they stand."""
    assert number(typed) == Decimal(value)


@pytest.mark.parametrize(
    ("typed", "kind"),
    [
        ("", "not a number"),
        ("-", "not a number"),
        ("abc", "not a number"),
        ("1.", "not a number"),
        (".5", "not a number"),
        ("1,", "not a number"),
        ("1, 5", "not a number"),
        ("1.000,5", "not a number"),
        ("1 000", "not a number"),
        ("1_000", "not a number"),
        ("0x10", "not a number"),
        ("+3", "not a number"),
        ("--3", "not a number"),
        ("1/2/3", "not a number"),
        ("nan", "not finite"),
        ("NaN", "not finite"),
        ("-inf", "not finite"),
        (".inf", "not finite"),
        ("Infinity", "not finite"),
        ("1e400", "too large"),
        ("1E3", "too large"),
        ("1000000000.5", "too large"),
        ("-1000000001", "too large"),
        ("9" * 400, "too large"),
        ("1/0", "divided by zero"),
        ("3 1/0", "divided by zero"),
        ("1/00", "divided by zero"),
    ],
)
def test_what_is_no_number(typed, kind):
    """What a baker cannot weigh is told by its kind, and never becomes a NaN."""
    with pytest.raises(NumberFault) as caught:
        number(typed)
    assert (caught.value.text, caught.value.kind) == (typed, kind)


@pytest.mark.parametrize(
    ("value", "places", "shown"),
    [
        ("2.345", 2, "2.35"),
        ("2.5", 0, "3"),
        ("-2.5", 0, "-3"),
        ("0.05", 1, "0.1"),
        ("0.0449", 1, "0.0"),
        ("1676.24", 1, "1676.2"),
    ],
)
def test_halves_are_rounded_away_from_zero(value, places, shown):
    """As a baker rounds, whatever the machine's own habit is."""
    with localcontext() as context:
        context.rounding = "ROUND_HALF_EVEN"
        assert rounded(Decimal(value), places) == Decimal(shown)


@pytest.mark.parametrize(
    ("value", "written"),
    [("62.50", "62.5"), ("1E+3", "1000"), ("0.00", "0"), ("-0", "0"), ("-0.0", "0"), ("0.000100", "0.0001")],
)
def test_a_number_is_written_without_needless_zeros(value, written):
    """No exponent and no minus before nothing reach a page."""
    assert plain(Decimal(value)) == written


decimals = st.decimals(min_value=0, max_value=LARGEST, places=4)


@QUICK
@given(decimals)
def test_what_is_written_is_read_back(value):
    """`plain` and `number` are each other's inverse, with a point and with a comma."""
    assert number(plain(value)) == value
    assert number(plain(value).replace(".", ",")) == value


@QUICK
@given(decimals, st.decimals(min_value=1, max_value=10**6, places=3))
def test_a_share_of_the_flour_and_its_weight_are_inverse(mass, flour):
    """100 x part / whole, and back, to the 20th decimal of the part's size."""
    back = portion(share_of(mass, flour), flour)

    assert abs(back - mass) <= Decimal("1e-20") * (mass + 1)


def test_a_bakers_percentage_is_of_the_flour():
    """340 g of water on 500 g of flour are 68 % (Gisslen, Professional Baking, Baker's Percentages)."""
    assert share_of(Decimal(340), Decimal(500)) == 68
    assert portion(Decimal(68), Decimal(500)) == 340
