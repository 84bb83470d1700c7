"""One side of two that are combined: where its pages lie and what is in them, without touching a folder."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from ovenleaf.book import git
from ovenleaf.book.names import CODE_LINE, FORMULAS, TRIALS
from ovenleaf.domain.revision import is_slug, revision_name

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

Tree = dict[str, str]  # path -> id of its bytes


@dataclass(frozen=True, slots=True, kw_only=True)
class Blobs:
    """Bytes by their id: those of the book, and those that combining made."""

    root: Path
    made: dict[str, bytes] = field(default_factory=dict)
    read: dict[str, bytes] = field(default_factory=dict)

    def fetch(self, ids: Iterable[str]) -> None:
        """Read these at once; one by one they would cost a child of git each."""
        wanted = {one for one in ids if one not in self.made and one not in self.read}
        if wanted:
            self.read.update(git.read_blobs(self.root, sorted(wanted)))

    def get(self, one: str) -> bytes:
        """The bytes behind an id."""
        self.fetch((one,))
        return self.made[one] if one in self.made else self.read[one]

    def keep(self, data: bytes) -> str:
        """Take bytes in and give their id."""
        name = git.blob_id(data)
        self.made[name] = data
        return name


def kind_of(path: str) -> str:
    """What lies at a place in a book: book, ingredients, formula, marks, kept, trial, tasting; "" for anything else.

    >>> kind_of("formulas/market-roll/r2.noor.yaml"), kind_of("trials/market-roll/2026-11-12-noor.yaml")
    ('kept', 'trial')
    """
    if path in ("book.yaml", "ingredients.yaml"):
        return path.removesuffix(".yaml")
    if not path.endswith(".yaml"):
        return ""
    parts = path.removesuffix(".yaml").split("/")
    if parts[0] == FORMULAS and len(parts) == 2 and is_slug(parts[1]):
        return "formula"
    if parts[0] == FORMULAS and len(parts) == 3 and is_slug(parts[1]):
        return "marks" if parts[2] == "marks" else "kept" if revision_name(parts[2]) else ""
    if parts[0] == "tastings" and len(parts) == 2:
        return "tasting"
    return "trial" if parts[0] == TRIALS and len(parts) == 3 and is_slug(parts[1]) else ""


def code_of(blobs: Blobs, name: str | None) -> str:
    """The code on a trial's page, or ""."""
    found = CODE_LINE.search(blobs.get(name)) if name else None
    return found[1].decode() if found else ""


def highest_number(formula: str, *trees: Tree) -> int:
    """The highest number of a revision of this formula that any of these keep; 0 for none."""
    start = f"{FORMULAS}/{formula}/"
    found = (
        revision_name(path[len(start) : -len(".yaml")]) for tree in trees for path in tree if path.startswith(start)
    )
    return max((name.number for name in found if name is not None), default=0)
