"""What this copy of a book remembers of sharing: where, what was last known to be there, which parts it saw.

It belongs to this copy alone, and all of it can be found out again.
"""

from __future__ import annotations

import json
import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from ovenleaf.book import git, histories, layout

if TYPE_CHECKING:
    from pathlib import Path


_ENTRY = re.compile("[0-9a-f]{40}")  # a book that was handed over may say anything, and git would take it for a word


@dataclass(frozen=True, slots=True, kw_only=True)
class Sharing:
    """`at` is the address, "" where the book is shared with nobody; `there` the entry last known to be there."""

    at: str = ""
    there: str = ""
    seen: dict[str, str] = field(default_factory=dict)


def load(root: Path) -> Sharing:
    """What is remembered; nothing where that cannot be read."""
    if not _file(root).is_file():  # a pipe would keep us waiting for ever
        return Sharing()
    try:
        data = json.loads(_file(root).read_bytes())
        seen = {str(name): tip for name, tip in data["seen"].items() if _ENTRY.fullmatch(tip)}
        return Sharing(at=str(data["at"]), there=data["there"] if _ENTRY.fullmatch(data["there"]) else "", seen=seen)
    except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return Sharing()


def save(root: Path, sharing: Sharing) -> None:
    """Remember."""
    text = json.dumps({"at": sharing.at, "there": sharing.there, "seen": sharing.seen}, indent=1)
    layout.replace_file(_file(root), text.encode(), temporary=_file(root).with_suffix(".new"))


def forget(root: Path) -> None:
    """The book is shared with nobody any more, as far as this copy knows."""
    _file(root).unlink(missing_ok=True)


def there(root: Path) -> str | None:
    """The last entry that is known to be where the book is shared; None while it is shared with nobody."""
    known = load(root)
    return known.there if known.there and histories.has(root, known.there) else None


def waiting(root: Path) -> int | None:
    """How many entries are not yet where the book is shared; None where it is shared with nobody."""
    known = load(root)
    head = git.head(root) if known.at else None
    if head is None:
        return None
    if known.there == head:
        return 0
    try:
        return histories.count_since(root, known.there, head)
    except git.GitFault:  # what is remembered is not in this history
        return histories.count_since(root, None, head)


def _file(root: Path) -> Path:
    return layout.state_folder(root) / "sharing.json"
