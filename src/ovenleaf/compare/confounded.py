"""Two revisions and their bakes: what differs between them that could each have made the difference."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.compare.bakes import condition_name, two_bakes
from ovenleaf.domain.figures import pct
from ovenleaf.domain.ingredients import Kind
from ovenleaf.domain.varied import Varied

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from ovenleaf.compare.bakes import BakeRow, Condition
    from ovenleaf.compare.formula_diff import FormulaDiff
    from ovenleaf.domain.sheet import Sheet

    Bakes = Sequence[tuple[Condition, ...]]


def varied(diff: FormulaDiff, after: Sheet, before_bakes: Bakes, after_bakes: Bakes) -> tuple[Varied, ...]:
    """The formula's changes, then conditions in which the bakes of the two sides always differed.

    A condition that was the same in some pair of bakes did not stand in the way there, so it is left out; so is what
    only one side recorded, and what the formula's own change brings with it.
    """
    flours = {item for item, kind in after.kinds if kind in (Kind.FLOUR, Kind.CULTURE)}
    changed = [
        _share(row.item, row.before or Decimal(0), row.after or Decimal(0))
        for row in diff.items
        if row.stage is None and row.change and row.item not in flours
    ]
    named = {thing.name for thing in changed}
    steps = [
        Varied(name=condition_name(row.step, row.field), before=row.before, after=row.after, in_formula=True)
        for row in diff.process
        if row.before and row.after
    ]
    told = named | {f"{row.step} {row.field}".strip() for row in diff.process if row.before and row.after}
    others = [Varied(name=name, before="", after="", in_formula=True) for name in diff.differing if name not in told]
    known = named | {step.name for step in steps}
    apart = _always(before_bakes, after_bakes)
    conditions = [row for row in apart if row.name not in known and not _brought(row.name)]
    return (
        *changed,
        *steps,
        *others,
        *(Varied(name=row.name, before=row.before, after=row.after, in_formula=False) for row in conditions),
    )


def _brought(name: str) -> bool:
    """True for what only acts through the dough's own temperature, or comes of the bake (common practice)."""
    return name in ("room", "core temperature") or name.endswith(", how warm")


def _share(item: str, before: Decimal, after: Decimal) -> Varied:
    return Varied(name=item, before=pct(before), after=pct(after), in_formula=True, shares=(before, after))


def _always(before: Bakes, after: Bakes) -> Iterable[BakeRow]:
    """The conditions that differ in every pair of bakes that both recorded them, as the last two have them."""
    pairs = [two_bakes(one, other) for one in before for other in after]
    alike = {row.name for pair in pairs for row in pair if row.words == "same"}
    return [row for row in pairs[-1] if row.differs and row.name not in alike] if pairs else []
