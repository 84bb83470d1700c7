"""Two formulas compared in baker's percentages: rows to show, and how many changes are independent."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.compare import facts as f
from ovenleaf.compare.changes import Change, changes
from ovenleaf.domain.benchvalues import Value, gap
from ovenleaf.domain.ingredients import LEAVENS, Kind, Pantry
from ovenleaf.domain.numbers import ZERO

if TYPE_CHECKING:
    from collections.abc import Iterable

    from ovenleaf.compare.changes import Key
    from ovenleaf.domain.formula import Formula
    from ovenleaf.domain.sheet import Sheet
    from ovenleaf.domain.totals import Totals


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemRow:
    """One item on both sides, in percent of all the flour (`stage` None) or of its part's own flour.

    None is not in the formula on that side.
    """

    item: str
    stage: str | None
    before: Decimal | None
    after: Decimal | None

    @property
    def change(self) -> Decimal:
        """In points; an item that is not there counts as none of it."""
        return (self.after or ZERO) - (self.before or ZERO)


@dataclass(frozen=True, slots=True, kw_only=True)
class TotalRow:
    """One total on both sides, in percent of all the flour."""

    name: str
    before: Decimal
    after: Decimal

    @property
    def change(self) -> Decimal:
        """In points."""
        return self.after - self.before


@dataclass(frozen=True, slots=True, kw_only=True)
class ProcessRow:
    """One field of one step that differs; "" for a side that does not say it. `words` tells the gap."""

    step: str
    field: str
    before: str
    after: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FormulaDiff:
    """What differs between two formulas. `items` holds every item of the whole, changed or not;
    a part's own rows stand only where its split moved. `differing` names each independent change."""

    items: tuple[ItemRow, ...]
    totals: tuple[TotalRow, ...]
    process: tuple[ProcessRow, ...]
    said: tuple[ProcessRow, ...]
    differing: tuple[str, ...]
    changes: tuple[Change, ...]

    @property
    def independent(self) -> int:
        """How many things differ that could each make a difference to the bread."""
        return len(self.differing)


def compare(before: Sheet, after: Sheet, pantry: Pantry) -> FormulaDiff:
    """Compare two formulas that are worked out."""
    old, new = f.formula_facts(before.formula, before.worked), f.formula_facts(after.formula, after.worked)
    made = changes(old, new)
    steps = _process_rows(before.formula, after.formula, made)
    return FormulaDiff(
        items=(*_whole_rows(old, new), *_part_rows(made)),
        totals=_total_rows(before.totals, after.totals),
        process=steps,
        said=tuple(_said_rows(made)),
        differing=tuple(_differing(made, steps, old, new, pantry)),
        changes=made,
    )


def _pct(value: Decimal | str | None) -> Decimal | None:
    return value if isinstance(value, Decimal) else None


def _whole_rows(old: f.Facts, new: f.Facts) -> tuple[ItemRow, ...]:
    items = dict.fromkeys(key[1] for key in (*old, *new) if key[0] == f.WHOLE)
    return tuple(
        ItemRow(item=i, stage=None, before=_pct(old.get((f.WHOLE, i))), after=_pct(new.get((f.WHOLE, i))))
        for i in items
    )


def _part_rows(made: tuple[Change, ...]) -> tuple[ItemRow, ...]:
    """A part's flour of all the flour, and its own lines, where they moved."""
    rows = []
    for change in made:
        if change.key[0] == f.PART and change.key[2] in (f.TAKES, f.OWN):
            item = f.TAKES if change.key[2] == f.TAKES else change.key[3]
            row = ItemRow(item=item, stage=change.key[1], before=_pct(change.before), after=_pct(change.after))
            rows.append(row)
    return tuple(sorted(rows, key=lambda row: (row.stage or "", row.item != f.TAKES)))


TOTALS = {
    "water as poured": "water_poured",
    "all water": "all_water",
    "salt": "salt",
    "fat": "fat",
    "added sugar": "added_sugar",
    "milk sugar": "milk_sugar",
    "yeast as instant": "yeast_as_instant",
    "prefermented flour": "prefermented_flour",
    "dough yield": "dough_yield",
    "total": "total",
}


def _total_rows(before: Totals, after: Totals) -> tuple[TotalRow, ...]:
    return tuple(
        TotalRow(name=name, before=f.grained(getattr(before, field)), after=f.grained(getattr(after, field)))
        for name, field in TOTALS.items()
    )


def _process_rows(before: Formula, after: Formula, made: tuple[Change, ...]) -> tuple[ProcessRow, ...]:
    order = [name for formula in (after, before) for name in _step_names(formula)]
    gone_or_new = {c.key[1]: c for c in made if c.key[0] == f.PROCESS and len(c.key) == 2}
    rows = [
        ProcessRow(
            step=step,
            field="",
            before="" if change.before is None else _line_of(before, step),
            after="" if change.after is None else _line_of(after, step),
            words="new step" if change.before is None else "left out",
        )
        for step, change in gone_or_new.items()
    ]
    for change in made:
        if change.key[0] == f.PROCESS and len(change.key) == 3 and change.key[1] not in gone_or_new:
            row = _field_row(change, before, after)
            rows += [] if row.words == "same" else [row]  # 77 F for 25 C
    if any(change.key == (f.ORDER,) for change in made) and not gone_or_new:
        rows.append(ProcessRow(step="order of the steps", field="", before="", after="", words="changed"))
    return tuple(sorted(rows, key=lambda row: order.index(row.step) if row.step in order else len(order)))


