"""The totals of a formula, in percent of all the flour, each saying what it counts.

Flour's own moisture is never counted. Composition comes from the ingredient list.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.domain.ingredients import Ingredient, Kind, Pantry
from ovenleaf.domain.numbers import HUNDRED, ZERO, portion

if TYPE_CHECKING:
    from collections.abc import Callable
    from decimal import Decimal

    from ovenleaf.domain.percent import Share, Worked


@dataclass(frozen=True, slots=True, kw_only=True)
class Totals:
    """Percent of all the flour throughout. The `..._from` rows say which items bring how much, largest first.

    `not_known` names the items of which something is not known and so is not counted, each with what.
    """

    water_poured: Decimal
    all_water: Decimal
    all_water_from: tuple[tuple[str, Decimal], ...]
    salt: Decimal
    fat: Decimal
    fat_from: tuple[tuple[str, Decimal], ...]
    added_sugar: Decimal
    added_sugar_from: tuple[tuple[str, Decimal], ...]
    milk_sugar: Decimal
    milk_sugar_from: tuple[tuple[str, Decimal], ...]
    yeast_as_instant: Decimal
    prefermented_flour: Decimal
    dough_yield: Decimal
    total: Decimal
    not_known: tuple[tuple[str, tuple[str, ...]], ...]


def totals(worked: Worked, pantry: Pantry) -> Totals:
    """Sum the whole formula up.

    - water as poured: the lines that are water.
    - all water: that and the water inside milk, egg, butter, honey, yeast, cultures; not inside
      inclusions, which keep it.
    - fat, added sugar, milk sugar: from everything but flour and yeast (yeast does not eat milk sugar).
    - salt: the salt lines whole, and what salt stands in anything that does not keep it to itself.
    - yeast: as the instant yeast that does the same work.
    - prefermented flour: what counts is whether the part holds yeast or a culture.
    - dough yield: 100 x (flour + all water) / flour.
    """
    water = _rows(worked.whole, pantry, lambda i: i.water_told if _gives_water(i) else ZERO)
    fat = _rows(worked.whole, pantry, lambda i: (i.fat or ZERO) if _counts_inside(i) else ZERO)
    milk_sugar = _rows(worked.whole, pantry, lambda i: i.milk_sugar if _counts_inside(i) else ZERO)
    sugar = _rows(worked.whole, pantry, lambda i: _added_sugar(i) if _counts_inside(i) else ZERO)
    all_water = _sum(water)
    return Totals(
        water_poured=_sum(_rows(worked.whole, pantry, lambda i: HUNDRED if i.kind is Kind.WATER else ZERO)),
        all_water=all_water,
        all_water_from=water,
        salt=_sum(_rows(worked.whole, pantry, _salt)),
        fat=_sum(fat),
        fat_from=fat,
        added_sugar=_sum(sugar),
        added_sugar_from=sugar,
        milk_sugar=_sum(milk_sugar),
        milk_sugar_from=milk_sugar,
        yeast_as_instant=_sum(_rows(worked.whole, pantry, _instant)),
        prefermented_flour=prefermented(worked, pantry),
        dough_yield=HUNDRED + all_water,
        total=worked.total,
        not_known=_not_known(worked.whole, pantry),
    )


def prefermented(worked: Worked, pantry: Pantry) -> Decimal:
    """The flour in leavened parts and in cultures that go into the final dough, in percent of all the flour."""
    in_parts = sum(
        (part.flour for part in worked.parts if part.leavened and not _inside_leavened(part.into, worked)), ZERO
    )
    added = [share for share in worked.final if worked.part(share.item) is None]
    cultures = [share for share in added if pantry.get(share.item).kind is Kind.CULTURE]
    return in_parts + sum((portion(pantry.get(share.item).flour, share.pct) for share in cultures), ZERO)


def _inside_leavened(name: str, worked: Worked) -> bool:
    """A part that flows into another leavened part is counted there."""
    part = worked.part(name)
    return part is not None and part.leavened


def _rows(
    whole: tuple[Share, ...], pantry: Pantry, per_100: Callable[[Ingredient], Decimal]
) -> tuple[tuple[str, Decimal], ...]:
    rows = [(share.item, portion(per_100(pantry.get(share.item)), share.pct)) for share in whole]
    return tuple(sorted(((item, pct) for item, pct in rows if pct), key=lambda row: -row[1]))


def _sum(rows: tuple[tuple[str, Decimal], ...]) -> Decimal:
    return sum((pct for _, pct in rows), ZERO)


def _gives_water(ingredient: Ingredient) -> bool:
    """Flour's own moisture is never counted, nor the trace in salt (common practice, no source)."""
    return ingredient.reaches_dough and ingredient.kind not in (Kind.FLOUR, Kind.SALT)


def _counts_inside(ingredient: Ingredient) -> bool:
    return ingredient.reaches_dough and ingredient.kind not in (Kind.FLOUR, Kind.YEAST, Kind.CULTURE)


def _added_sugar(ingredient: Ingredient) -> Decimal:
    return ZERO if ingredient.sugars is None else ingredient.sugars - ingredient.milk_sugar


def _salt(ingredient: Ingredient) -> Decimal:
    """A salt line counts whole, as bakers do; salted butter by the salt inside it; olives keep theirs."""
    if ingredient.kind is Kind.SALT:
        return HUNDRED
    return ingredient.salt or ZERO if ingredient.reaches_dough else ZERO


# Of these nothing but what they are is looked for; what is in no list is told of elsewhere.
_PLAIN = frozenset({Kind.FLOUR, Kind.WATER, Kind.SALT, Kind.YEAST, Kind.CULTURE})


def _not_known(whole: tuple[Share, ...], pantry: Pantry) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """What would be counted of an item if only the list had it."""
    rows = [(share.item, pantry.get(share.item)) for share in whole]
    return tuple((item, missing) for item, one in rows if one.known and (missing := _missing(one)))


def _missing(ingredient: Ingredient) -> tuple[str, ...]:
    if ingredient.kind is Kind.YEAST:
        return ("water",) if ingredient.water is None else ()
    if ingredient.kind in _PLAIN or not ingredient.reaches_dough:
        return ()
    return tuple(name for name in ("water", "fat", "sugars", "salt") if getattr(ingredient, name) is None)


def _instant(ingredient: Ingredient) -> Decimal:
    return ZERO if ingredient.instant is None else ingredient.instant * HUNDRED
