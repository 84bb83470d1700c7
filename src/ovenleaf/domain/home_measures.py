"""Cups and spoons for readers at home: from the same grams as the weights, one measure a line."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from ovenleaf.domain.household import in_measures, unnamed_salt
from ovenleaf.domain.ingredients import Kind

if TYPE_CHECKING:
    from collections.abc import Sequence
    from decimal import Decimal

    from ovenleaf.domain.ingredients import Ingredient, Pantry
    from ovenleaf.domain.scaling import Bowl

SPOONED = "spooned"
MOST_SPOONS = 8  # nobody counts more of them


def by_the_spoon(bowls: Sequence[Bowl], pantry: Pantry) -> tuple[tuple[str, str], ...]:
    """Cups and spoons for each line that is no bowl itself, by `bowl:item`; "" where no list knows.

    A levain is seeded with what has its name.
    """
    names = {bowl.name for bowl in bowls}
    return tuple(
        (f"{bowl.name}:{line.item}", home_measure(line.grams, pantry.get(line.item), line.item))
        for bowl in bowls
        for line in bowl.lines
        if line.item not in names - {bowl.name}
    )


def home_measure(grams: Decimal, ingredient: Ingredient, item: str) -> str:
    """About how many cups or spoons: of flour as spooned into the cup where a source has that, of salt of no named
    kind as table salt; a range where sources differ."""
    spooned = next((one for one in ingredient.weighed_otherwise if (one.measure, one.how) == ("cup", SPOONED)), None)
    if spooned is not None:
        told = in_measures(grams, replace(ingredient, cup=spooned.grams, weighed_otherwise=()))
        return f"{told}, {SPOONED}" if "cup" in told else told
    if ingredient.kind is not Kind.EGG:
        ingredient = replace(ingredient, piece=None)  # nobody counts half olives
    if ingredient.cup is None and ingredient.tablespoon and grams > MOST_SPOONS * ingredient.tablespoon:
        return ""
    told = in_measures(grams, ingredient)
    return f"{told} of table salt" if told and unnamed_salt(item) else told
