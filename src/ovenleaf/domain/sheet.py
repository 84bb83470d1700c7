"""A formula worked out, with its totals: what every screen of a formula is made from."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.domain.formula import Formula, all_lines
from ovenleaf.domain.quantity import Unit
from ovenleaf.domain.totals import Totals, totals

if TYPE_CHECKING:
    from decimal import Decimal

    from ovenleaf.domain.ingredients import Kind, Pantry
    from ovenleaf.domain.percent import Worked
    from ovenleaf.domain.revision import RevisionName


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A formula worked out, with the revision it is (None for a page that is not kept yet).

    `kinds` says what each item of the whole is; `pieces` what one piece of an item weighs, in g;
    `new_items` names those that no list knows and that count as neither flour nor water; `allergens`
    are those of the listed items, washes and toppings included; `settled`: a later revision answers what is open in it.
    """

    formula: Formula
    worked: Worked
    totals: Totals
    revision: RevisionName | None
    kinds: tuple[tuple[str, Kind], ...]
    pieces: tuple[tuple[str, Decimal], ...] = ()
    new_items: tuple[str, ...] = ()
    allergens: tuple[str, ...] = ()
    draft: bool = False
    shared_number: bool = False
    settled: bool = False


def sheet(
    formula: Formula,
    worked: Worked,
    pantry: Pantry,
    revision: RevisionName | None,
    *,
    draft: bool = False,
    shared_number: bool = False,
    settled: bool = False,
) -> Sheet:
    """All that a screen of this formula needs."""
    lines = {line.item: line for _, line in all_lines(formula)}
    counted = [item for item, line in lines.items() if line.amount and line.amount.unit is Unit.PIECE]
    return Sheet(
        formula=formula,
        worked=worked,
        totals=totals(worked, pantry),
        revision=revision,
        kinds=tuple((share.item, pantry.get(share.item).kind) for share in worked.whole),
        pieces=tuple((item, each) for item in counted if (each := pantry.get(item).piece) is not None),
        new_items=tuple(sorted(item for item in lines if not pantry.get(item).known)),
        allergens=tuple(dict.fromkeys(a for item in lines for a in pantry.get(item).allergens)),
        draft=draft,
        shared_number=shared_number,
        settled=settled,
    )
