"""Tables of what changed between two formulas: items, parts, steps, words. Changes are told in words."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from ovenleaf.compare.facts import TAKES
from ovenleaf.domain.figures import pct, points
from ovenleaf.domain.ingredients import Kind
from ovenleaf.domain.numbers import ZERO, rounded
from ovenleaf.present.screen import join_words, rows

if TYPE_CHECKING:
    from collections.abc import Sequence
    from decimal import Decimal

    from ovenleaf.compare.formula_diff import FormulaDiff, ItemRow, ProcessRow
    from ovenleaf.domain.sheet import Sheet

NOT_IN_IT = "not in it"
NOT_SAID = "not said"
NO_STEP = "no such step"


def _moved(row: ItemRow) -> bool:
    return bool(row.change) or (row.before is None) != (row.after is None)


def items_table(diff: FormulaDiff, left: str, right: str, *, rest: str = "") -> str:
    """The items of the whole formula that changed; `rest` is a last row for all else."""
    changed = [row for row in diff.items if row.stage is None and _moved(row)]
    lines = [_item(row.item, row) for row in changed]
    if rest and lines:
        lines.append((rest, "", "", "same"))
    return rows(lines, "<>><", heading=("", left, right, "")) if lines else ""


def _item(name: str, row: ItemRow) -> tuple[str, str, str, str]:
    return name, _figure(row.before), _figure(row.after), _words(row)


def _figure(value: Decimal | None) -> str:
    return NOT_IN_IT if value is None else pct(value)


def _words(row: ItemRow) -> str:
    if row.before is None:
        return "new"
    if row.after is None:
        return "left out"
    return points(row.before, row.after)


def part_lines(diff: FormulaDiff, left: str, right: str) -> str:
    """Each part whose split moved: its share of all the flour, its lines in shares of its own flour."""
    blocks = []
    for name in dict.fromkeys(row.stage for row in diff.items if row.stage is not None):
        lines = [_item(_part_item(row), row) for row in diff.items if row.stage == name]
        heading = f"{str(name).capitalize()}, in shares of its own flour"
        blocks.append(f"{heading}\n{rows(lines, '<>><', heading=('', left, right, ''))}")
    return "\n\n".join(blocks)


def _part_item(row: ItemRow) -> str:
    return "share of all the flour" if row.item == TAKES else row.item


def totals_table(diff: FormulaDiff, left: str, right: str) -> str:
    """The totals that moved, without those that one line of the formula tells already."""
    moved = {row.name: rounded(row.change, 1) for row in diff.totals}
    told = _TOLD_ALREADY | ({"all water"} if moved["all water"] == moved["water as poured"] else set())
    lines = [
        (row.name, pct(before), pct(after), points(before, after))
        for row in diff.totals
        if row.name not in told and (before := _shown(row.name, row.before)) != (after := _shown(row.name, row.after))
    ]
    return rows(lines, "<>><", heading=("", left, right, "")) if lines else ""


def _shown(name: str, value: Decimal) -> Decimal:
    """Totals to a tenth, as on a formula's sheet; yeast as fine as it is weighed."""
    return value if name == "yeast as instant" else rounded(value, 1)


_TOLD_ALREADY = frozenset({"water as poured", "salt", "dough yield", "total"})


def process_table(diff: FormulaDiff, left: str, right: str) -> str:
    """The steps and fields that changed."""
    return _told("Steps", [_process_row(row) for row in diff.process], left, right)


def _process_row(row: ProcessRow) -> tuple[str, str, str, str]:
    """A field that is not said is another thing than a step that is not there at all."""
    before, after = row.before, row.after
    if not row.field:
        missing = NO_STEP if before or after else "one order"
        return row.step, before or missing, after or (missing if before else "another"), row.words
    return _step(row), before or NOT_SAID, after or NOT_SAID, row.words


def said_table(diff: FormulaDiff, left: str, right: str) -> str:
    """Notes, aims, washes and the like that changed."""
    told = [(_step(row), row.before or NOT_SAID, row.after or NOT_SAID, row.words) for row in diff.said]
    return _told("Beside the dough", told, left, right)


def _told(heading: str, told: Sequence[tuple[str, str, str, str]], left: str, right: str) -> str:
    """A row each; where both sides do not fit beside one another, one under the other."""
    if not told:
        return ""
    if all(len(before) + len(after) < 44 for _, before, after, _ in told):
        return f"{heading}\n{rows(told, '<>><', heading=('', left, right, ''))}"
    long = [
        (name, side, text)
        for name, before, after, words in told
        for side, text in ((left, before), (right, f"{after}, {words}" if re.match(r"[0-9]", words) else after))
    ]
    return f"{heading}\n{rows(long, '<<<')}"


def _step(row: ProcessRow) -> str:
    if row.field in ("", "words"):
        return row.step
    return f"{row.step}, {row.field}"


def moved_ahead(before: Sheet, after: Sheet) -> str:
    """Of a dough that stays what it was: how much of its flour and yeast is made ahead now."""
    same = "The formula as a whole is the same."
    flour = [sheet.totals.prefermented_flour for sheet in (before, after)]
    yeast = [_yeast_ahead(sheet) for sheet in (before, after)]
    told = [
        f"{name} from {pct(was)} to {pct(now)}"
        for name, (was, now) in (("prefermented flour", flour), ("the yeast in it", yeast))
        if was != now
    ]
    return f"{same} What is made ahead moved, in shares of all the flour: {join_words(told)}." if told else same


def _yeast_ahead(sheet: Sheet) -> Decimal:
    """The yeast that goes in ahead of the final dough, in percent of all the flour."""
    yeasts = {item for item, kind in sheet.kinds if kind is Kind.YEAST}
    lines = (line for part in sheet.worked.parts if part.leavened for line in part.lines)
    return sum((line.pct for line in lines if line.item in yeasts), ZERO)
