"""Another yeast, another flour, another preferment for one bake, the whole formula staying what it is."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.book.steps.weighing import CannotWeigh
from ovenleaf.domain.dough import work_out
from ovenleaf.domain.edits import meant
from ovenleaf.domain.faults import FormulaFault
from ovenleaf.domain.formula import Line
from ovenleaf.domain.ingredients import Kind, Pantry, folded
from ovenleaf.domain.measures import grams
from ovenleaf.domain.quantity import Amount, AmountFault, Unit, amount
from ovenleaf.domain.sheet import Sheet, sheet
from ovenleaf.domain.trial import SWAP
from ovenleaf.domain.yeast import Swap, swap

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from ovenleaf.domain.formula import Formula
    from ovenleaf.domain.trial import Trial

    Change = Callable[[tuple[Line, ...]], tuple[Line, ...]]


def swapped(on: Sheet, typed: Sequence[str], pantry: Pantry) -> tuple[Sheet, tuple[Swap, ...], tuple[str, ...]]:
    """The sheet after the swaps, those of yeast with their arithmetic, the others in words. Raises CannotWeigh.

    `fresh yeast` swaps the formula's yeast; `strong wheat flour=spelt flour` a flour for as much of
    another; `poolish=60%` the hydration of a preferment at a constant whole.
    """
    swaps: list[Swap] = []
    others: list[str] = []
    for one in typed:
        made: list[Swap] = []
        old, _, new = (part.strip() for part in one.rpartition("="))
        if any(part.name == old for part in on.formula.preferments):
            formula = _preferment(on.formula, old, new, pantry)
            others.append(f"the {old} has {new.removesuffix('%').strip()} % of its own flour in water")
        elif not old or Kind.YEAST in (pantry.get(old).kind, pantry.get(new).kind):
            formula, made = _yeast(on, new, old, pantry)
        else:
            formula = _flour(on, old, new, pantry)
            others.append(f"{new} stands in for {old}, weight for weight")
        swaps += made
        try:
            worked = work_out(formula, pantry)
        except FormulaFault:
            raise CannotWeigh("swap", f"with {one} the dough does not come out.") from None
        on = sheet(formula, worked, pantry, on.revision, shared_number=on.shared_number)
    return on, tuple(swaps), tuple(others)


def as_begun(on: Sheet, trial: Trial, pantry: Pantry) -> Sheet:
    """The sheet that a bake is made by: with the swaps it was begun with, where the pantry still has them."""
    told = dict(trial.plan).get(SWAP, "")
    try:
        return swapped(on, told.split("; "), pantry)[0] if told else on
    except CannotWeigh:
        return on


def _yeast(on: Sheet, new: str, old: str, pantry: Pantry) -> tuple[Formula, list[Swap]]:
    """The formula with another yeast everywhere, and water for the weight that is missing or too much."""
    into = pantry.get(new)
    if into.kind is not Kind.YEAST or into.instant is None:
        known = ", ".join(name for name in pantry.names if pantry.get(name).kind is Kind.YEAST)
        raise CannotWeigh("swap", f"{new} is not a yeast, so yeast cannot be swapped for it.", f"Yeasts: {known}.")
    yeasts = [share for share in on.worked.whole if pantry.get(share.item).kind is Kind.YEAST]
    named = meant(old, tuple(share.item for share in yeasts)) if old else [share.item for share in yeasts]
    if not named:
        other = pantry.get(old)
        why = f"{old} is not a yeast" if other.known and other.kind is not Kind.YEAST else ""
        own = ", ".join(share.item for share in yeasts)
        raise CannotWeigh(
            "swap",
            f"{why or f'{on.formula.label} has no {old or Kind.YEAST} to swap'}.",
            f'Its yeast: {own}. Say the new one alone, as in --swap "{new}".' if yeasts else "Leave --swap out.",
        )
    others = [share for share in yeasts if share.item in named and pantry.get(share.item).name != into.name]
    if not others:
        raise CannotWeigh(
            "swap", f"{on.formula.label} is made with {new} as it is.", "Leave --swap out, or name another yeast."
        )
    formula, swaps = on.formula, []
    for share in others:
        made = swap(pantry.get(share.item), into, share.pct)
        swaps.append(made)
        formula = _everywhere(formula, _with_yeast(share.item, made, pantry))
    return formula, swaps


def _everywhere(formula: Formula, change: Change) -> Formula:
    """The formula with every block of lines that go into the dough changed."""
    return replace(
        formula,
        ingredients=change(formula.ingredients),
        preferments=tuple(replace(part, lines=change(part.lines)) for part in formula.preferments),
        soakers=tuple(replace(part, lines=change(part.lines)) for part in formula.soakers),
        stages=tuple(replace(part, lines=change(part.lines)) for part in formula.stages),
    )


def _with_yeast(item: str, made: Swap, pantry: Pantry) -> Change:
    """Every line of the old yeast as the new one; each block's water takes up the difference."""

    def change(lines: tuple[Line, ...]) -> tuple[Line, ...]:
        old = next((_plain(line, pantry) for line in lines if line.item == item and line.amount), None)
        if old is None:
            return lines
        new = replace(old, value=old.value * made.factor)
        changed = [replace(n, item=made.new_item, amount=new, note="") if n.item == item else n for n in lines]
        return _with_water(_merged(changed, pantry), Amount(old.value - new.value, old.unit), pantry)

    return change


