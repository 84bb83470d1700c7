"""The entry that brings two histories of a book together: fixed by the two, so that all who make it make the same."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.book import git, histories
from ovenleaf.book.steps.combining_books import CombinedBook, combine_books, fold
from ovenleaf.book.steps.sides import Blobs
from ovenleaf.errors import Refusal

if TYPE_CHECKING:
    from pathlib import Path

    from ovenleaf.book.steps.sides import Tree


class OtherBook(Refusal):
    """Two histories that have no entry in common are two books."""

    def __init__(self) -> None:
        super().__init__(
            "What lies there is another book: it and this one have no entry in common.",
            detail=(
                "Two books are not put together. A formula goes from one to the other with",
                "  ovenleaf enter PAGE",
            ),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Together:
    """The entry that holds both, and what came of combining them, None where one held the other already."""

    entry: str
    combined: CombinedBook | None


def bring_together(root: Path, one: str, other: str) -> Together:
    """The entry that both copies go on from; nothing points at it yet. Raises OtherBook."""
    one, other = sorted((one, other))
    parted = histories.where_parted(root, one, other)
    if not parted:
        raise OtherBook
    if parted in ((one,), (other,)):
        return Together(entry=other if parted == (one,) else one, combined=None)
    blobs = Blobs(root=root)
    by = _signature(root, one, other)
    trees = [git.tree_ids(root, entry) for entry in (one, other)]
    base = _ancestor(root, blobs, parted, by.at.isoformat())
    made = combine_books(blobs, base, trees[0], trees[1], by.at.isoformat())
    ids = _differing(trees[0], made.tree)
    new = [blobs.made[name] for name in sorted(set(made.tree.values()) & set(blobs.made))]
    entry = histories.write_combined(root, (one, other), ids, new, _message(by.name, made), by)
    return Together(entry=entry, combined=made)


def _ancestor(root: Path, blobs: Blobs, parted: tuple[str, ...], at: str) -> Tree:
    """What both came of. Where each had combined the other's already there are several; they are folded into one."""
    if len(parted) == 1:
        return git.tree_ids(root, parted[0])
    older = histories.where_parted(root, parted[0], parted[1])
    base = _ancestor(root, blobs, older, at) if older else {}
    return fold(blobs, [git.tree_ids(root, entry) for entry in parted], base, at)


def _differing(before: Tree, after: Tree) -> dict[str, str | None]:
    return {path: after.get(path) for path in sorted({*before, *after}) if before.get(path) != after.get(path)}


def _signature(root: Path, one: str, other: str) -> histories.Signed:
    """Both bakers, and the later of the two times: the same whoever combines, and whenever."""
    signed = [histories.signed(root, entry) for entry in (one, other)]
    names = sorted({name for each in signed for name in each.name.split(" and ")})
    later = max(signed, key=lambda each: (each.at, str(each.at.utcoffset())))
    return histories.Signed(" and ".join(names), later.at)


def _message(names: str, made: CombinedBook) -> str:
    said = ", ".join(f"{formula} {revision}" for formula, revision in made.revisions)
    return f"{names}: combined{f', {said}' if said else ''}\n\nOvenleaf-Verb: share\n"
