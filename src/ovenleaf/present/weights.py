"""Weights as a scale shows them: in grams, or in pounds and ounces, each with its unit."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain.numbers import plain, rounded
from ovenleaf.domain.quantity import GRAMS_PER, Unit

if TYPE_CHECKING:
    from decimal import Decimal

    from ovenleaf.domain.scaling import Scale

GRAMS = "g"
_PLACES = 4  # of an ounce, so that the smallest line and a total with it still add up


def weight(grams: Decimal, unit: str = GRAMS) -> str:
    """A weight in a sentence.

    >>> from decimal import Decimal
    >>> weight(Decimal("470.5")), weight(Decimal(2040), "oz")
    ('470.5 g', '4 lb 7.96 oz')
    """
    if unit == GRAMS:
        return f"{plain(grams)} g"
    places = 2 if grams >= GRAMS_PER[Unit.OZ] / 10 else _PLACES
    return " ".join(filter(None, _pounds(rounded(grams / GRAMS_PER[Unit.OZ], places))))


def cells(grams: Decimal, unit: str) -> tuple[str, ...]:
    """The same for a table: one cell in g, two in lb and oz, so that pounds and ounces stand under one another.

    >>> from decimal import Decimal
    >>> cells(Decimal("907.18474"), "oz"), cells(Decimal("283.49523125"), "oz")
    (('2 lb', '0.00 oz'), ('', '10.00 oz'))
    """
    return (weight(grams),) if unit == GRAMS else _pounds(rounded(grams / GRAMS_PER[Unit.OZ], _PLACES))


def as_weighed(grams: Decimal, scale: Scale, unit: str = GRAMS) -> str:
    """The same of what is weighed out on `scale`, with as many decimals as it shows there.

    >>> from decimal import Decimal
    >>> from ovenleaf.domain.scaling import Scale
    >>> as_weighed(Decimal(7), Scale()), as_weighed(Decimal(470), Scale()), as_weighed(Decimal("0.25"), Scale())
    ('7.0 g', '470 g', '0.25 g')
    """
    return _as_shown(grams, scale) if unit == GRAMS else weight(grams, unit)


def cells_weighed(grams: Decimal, scale: Scale, unit: str) -> tuple[str, ...]:
    """The same for a table."""
    return (_as_shown(grams, scale),) if unit == GRAMS else cells(grams, unit)


def _as_shown(grams: Decimal, scale: Scale) -> str:
    whole, _, part = plain(grams).partition(".")
    _, _, shown = plain(scale.step_at(grams)).partition(".")
    part = part.ljust(len(shown), "0")
    return f"{whole}{'.' if part else ''}{part} g"


def columns(unit: str) -> str:
    """What such cells are in a table's spec."""
    return ">" if unit == GRAMS else ">>"


def _pounds(ounces: Decimal) -> tuple[str, str]:
    pounds, rest = divmod(ounces, 16)
    whole, _, part = plain(rest).partition(".")
    return f"{plain(pounds)} lb" if pounds else "", f"{whole}.{part.ljust(2, '0')} oz"