def _step_names(formula: Formula) -> tuple[str, ...]:
    return tuple(key[1] for key in f.process_facts(formula.process) if key[0] == f.PROCESS and len(key) == 2)


def _line_of(formula: Formula, step: str) -> str:
    """All that a step says, as it was typed; one that says nothing more than its name is there all the same."""
    return formula.process[_step_names(formula).index(step)].line.typed or "there"


def _field_row(change: Change, before: Formula, after: Formula) -> ProcessRow:
    _, step, field = change.key
    return ProcessRow(
        step=step,
        field=field,
        before=str(change.before or ""),
        after=str(change.after or ""),
        words=_gap(step, field, before, after, change),
    )


def _gap(step: str, field: str, before: Formula, after: Formula, change: Change) -> str:
    if change.before is None:
        return "now said"
    if change.after is None:
        return "no longer said"
    values = [_value(formula, step, field) for formula in (before, after)]
    if values[0] is None or values[1] is None:
        return "changed"
    return gap(field, values[0], values[1])


def _value(formula: Formula, step: str, field: str) -> Value | None:
    names = _step_names(formula)
    if step not in names:
        return None
    return formula.process[names.index(step)].line.get(field)


_SAID_GROUPS = {f.NOTE: "note", f.OUTSIDE: "outside the dough", f.SAID: ""}


def _said_rows(made: tuple[Change, ...]) -> Iterable[ProcessRow]:
    """What is said beside the figures: notes, aims, what it makes, what stands outside, how a part rests."""
    for change in made:
        rest = change.key[0] == f.PART and change.key[2] == f.REST
        if change.key[0] not in _SAID_GROUPS and not rest:
            continue
        field = "rest" if rest else _SAID_GROUPS[change.key[0]]
        old, new = str(change.before or ""), str(change.after or "")
        words = "new" if not old else "left out" if not new else "changed"
        yield ProcessRow(step=change.key[1], field=field, before=old, after=new, words=words)


def _differing(
    made: tuple[Change, ...], steps: tuple[ProcessRow, ...], old: f.Facts, new: f.Facts, pantry: Pantry
) -> Iterable[str]:
    """The name of each independent change.

    Changed items that are not flour, one each; changed flours less one, at least one, since what
    one gains another loses; of each part its share, its hydration and its leaven, one each, or one
    for a part that is new or gone; what a part without flour holds, where it moved otherwise than the
    whole; process fields, one each.
    """
    whole = [change.key[1] for change in made if change.key[0] == f.WHOLE]
    flours = [item for item in whole if pantry.get(item).kind is Kind.FLOUR]
    yield from (item for item in whole if item not in flours)
    yield from flours[: max(1, len(flours) - 1)] if flours else ()
    yield from _parts_differing(made, old, new, pantry)
    yield from (change.key[1] for change in made if change.key[0] == f.OUTSIDE)
    yield from (f"{row.step} {row.field}".strip() for row in steps)


def _parts_differing(made: tuple[Change, ...], old: f.Facts, new: f.Facts, pantry: Pantry) -> Iterable[str]:
    names = dict.fromkeys(change.key[1] for change in made if change.key[0] == f.PART)
    parts = {key[1] for key in (*old, *new) if key[0] == f.PART}
    for name in names:
        if ((f.PART, name, f.TAKES) in old) != ((f.PART, name, f.TAKES) in new):
            yield name
            continue
        moved = [change.key[2:] for change in made if change.key[:2] == (f.PART, name)]
        if (f.TAKES,) in moved:
            yield f"share of {name}"
        if (f.HYDRATION,) in moved:
            yield f"hydration of {name}"
        own = [key[1] for key in moved if key[0] == f.OWN and key[1] not in parts - {name}]
        if (f.PART, name, f.HYDRATION) in {**old, **new}:
            yield from _lines_differing(own, name, pantry)
        else:
            yield from (f"{item} in {name}" for item in own if _moved_apart(item, name, old, new))
        if (f.REST,) in moved:
            yield f"rest of {name}"


def _lines_differing(own: list[str], name: str, pantry: Pantry) -> Iterable[str]:
    """The lines of a part that holds flour; its water is told by its hydration."""
    kinds = {item: pantry.get(item).kind for item in own}
    if any(kind in LEAVENS for kind in kinds.values()):
        yield f"leaven in {name}"
    flours = [item for item, kind in kinds.items() if kind is Kind.FLOUR]
    yield from (f"{item} in {name}" for item in flours[1:])  # what one gains another loses
    told = (Kind.WATER, Kind.FLOUR, *LEAVENS)
    yield from (f"{item} in {name}" for item, kind in kinds.items() if kind not in told)


def _moved_apart(item: str, name: str, old: f.Facts, new: f.Facts) -> bool:
    """True if an item of a part without flour moved otherwise than in the whole formula."""

    def change(key: Key) -> Decimal:
        return (_pct(new.get(key)) or ZERO) - (_pct(old.get(key)) or ZERO)

    return change((f.PART, name, f.OWN, item)) != change((f.WHOLE, item))
