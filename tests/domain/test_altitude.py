"""What water boils at where the oven stands."""

from __future__ import annotations

from decimal import Decimal

import pytest

from ovenleaf.domain.altitude import altitude, boiling


# A published high-altitude table for cooks: 5000 ft 203 °F, 6000 ft 201.1, 8000 ft 197.4, 10000 ft 193.6.
@pytest.mark.parametrize(
    ("feet", "fahrenheit"), [("5000", "203"), ("6000", "201.1"), ("8000", "197.4"), ("10000", "193.6")]
)
def test_the_table_for_cooks(feet, fahrenheit):
    """Within a quarter of a degree Fahrenheit of the table."""
    celsius = boiling(altitude((("altitude", f"{feet} ft"),)))
    assert abs(celsius * Decimal("1.8") + 32 - Decimal(fahrenheit)) <= Decimal("0.3")


def test_sea_level():
    """100 °C, also where the book does not say where it is, or says nothing that can be read."""
    assert boiling(Decimal(0)) == 100
    for places in ((), (("oven", "stall oven"),), (("altitude", "high"),), (("altitude", "-20 m"),)):
        assert altitude(places) == 0


def test_metres_and_words_behind_them():
    """`1600 m, above the lake`."""
    assert altitude((("altitude", "1600 m, above the lake"),)) == 1600
