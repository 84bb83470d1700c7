"""Take the last entry back, by a new one: pages are as before, and what stays says that it was taken back."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book import sharing
from ovenleaf.book.steps.opening import find_root, settle_baker
from ovenleaf.book.steps.shelf import shelf_of, spoken
from ovenleaf.book.steps.signing import Stamp, put
from ovenleaf.book.steps.undoing import last_to_undo, way_back
from ovenleaf.results import Undone

if TYPE_CHECKING:
    from datetime import datetime
    from pathlib import Path

WHY = "taken back"
_LINE = 72  # letters of an entry's one line


def undo(given: Path | None, start: Path, *, why: str, baker: str, at: datetime, preview: bool = False) -> Undone:
    """Take back the last entry of this baker's that still stands.

    Raises NothingToUndo, NotByOvenleaf, NotYours, EditedSince, ChangedSince, InUse and the refusals of a write.
    """
    root = find_root(given, start)
    who = settle_baker(root, baker)
    stamp = Stamp(by=who, at=at, verb="undo", preview=preview)
    entry = last_to_undo(root, who, shared=sharing.there(root))
    back = way_back(root, entry, stamp, why or WHY)
    subject = f"taken back: {entry.subject}"
    ahead = put(
        root,
        back.pages,
        stamp,
        subject if len(subject) <= _LINE else f"{subject[: _LINE - 4]} ...",
        why,
        expect=back.expect,
        undoes=entry.id,
    )
    return Undone(
        what=entry.subject,
        entered=entry.at,
        told=back.told,
        spoken=_spoken(root, {thing.name for thing in back.told}),
        ahead=ahead,
    )


def _spoken(root: Path, names: set[str]) -> tuple[tuple[tuple[str, str], str], ...]:
    """How a screen says each revision of the formulas."""
    shelves = [shelf_of(root, name) for name in sorted(names)]
    return tuple(((shelf.name, str(name)), spoken(shelf.names, name)) for shelf in shelves for name in shelf.names)
