"""From what a recipe measures to grams: exactly, by a table with its spread, by a guess that says so, or a question.

Household weights are those of the ingredient list, each with its source. Nothing is guessed silently.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain.card import Sure
from ovenleaf.domain.ingredients import Kind
from ovenleaf.domain.numbers import CONTEXT, ZERO, plain, rounded
from ovenleaf.domain.quantity import MILLILITRES_PER, Unit
from ovenleaf.domain.recipe_measures import PIECE
from ovenleaf.domain.recipe_units import Measures, unit_named

if TYPE_CHECKING:
    from ovenleaf.domain.ingredients import Ingredient, Pantry
    from ovenleaf.domain.recipe_items import Meant
    from ovenleaf.domain.recipe_lines import Heard
    from ovenleaf.domain.recipe_measures import Amount

_MEASURE = {"cup": Unit.CUP, "tablespoon": Unit.TBSP, "teaspoon": Unit.TSP}
BUTTER_STICK = Decimal(113)  # g, USDA SR28 01145
STICK_SOURCE = "USDA SR28 01145"
PINCH = Decimal("0.0625")  # of a teaspoon: a sixteenth, common practice, no source
# What an unlisted spice or leaven by the spoon may weigh, in g to the ml: from a light herb to a heavy powder. A guess.
_SPOONFUL = (Decimal("0.3"), Decimal("0.6"), Decimal("1.0"))
NO_SOURCE = "common practice"  # begins what the list says of a figure that no table weighed
MOST = Decimal(1_000_000)  # g; more than any kitchen bakes at once


@dataclass(frozen=True, slots=True, kw_only=True)
class Weight:
    """So many grams, the least and the most they could be, how they are known."""

    grams: Decimal
    low: Decimal
    high: Decimal
    how: str
    source: str
    sure: Sure


def best_amounts(heard: Heard) -> tuple[Amount, ...]:
    """The measure to go by where a line gives more than one: metric weights, other weights, then what stands first."""
    said = [heard.amounts, *((one,) for one in heard.others)]
    for names in (("g", "kg"), ("oz", "lb")):
        for amounts in said:
            if amounts and all(one.name in names for one in amounts):
                return amounts
    return heard.amounts


def weigh(heard: Heard, meant: Meant, pantry: Pantry, measures: Measures) -> Weight | None:
    """The grams of a line that is clear; None where no list knows them."""
    weights = [_weight(one, meant, pantry, measures) for one in best_amounts(heard)]
    if not weights or None in weights:
        return None
    known = [(amount.part, weight) for amount, weight in zip(best_amounts(heard), weights, strict=True) if weight]
    first = known[0][1]
    total = [sum((part * getattr(one, side) for part, one in known), ZERO) for side in ("grams", "low", "high")]
    return Weight(grams=total[0], low=total[1], high=total[2], how=first.how, source=first.source, sure=first.sure)


def _weight(amount: Amount, meant: Meant, pantry: Pantry, measures: Measures) -> Weight | None:
    middle = (amount.low + amount.high) / 2
    one = _each(amount, meant, pantry, measures)
    if one is None:
        return None
    ranged = amount.low != amount.high
    how = f"the middle of {_range(amount)}, {one.how}" if ranged else one.how
    sure = Sure.GUESSED if ranged else one.sure
    return Weight(
        grams=middle * one.grams,
        low=amount.low * one.low,
        high=amount.high * one.high,
        how=how,
        source=one.source,
        sure=sure,
    )


def _range(amount: Amount) -> str:
    return f"{plain(amount.low)} to {plain(amount.high)}"


def _each(amount: Amount, meant: Meant, pantry: Pantry, measures: Measures) -> Weight | None:
    """What one of the unit weighs of this ingredient."""
    unit = amount.unit
    if unit is not None and unit.grams is not None:
        return _exactly(
            unit.grams,
            "as on the card"
            if unit.name in ("g", "kg")
            else f"by weight, {plain(unit.grams.quantize(Decimal('0.01')))} g a {unit.name}",
        )
    if amount.name == PIECE:
        each = meant.ingredient.piece
        return None if each is None else _table(each, meant.ingredient, "piece", f"table, {plain(each)} g each")
    if unit is None or unit.name == "cake":
        return None
    if unit.name == "packet":
        return _packet(meant, pantry)
    if unit.name == "stick":
        butter = meant.ingredient.name in ("unsalted butter", "salted butter", "margarine")
        how = f"table, stick {plain(BUTTER_STICK)} g"
        return _flat(BUTTER_STICK, how, STICK_SOURCE, Sure.TABLE) if butter else None
    if unit.name == "pinch":
        return _pinch(meant, pantry, measures)
    return _volume(unit.name, unit.millilitres(measures), meant, pantry)


def _exactly(grams: Decimal, how: str) -> Weight:
    return Weight(grams=grams, low=grams, high=grams, how=how, source="", sure=Sure.CARD)


def _flat(grams: Decimal, how: str, source: str, sure: Sure) -> Weight:
    return Weight(grams=grams, low=grams, high=grams, how=how, source=source, sure=sure)


def _table(grams: Decimal, ingredient: Ingredient, fact: str, how: str) -> Weight:
    low, high = ingredient.spread(fact) or (grams, grams)
    source = ingredient.source_of(fact)
    if ingredient.own_weight(fact):
        how = how.replace("table, ", "weighed, ", 1)
        return Weight(grams=grams, low=grams, high=grams, how=how, source=source, sure=Sure.WEIGHED)
    return Weight(grams=grams, low=low, high=high, how=how, source=source, sure=Sure.TABLE)


def _packet(meant: Meant, pantry: Pantry) -> Weight | None:
    """A packet of yeast; of instant yeast, of which no table weighed one, that of active dry yeast."""
    if meant.ingredient.kind is not Kind.YEAST:
        return None
    if meant.ingredient.packet is not None:
        return _table(
            meant.ingredient.packet, meant.ingredient, "packet", f"table, packet {plain(meant.ingredient.packet)} g"
        )
    other = pantry.get("active dry yeast")
    if other.packet is None or meant.ingredient.name == "fresh yeast":
        return None
    how = f"guess, from a packet of active dry yeast, {plain(other.packet)} g"
    return _flat(other.packet, how, other.source_of("packet"), Sure.GUESSED)


def _pinch(meant: Meant, pantry: Pantry, measures: Measures) -> Weight | None:
    """A sixteenth of a teaspoon, from half of that to twice that much: common practice, no source."""
    spoon = _volume("teaspoon", unit_named("teaspoon").millilitres(measures), meant, pantry)
    if spoon is None:
        return None
    each = spoon.grams * PINCH
    how = "guess, a sixteenth of a teaspoon, common practice"
    return Weight(grams=each, low=each / 2, high=each * 2, how=how, source="no source", sure=Sure.GUESSED)


def _volume(name: str, millilitres: Decimal | None, meant: Meant, pantry: Pantry) -> Weight | None:
    """By the table's own measure, or worked from another one by volume; else from a like ingredient, as a guess."""
    if millilitres is None:
        return None
    one = meant.ingredient
    own = _by_table(name, millilitres, one, meant.how)
    if own is not None:
        return own
    like = _like(meant, pantry)
    if like is not None and (other := _by_table(name, millilitres, like, meant.how)) is not None:
        how = f"guess, from {like.name}, {other.how.partition(', ')[2] or other.how}"
        return Weight(
            grams=other.grams, low=other.low, high=other.high, how=how, source=other.source, sure=Sure.GUESSED
        )
    if not one.known and name in ("teaspoon", "tablespoon"):
        low, middle, high = (millilitres * each for each in _SPOONFUL)
        how = f"guess, {name} {_figures(middle)} g"
        return Weight(grams=middle, low=low, high=high, how=how, source="no source", sure=Sure.GUESSED)
    return None


