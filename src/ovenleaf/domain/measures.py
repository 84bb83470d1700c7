"""From what a baker measures to grams: weights exactly, volumes and pieces through the ingredient list."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain.numbers import CONTEXT
from ovenleaf.domain.quantity import GRAMS_PER, MILLILITRES_PER, Amount, Unit

if TYPE_CHECKING:
    from decimal import Decimal

    from ovenleaf.domain.ingredients import Ingredient


def grams(amount: Amount, ingredient: Ingredient) -> Decimal | None:
    """The weight of `amount` of `ingredient` in g, or None where no list knows it.

    A spoon or cup takes the household weight of the list, or else its volume times the density.
    Source of the factors: the international pound; the US gallon of 231 cubic inches.

    50 ml of whole milk at 1.03 g/ml weighs 51.5 g.
    """
    if amount.unit in GRAMS_PER:
        return CONTEXT.multiply(amount.value, GRAMS_PER[amount.unit])
    if amount.unit is Unit.PIECE:
        return None if ingredient.piece is None else amount.value * ingredient.piece
    if (household := _household(amount.unit, ingredient)) is not None:
        return amount.value * household
    if amount.unit in MILLILITRES_PER and (density := _density(ingredient)) is not None:
        return CONTEXT.multiply(amount.value * MILLILITRES_PER[amount.unit], density)
    return None


def _household(unit: Unit, ingredient: Ingredient) -> Decimal | None:
    weights = {Unit.CUP: ingredient.cup, Unit.TBSP: ingredient.tablespoon, Unit.TSP: ingredient.teaspoon}
    return weights.get(unit)


def _density(ingredient: Ingredient) -> Decimal | None:
    """The density in g/ml: as listed, or worked back from the cup or the tablespoon."""
    if ingredient.density is not None:
        return ingredient.density
    for unit in (Unit.CUP, Unit.TBSP, Unit.TSP):
        if (household := _household(unit, ingredient)) is not None:
            return CONTEXT.divide(household, MILLILITRES_PER[unit])
    return None


def in_grams(value: Decimal, unit: Unit) -> Decimal:
    """A weight in g; the unit must be one of weight."""
    return CONTEXT.multiply(value, GRAMS_PER[unit])
