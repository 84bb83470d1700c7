"""The list of ingredients of a label: by weight, the heaviest first, with what each is made of and its allergens."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.domain.ingredients import Kind
from ovenleaf.domain.numbers import ZERO, portion

if TYPE_CHECKING:
    from decimal import Decimal

    from ovenleaf.domain.formula import Formula
    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.percent import Worked


@dataclass(frozen=True, slots=True, kw_only=True)
class Listed:
    """One ingredient in its place: what it is made of, its allergens, and its weight in percent of all the flour (None
    for what stands outside the dough)."""

    item: str
    parts: tuple[str, ...]
    allergens: tuple[str, ...]
    pct: Decimal | None


def listed(formula: Formula, worked: Worked, loss: Decimal, pantry: Pantry) -> tuple[Listed, ...]:
    """By weight as mixed, but the water that was poured by what of it is left in the bread (Regulation (EU) 1169/2011,
    Annex VII, part A, 1); `loss` is in percent of the dough. What stands outside the dough comes last."""
    gone = portion(loss, worked.total)
    rows = []
    for share in worked.whole:
        water = pantry.get(share.item).kind is Kind.WATER
        left = max(ZERO, share.pct - gone) if water else share.pct
        rows.append(_listed(share.item, left, pantry))
    inside = {share.item for share in worked.whole}
    outside = [line.item for line in formula.outside if line.item not in inside]
    rows.sort(key=lambda row: -(row.pct or ZERO))
    return (*rows, *(_listed(item, None, pantry) for item in dict.fromkeys(outside)))


def _listed(item: str, pct: Decimal | None, pantry: Pantry) -> Listed:
    one = pantry.get(item)
    named = [word for word in one.allergens if word not in ("gluten", "tree nuts")]
    return Listed(
        item=item,
        parts=tuple(part for part, _ in one.made_of if part != item),
        allergens=tuple(named or one.allergens),
        pct=pct,
    )