def _by_table(name: str, millilitres: Decimal, one: Ingredient, said: str) -> Weight | None:
    as_said = _otherwise(name, millilitres, one, said)
    if as_said is not None:
        return as_said
    for measure in (name, "cup", "tablespoon", "teaspoon"):
        weight: Decimal | None = getattr(one, measure, None)
        if weight is not None and (one.density is None or measure == name):
            factor = CONTEXT.divide(millilitres, MILLILITRES_PER[_MEASURE[measure]])
            if one.own_weight(measure) and measure == name:
                factor = Decimal(1)  # it was this kitchen's own cup that was weighed, whichever country's it is
            low, high = one.spread(measure) or (weight, weight)
            each = weight * factor
            mine, guessed = one.own_weight(measure), one.source_of(measure).startswith(NO_SOURCE)
            how = (
                f"{'weighed' if mine else 'guess' if guessed else 'table'}, {filled(measure, one)}"
                f"{name if factor == 1 else f'{_figures(millilitres)} ml at a {measure} of'} {plain(weight)} g"
            )
            return Weight(
                grams=each,
                low=low * factor,
                high=high * factor,
                how=how,
                source=one.source_of(measure),
                sure=Sure.WEIGHED if mine else Sure.GUESSED if guessed else Sure.TABLE,
            )
    if one.density is None:
        return None
    each = CONTEXT.multiply(millilitres, one.density)
    how = f"by volume, {f'{name} {_figures(millilitres)} ml' if name in _MEASURE else f'{plain(one.density)} g/ml'}"
    return _flat(each, how, f"{plain(one.density)} g/ml, {one.source_of('density')}", Sure.TABLE)


def filled(measure: str, one: Ingredient) -> str:
    """A cup of flour by the table is one that was dipped into the bag."""
    return "dipped " if measure == "cup" and "dipped" in one.note else ""


def _otherwise(name: str, millilitres: Decimal, one: Ingredient, said: str) -> Weight | None:
    """The measure filled as the recipe says: sifted, chopped, packed."""
    said = {"grated": "shredded"}.get(said, said)
    found = next((other for other in one.weighed_otherwise if said and other.how.split(",")[0] == said), None)
    if found is None or found.measure not in _MEASURE:
        return None
    factor = CONTEXT.divide(millilitres, MILLILITRES_PER[_MEASURE[found.measure]])
    how = f"table, {found.how} {name} {_figures(found.grams * factor)} g"
    return _flat(found.grams * factor, how, found.source, Sure.TABLE)


def _like(meant: Meant, pantry: Pantry) -> Ingredient | None:
    """An ingredient of the same kind and last word that was weighed: green olives as olives, spelt flour as flour."""
    one = meant.ingredient
    last = one.name.split()[-1]
    other = pantry.get(last)
    if not one.known or not other.known or other.name == one.name or other.kind is not one.kind:
        return None
    return other if one.kind not in (Kind.YEAST, Kind.CULTURE) else None


def _figures(value: Decimal) -> str:
    """About as exact as such a thing is known: `237`, `28.35`, `4.9`."""
    return plain(rounded(value, 0 if value >= 100 else 2 if value > 20 else 1))
