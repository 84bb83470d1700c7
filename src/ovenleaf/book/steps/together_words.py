"""A formula that two bakers changed, brought together: what moved, and whose value it is."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book.names import kept_page_of
from ovenleaf.book.steps.news import sheet_at
from ovenleaf.compare.facts import PART, PROCESS, WHOLE, formula_facts
from ovenleaf.compare.news import BroughtTogether
from ovenleaf.domain.figures import pct
from ovenleaf.domain.revision import RevisionName, revision_name

if TYPE_CHECKING:
    from decimal import Decimal
    from pathlib import Path

    from ovenleaf.book.steps.sides import Blobs, Tree
    from ovenleaf.compare.changes import Key
    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.sheet import Sheet


def brought_together(
    root: Path, blobs: Blobs, tree: Tree, formula: str, revision: RevisionName, pantry: Pantry
) -> BroughtTogether:
    """What the combined revision has from whom, item by item; open items are told with their questions."""
    now = sheet_at(blobs, tree, kept_page_of(formula, revision), pantry)
    names = [name for parent in (now.formula.made_from if now else ()) if (name := revision_name(parent)) is not None]
    sides = [(name, sheet_at(blobs, tree, kept_page_of(formula, name), pantry)) for name in names]
    rows: list[tuple[str, str, tuple[str, ...]]] = []
    if now is not None and all(side is not None for _, side in sides):
        facts = [(name, formula_facts(side.formula, side.worked)) for name, side in sides if side is not None]
        stands = formula_facts(now.formula, now.worked)
        for key in stands:
            holders = [name for name, of in facts if of.get(key) == stands[key]]
            if len(holders) == 1 and _told(key):
                rows.append((_said(key), _value(key, stands[key]), holders[0].handles))
    return BroughtTogether(formula=formula, title=_title(now, formula), revision=revision, rows=tuple(rows))


def _title(now: Sheet | None, formula: str) -> str:
    return now.formula.label if now else formula.replace("-", " ")


def _told(key: Key) -> bool:
    """Shares, parts and fields of steps; the rest is on the page."""
    return (key[0] == WHOLE) or (key[0] == PART and len(key) == 4) or (key[0] == PROCESS and len(key) == 3)


def _said(key: Key) -> str:
    if key[0] == PART:
        return f"{key[3]} in {key[1]}"
    return " ".join(key[1:])


def _value(key: Key, value: Decimal | str) -> str:
    return value if isinstance(value, str) else pct(value)
