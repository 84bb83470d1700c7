"""Grams in cups and spoons, for a kitchen without a scale; always beside the grams, never instead."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain.ingredients import folded
from ovenleaf.domain.numbers import CONTEXT
from ovenleaf.domain.quantity import MILLILITRES_PER, Unit

if TYPE_CHECKING:
    from ovenleaf.domain.ingredients import Ingredient
    from ovenleaf.domain.quantity import Amount

# What people own, and the finest part of it they can measure.
_SPOONS = (("cup", Decimal("0.25")), ("tablespoon", Decimal("0.5")), ("teaspoon", Decimal("0.125")))
_TEASPOONS = {"cup": 48, "tablespoon": 3, "teaspoon": 1}  # in each, by volume: US measures
_UNITS = {"cup": Unit.CUP, "tablespoon": Unit.TBSP, "teaspoon": Unit.TSP}
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


def in_measures(grams: Decimal, ingredient: Ingredient) -> str:
    """The same as a range where the sources of the list differ on what a measure weighs.

    495 g of strong wheat flour are 3 1/2 cups dipped (USDA SR28 20083, 137 g) and 4 1/4 sifted (USDA Home
    Economics Research Report 41, 117 g): `3 1/2 to 4 1/4 cups`.
    """
    name, weights = _measured_by(grams, ingredient)
    if not weights or name == "piece":
        return household(grams, ingredient)
    part = dict(_SPOONS)[name]
    few, many = (_parts(CONTEXT.divide(grams, one), part) for one in (max(weights), min(weights)))
    if few != many:
        return f"{_figures(few)} to {_words(many, name)}"
    return _near(CONTEXT.divide(grams, max(weights)), few, name)


def _measured_by(grams: Decimal, ingredient: Ingredient) -> tuple[str, tuple[Decimal, ...]]:
    """The largest measure of which there is enough, and what it weighs by each source, in g; () where none is."""
    if ingredient.piece and grams >= ingredient.piece / 2:
        return "piece", (ingredient.piece,)
    for name, part in _SPOONS:
        weights = _weights(ingredient, name)
        # Half a tablespoon is a coarse step where teaspoons are known.
        least = Decimal(1) if name == "tablespoon" and _weights(ingredient, "teaspoon") else part
        if weights and grams >= max(weights) * least:
            return name, weights
    return "teaspoon", ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """What one measure of an item is taken to weigh, in g: the least and the most of its `sources`."""

    item: str
    measure: str
    low: Decimal
    high: Decimal
    sources: tuple[str, ...]


def taken(grams: Decimal, ingredient: Ingredient, item: str) -> Taken | None:
    """What `in_measures` goes by, under the name `item`; None where no list knows a small enough measure."""
    name, weights = _measured_by(grams, ingredient)
    if not weights:
        return None
    others = [one.source for one in ingredient.weighed_otherwise if one.measure in _TEASPOONS and name != "piece"]
    fact = name if getattr(ingredient, name) is not None else "density"
    own = [] if others and fact == "density" else [ingredient.source_of(fact)]
    sources = tuple(dict.fromkeys(filter(None, (*own, *others))))
    return Taken(item=item, measure=name, low=min(weights), high=max(weights), sources=sources)


_NEAR = Decimal("0.04")  # how far off a count of cups may be before spoons are told beside it


def _near(exact: Decimal, count: Decimal, name: str) -> str:
    """So many of a measure; cups that would be far off with the tablespoons (16 to the cup) that are missing."""
    if name != "cup" or abs(count - exact) <= exact * _NEAR:
        return _words(count, name)
    cups = exact - exact % Decimal("0.25")
    spoons = _words(_parts((exact - cups) * 16, Decimal("0.5")), "tablespoon")
    return f"{_words(cups, name)} and {spoons}"


def _weights(ingredient: Ingredient, name: str) -> tuple[Decimal, ...]:
    """What such a measure of it weighs by each source, in g; a tablespoon is three teaspoons, a cup 48.

    Where no table weighed it, its density tells.
    """
    listed: Decimal | None = getattr(ingredient, name)
    others = (one for one in ingredient.weighed_otherwise if one.measure in _TEASPOONS)
    weights = [CONTEXT.divide(one.grams * _TEASPOONS[name], Decimal(_TEASPOONS[one.measure])) for one in others]
    if listed is not None:
        weights.append(listed)
    elif not weights and ingredient.density is not None and not _weighed(ingredient):
        weights.append(CONTEXT.multiply(MILLILITRES_PER[_UNITS[name]], ingredient.density))
    return tuple(weights)


def _weighed(ingredient: Ingredient) -> bool:
    """True where a table weighed any measure of it."""
    return any(getattr(ingredient, name) is not None for name in _TEASPOONS)


def _told(count: Decimal, part: Decimal, name: str) -> str:
    return _words(_parts(count, part), name)


def _parts(count: Decimal, part: Decimal) -> Decimal:
    """The nearest count in whole parts, one part at least."""
    return max(Decimal(1), CONTEXT.divide(count, part).quantize(Decimal(1), rounding=ROUND_HALF_UP)) * part


def _words(count: Decimal, name: str) -> str:
    return f"{_figures(count)} {name}{'s' if count > 1 else ''}"


def _figures(count: Decimal) -> str:
    whole, rest = divmod(count, 1)
    return " ".join(filter(None, (str(int(whole)) if whole else "", _FRACTIONS.get(rest, ""))))


def unnamed_salt(item: str) -> bool:
    """True for salt of which a page names no kind: a spoon of flakes weighs half of what one of table salt does."""
    return folded(item) == SALT


def salt_by_spoon(item: str, amount: Amount | None) -> bool:
    """True for a spoon or a cup of salt of which no kind is named."""
    return unnamed_salt(item) and amount is not None and amount.unit in MILLILITRES_PER


SALT = "salt"  # of no kind
WHICH_SALT = "A spoon of flakes weighs half of one of table salt, so which salt is it?"
