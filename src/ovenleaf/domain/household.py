"""Grams in cups and spoons, for a kitchen without a scale; always beside the grams, never instead."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain.numbers import CONTEXT

if TYPE_CHECKING:
    from ovenleaf.domain.ingredients import Ingredient

# What people own, and the finest part of it they can measure.
_SPOONS = (("cup", Decimal("0.25")), ("tablespoon", Decimal("0.5")), ("teaspoon", Decimal("0.125")))
_FRACTIONS = {
    Decimal("0.125"): "1/8",
    Decimal("0.25"): "1/4",
    Decimal("0.375"): "3/8",
    Decimal("0.5"): "1/2",
    Decimal("0.625"): "5/8",
    Decimal("0.75"): "3/4",
    Decimal("0.875"): "7/8",
}


def household(grams: Decimal, ingredient: Ingredient) -> str:
    """About how many cups, spoons, packets or pieces `grams` are; "" where no list knows.

    The largest measure of which there is at least its finest part, rounded to that part.
    """
    if ingredient.piece and grams >= ingredient.piece / 2:
        return _told(CONTEXT.divide(grams, ingredient.piece), Decimal("0.5"), ingredient.name)
    for name, part in _SPOONS:
        weight: Decimal | None = getattr(ingredient, name)
        if weight and grams >= weight * part:
            return _told(CONTEXT.divide(grams, weight), part, name)
    return "a small pinch" if ingredient.teaspoon and grams else ""


def _told(count: Decimal, part: Decimal, name: str) -> str:
    parts = max(Decimal(1), CONTEXT.divide(count, part).quantize(Decimal(1), rounding=ROUND_HALF_UP))
    whole, rest = divmod(parts * part, 1)
    figures = " ".join(filter(None, (str(int(whole)) if whole else "", _FRACTIONS.get(rest, ""))))
    return f"{figures} {name}{'s' if parts * part > 1 else ''}"
