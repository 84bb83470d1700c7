"""Kept revisions and trials that are no longer what was saved: rewritten or taken away behind the book's back.

Both stay for ever once they are saved. What stands in the history is what counts, whoever changed it since, by hand
in the folder or with another program in the history itself.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.book import git, layout
from ovenleaf.book.names import TRIALS, is_kept_page

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from pathlib import Path

    from ovenleaf.book.entries import PageChange

ASIDE = "aside"


@dataclass(frozen=True, slots=True, kw_only=True)
class Tampered:
    """A page, the id of what was saved first, and what lies there now, None where it is gone."""

    page: str
    saved: str
    now: bytes | None


def tampered(root: Path, changed: Iterable[str], others: Mapping[str, Iterable[PageChange]]) -> tuple[Tampered, ...]:
    """The pages of `changed` (not as the last entry has them) and of `others` (changed by other programs) that are
    not as they were saved. A trial that was edited is not among them: it may have been put right, and is asked about.
    """
    first = {page: each[0].old or each[0].new for page, found in others.items() if (each := tuple(found))}
    here = [page for page in changed if _stays(page)]
    last = git.ids_at(root, "HEAD", here) if here else {}
    found = []
    for page in sorted({*first, *here}):
        saved = first.get(page) or last.get(page)
        now = _bytes(root, page)
        if saved and (now is None or (is_kept_page(page) and git.blob_id(now) != saved)):
            found.append(Tampered(page=page, saved=saved, now=now))
    return tuple(found)


def as_saved(root: Path, found: Iterable[Tampered]) -> dict[str, bytes | None]:
    """The pages as they were saved, and beside them, in the folder `aside`, what lay in their place."""
    each = tuple(found)
    kept = git.read_blobs(root, (one.saved for one in each))
    pages: dict[str, bytes | None] = {one.page: kept[one.saved] for one in each}
    return pages | {_beside(root, one): one.now for one in each if one.now is not None}


def _beside(root: Path, one: Tampered) -> str:
    base = f"{ASIDE}/{one.page.removesuffix('.yaml')}"
    number = 1
    while layout.read_file(root, f"{base}.edited-{number}.yaml") not in (None, one.now):
        number += 1
    return f"{base}.edited-{number}.yaml"


def _stays(page: str) -> bool:
    return page.endswith(".yaml") and (page.startswith(f"{TRIALS}/") or is_kept_page(page))


def _bytes(root: Path, page: str) -> bytes | None:
    try:
        return layout.read_file(root, page)
    except layout.NotAPage:
        return None
