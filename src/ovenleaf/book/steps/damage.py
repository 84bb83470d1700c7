"""A damaged history as a finding: the book is read on without it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.findings import Finding, Severity

if TYPE_CHECKING:
    from ovenleaf.book.git import HistoryDamaged


def damaged_history(damage: HistoryDamaged) -> Finding:
    """What is told of it where a command can go on."""
    return Finding(
        code="damaged-history",
        severity=Severity.ERROR,
        path=".git",
        message=damage.what,
        fix="\n".join(
            ("Make a copy of the whole folder first. Then:", *(f"{one.command}: {one.words}" for one in damage.next))
        ),
    )
