"""Remarks typed into a formula's page by hand that no entry holds yet: nothing is written over them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book import git, settings
from ovenleaf.errors import Next, Refusal
from ovenleaf.records.page_bytes import page_id

if TYPE_CHECKING:
    from pathlib import Path

    from ovenleaf.book.steps.shelf import Shelf


class RemarksInTheWay(Refusal):
    """Another page would take the place of one with remarks that are not saved. Fact: `formula`."""

    def __init__(self, formula: str) -> None:
        super().__init__(
            f"The page of {formula} holds remarks typed by hand that are not saved yet, and this would replace them.",
            next=(Next(f"ovenleaf save {formula}", "keep them first"),),
        )
        self.formula = formula


def refuse_unsaved(root: Path, shelf: Shelf) -> None:
    """Raise RemarksInTheWay if the current page was edited since the last entry, be it in its remarks alone."""
    if shelf.data is None or page_id(shelf.data) in {kept.pin for kept in shelf.kept}:
        return
    settings.check(root)
    git.require()
    if shelf.path in git.changed(root):
        raise RemarksInTheWay(shelf.name)