def _plain(line: Line, pantry: Pantry) -> Amount:
    """A share as it is, a measure in g."""
    assert line.amount is not None
    if line.amount.is_share:
        return line.amount
    weight = grams(line.amount, pantry.get(line.item))
    assert weight is not None, "a formula that was worked out has a weight for each line"
    return Amount(weight, Unit.G)


def _with_water(lines: tuple[Line, ...], more: Amount, pantry: Pantry) -> tuple[Line, ...]:
    """The lines with so much more water (less, below zero) in the first that is water, or in a line of its own.

    Where none is poured and none can be taken away, the dough is that much heavier; it is scaled as a whole.
    """
    place = next((n for n, line in enumerate(lines) if line.amount and pantry.get(line.item).kind is Kind.WATER), None)
    if place is None:
        return (*lines, Line(item="water", amount=more)) if more.value > 0 else lines
    water = lines[place]
    value = _plain(water, pantry).value + more.value
    if value < 0:
        raise CannotWeigh("swap", "the yeast brings more water than the dough takes.")
    kept = (replace(water, amount=Amount(value, more.unit)),) if value > _TRACE else ()
    return (*lines[:place], *kept, *lines[place + 1 :])


_TRACE = Decimal("0.000000001")  # of water: what a division leaves of none


def _merged(lines: Sequence[Line], pantry: Pantry) -> tuple[Line, ...]:
    """The lines with those of one item added up: a page may have had both yeasts, or both flours."""
    found: dict[str, Line] = {}
    for line in lines:
        name = folded(pantry.get(line.item).name)
        before = found.get(name)
        if before is None or before.amount is None or line.amount is None:
            found[name if before is None else line.item] = line
        else:
            both = _plain(before, pantry), _plain(line, pantry)
            found[name] = replace(before, amount=Amount(both[0].value + both[1].value, both[0].unit))
    return tuple(found.values())


def _flour(on: Sheet, old: str, new: str, pantry: Pantry) -> Formula:
    """As much of another flour; how much water it wants is for the baker to find."""
    flours = tuple(item for item, kind in on.kinds if kind is Kind.FLOUR)
    found = meant(old, flours)
    detail = f"Its flours: {', '.join(flours)}."
    if pantry.get(new).kind is not Kind.FLOUR:
        known = pantry.closest(new)
        hint = f" Did you mean {known[0]}?" if known and not pantry.get(new).known else ""
        raise CannotWeigh("swap", f"{new} is neither a flour nor a yeast.{hint}", "Flours and yeasts can be swapped.")
    if len(found) != 1:
        raise CannotWeigh("swap", f"{on.formula.label} has no flour {old}.", detail)

    def change(lines: tuple[Line, ...]) -> tuple[Line, ...]:
        return _merged([replace(line, item=new) if line.item == found[0] else line for line in lines], pantry)

    return _everywhere(on.formula, change)


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
