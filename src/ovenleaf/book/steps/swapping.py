"""Another yeast, another flour, another preferment for one bake, the whole formula staying what it is."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from ovenleaf.book.steps.weighing import CannotWeigh
from ovenleaf.domain.dough import work_out
from ovenleaf.domain.edits import meant
from ovenleaf.domain.faults import FormulaFault
from ovenleaf.domain.formula import Line
from ovenleaf.domain.ingredients import Kind, Pantry
from ovenleaf.domain.numbers import ZERO
from ovenleaf.domain.quantity import Amount, AmountFault, Unit, amount
from ovenleaf.domain.sheet import Sheet, sheet
from ovenleaf.domain.yeast import Swap, swap

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ovenleaf.domain.formula import Formula


def swapped(on: Sheet, typed: Sequence[str], pantry: Pantry) -> tuple[Sheet, tuple[Swap, ...]]:
    """The sheet after the swaps, and those of yeast with their arithmetic. Raises CannotWeigh.

    `fresh yeast` swaps the formula's yeast; `strong wheat flour=spelt flour` a flour for as much of
    another; `poolish=60%` the hydration of a preferment at a constant whole.
    """
    swaps: list[Swap] = []
    for one in typed:
        old, equals, new = one.partition("=")
        formula = on.formula
        if not equals:
            formula, made = _yeast(on, one.strip(), "", pantry)
            swaps += made
        elif any(part.name == old.strip() for part in formula.preferments):
            formula = _preferment(formula, old.strip(), new.strip(), pantry)
        elif pantry.get(new.strip()).kind is Kind.YEAST:
            formula, made = _yeast(on, new.strip(), old.strip(), pantry)
            swaps += made
        else:
            formula = _flour(on, old.strip(), new.strip(), pantry)
        try:
            worked = work_out(formula, pantry)
        except FormulaFault:
            raise CannotWeigh("swap", f"with {one} the dough does not come out.") from None
        on = sheet(formula, worked, pantry, on.revision, shared_number=on.shared_number)
    return on, tuple(swaps)


def _yeast(on: Sheet, new: str, old: str, pantry: Pantry) -> tuple[Formula, list[Swap]]:
    """The formula with another yeast everywhere, and water for the weight that is missing or too much."""
    into = pantry.get(new)
    if into.instant is None:
        known = ", ".join(name for name in pantry.names if pantry.get(name).kind is Kind.YEAST)
        raise CannotWeigh("swap", f"{new} is not a yeast, so yeast cannot be swapped for it.", f"Yeasts: {known}.")
    yeasts = [item for item, kind in on.kinds if kind is Kind.YEAST]
    found = meant(old, tuple(yeasts)) if old else tuple(yeasts)
    if not found:
        raise CannotWeigh("swap", f"{on.formula.label} has no {old or 'yeast'} to swap.")
    formula, swaps = on.formula, []
    for item in found:
        pct = next(share.pct for share in on.worked.whole if share.item == item)
        made = swap(pantry.get(item), into, pct)
        swaps.append(made)
        formula = _mapped(formula, item, made, pantry)
    return formula, swaps


def _mapped(formula: Formula, item: str, made: Swap, pantry: Pantry) -> Formula:
    """Every line of the old yeast as the new one; each block's water takes up the difference."""
    return replace(
        formula,
        ingredients=_lines(formula.ingredients, item, made, pantry),
        preferments=tuple(replace(p, lines=_lines(p.lines, item, made, pantry)) for p in formula.preferments),
        stages=tuple(replace(p, lines=_lines(p.lines, item, made, pantry)) for p in formula.stages),
    )


def _lines(lines: tuple[Line, ...], item: str, made: Swap, pantry: Pantry) -> tuple[Line, ...]:
    old = next((line.amount for line in lines if line.item == item and line.amount is not None), None)
    if old is None:
        return lines
    new = Amount(old.value * made.factor, old.unit)
    more = old.value - new.value
    changed = []
    for line in lines:
        if line.item == item:
            changed.append(replace(line, item=made.new_item, amount=new))
        elif line.amount is not None and pantry.get(line.item).kind is Kind.WATER and line.amount.unit is old.unit:
            changed.append(replace(line, amount=Amount(line.amount.value + more, line.amount.unit)))
            more = ZERO
        else:
            changed.append(line)
    if more > 0:  # no water was poured so far, and the dough should stay as heavy
        changed.append(Line(item="water", amount=Amount(more, old.unit)))
    return tuple(changed)


def _flour(on: Sheet, old: str, new: str, pantry: Pantry) -> Formula:
    """As much of another flour; how much water it wants is for the baker to find."""
    flours = tuple(item for item, kind in on.kinds if kind is Kind.FLOUR)
    found = meant(old, flours)
    if len(found) != 1 or pantry.get(new).kind is not Kind.FLOUR:
        what = f"{new} is not a flour" if found else f"{on.formula.label} has no flour {old}"
        raise CannotWeigh("swap", f"{what}.", f"Its flours: {', '.join(flours)}.")

    def lines(given: tuple[Line, ...]) -> tuple[Line, ...]:
        return tuple(replace(line, item=new) if line.item == found[0] else line for line in given)

    formula = on.formula
    return replace(
        formula,
        ingredients=lines(formula.ingredients),
        preferments=tuple(replace(part, lines=lines(part.lines)) for part in formula.preferments),
        stages=tuple(replace(part, lines=lines(part.lines)) for part in formula.stages),
    )


def _preferment(formula: Formula, name: str, typed: str, pantry: Pantry) -> Formula:
    """A preferment as stiff or as soft as wanted; the whole formula stays, the final dough gives the water."""
    try:
        hydration = amount(typed, bare=Unit.SHARE)
    except AmountFault:
        raise CannotWeigh("swap", f"{typed} is no hydration.", f"As in {name}=60%.") from None
    if not hydration.is_share or not hydration.value:
        raise CannotWeigh("swap", f"{typed} is no hydration.", f"As in {name}=60%.")
    parts = []
    for part in formula.preferments:
        lines = part.lines
        if part.name == name:
            if part.takes is None:
                raise CannotWeigh("swap", f"the {name} is in weights; write its new weights on the page instead.")
            lines = tuple(
                replace(line, amount=hydration) if pantry.get(line.item).kind is Kind.WATER else line for line in lines
            )
        parts.append(replace(part, lines=lines))
    return replace(formula, preferments=tuple(parts))
