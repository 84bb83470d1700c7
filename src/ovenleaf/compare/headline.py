"""A comparison in one line: for a book's history, and for the top of a row."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.compare.facts import TAKES
from ovenleaf.domain.figures import pct

if TYPE_CHECKING:
    from decimal import Decimal

    from ovenleaf.compare.formula_diff import FormulaDiff, ItemRow, ProcessRow

MOST = 3


def headline(diff: FormulaDiff) -> str:
    """The first few things that changed: `water 65 to 68 %, salt 2 to 1.8 %`."""
    said = phrases(diff)
    shown = ", ".join(said[:MOST])
    left = len(said) - MOST
    return f"{shown}, and {left} more" if left > 0 else shown or "the same dough"


def phrases(diff: FormulaDiff) -> tuple[str, ...]:
    """Each change as a phrase: items, then parts, steps and what is said beside them."""
    items = [_item(row) for row in diff.items if row.change or (row.before is None) != (row.after is None)]
    return (*items, *map(_step, diff.process), *map(_step, diff.said))


def _item(row: ItemRow) -> str:
    name = row.item if row.stage is None else f"{row.stage} {'share' if row.item == TAKES else row.item}"
    if row.before is None:
        return f"{name} new, {_figure(row.after)} %"
    if row.after is None:
        return f"{name} left out"
    return f"{name} {_figure(row.before)} to {_figure(row.after)} %"


def _figure(value: Decimal | None) -> str:
    return "" if value is None else pct(value).removesuffix(" %").removesuffix(".0")


def _step(row: ProcessRow) -> str:
    name = f"{row.step} {row.field}".strip()
    if row.before and row.after:
        return f"{name} {row.before} to {row.after}"
    return f"{name} {row.words}"
