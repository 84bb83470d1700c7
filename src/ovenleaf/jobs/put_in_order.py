"""Finish or drop what a command that was cut off left in the book, before the next one reads it to write in it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book import journal, layout, store

if TYPE_CHECKING:
    from pathlib import Path


def put_in_order(root: Path) -> str:
    """A sentence on the entry that had been cut off and what became of it, or "". Raises the refusals of a write."""
    if not layout.git_folder(root).is_dir() or not journal.is_there(root):
        return ""
    return store.recover(root) or ""
