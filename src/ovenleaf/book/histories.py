"""Two histories of one book: where they parted, and the entry that brings them together.

Knows git's words and files. Must not know what a page says.
"""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta, timezone
from typing import TYPE_CHECKING, NamedTuple

from ovenleaf.book import git, layout, lock

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from pathlib import Path


LONGEST_NAME = 200  # letters; two bakers' names together take a quarter of it


class Signed(NamedTuple):
    """Who wrote an entry, and when, with its offset."""

    name: str
    at: datetime


def has(root: Path, entry: str) -> bool:
    """True if the book has this entry, with all that came before it."""
    try:
        git.run(root, "rev-list", "--max-count=1", "--objects", entry, "--not", "--all", "--")
    except git.GitFault:
        return False
    return True


def follows(root: Path, later: str, earlier: str) -> bool:
    """True if `later` holds all that `earlier` does; an entry follows itself."""
    try:
        git.run(root, "merge-base", "--is-ancestor", earlier, later)
    except git.GitFault as fault:
        if fault.code == 1:
            return False
        raise
    return True


def where_parted(root: Path, one: str, other: str) -> tuple[str, ...]:
    """The last entries that both follow, sorted: more than one where two combined each other's; none for strangers."""
    try:
        return tuple(sorted(git.run(root, "merge-base", "--all", one, other).decode().split()))
    except git.GitFault as fault:
        if fault.code == 1:
            return ()
        raise


def count_since(root: Path, base: str | None, entry: str) -> int:
    """How many entries came after `base` up to `entry`."""
    args = ["rev-list", "--count", entry, *([f"^{base}"] if base else []), "--"]
    return int(git.run(root, *args))


def signed(root: Path, entry: str) -> Signed:
    """Who wrote an entry, and when: somebody, at the beginning of time, where it says what nobody is called or no
    calendar has. A history comes from anyone."""
    answer = git.run(root, "show", "--no-patch", "--no-notes", "--date=raw", "--format=%an%x00%cd", entry)
    name, when = answer.decode("utf-8", "replace").strip("\n").split("\0")
    return Signed(name.strip()[:LONGEST_NAME] or "somebody", _time(*when.split()))


def _time(seconds: str, zone: str) -> datetime:
    sign = -1 if zone.startswith("-") else 1
    try:
        offset = timedelta(hours=int(zone[1:3]), minutes=int(zone[3:5])) * sign
        return datetime.fromtimestamp(int(seconds), timezone(offset))
    except (ValueError, OverflowError, OSError):
        return datetime.fromtimestamp(0, UTC)


def write_combined(
    root: Path, parents: tuple[str, str], ids: Mapping[str, str | None], made: Iterable[bytes], message: str, by: Signed
) -> str:
    """Keeps the entry that follows both parents, and gives its id; nothing points at it yet.

    `ids` says how its pages differ from those of the first parent, `made` are the bytes that neither
    has. The same parents, pages, message and signature give the same entry on every machine.
    """
    for data in made:
        git.store_blob(root, data)
    with lock.held(root, 10.0):
        tree = _tree_of(root, parents[0], ids)
    address = re.sub(r"[^a-z0-9.-]+", "-", by.name.replace(" and ", ".").lower()) + "@book.invalid"
    return git.write_entry(root, tree, parents, message, who=git.signature(by.name, address, by.at))


def _tree_of(root: Path, parent: str, ids: Mapping[str, str | None]) -> str:
    """The tree of `parent` with these pages in it. Its index may be left, locked, of a share that was killed."""
    index = layout.state_folder(root) / "combined-index"
    left = (index, index.with_name(f"{index.name}.lock"))
    for path in left:
        path.unlink(missing_ok=True)
    try:
        git.read_tree(root, parent, index=index)
        if ids:
            git.set_in_index(root, ids, index=index)
        return git.write_tree(root, index=index)
    finally:
        for path in left:
            path.unlink(missing_ok=True)


def writers(root: Path, entry: str) -> frozenset[str]:
    """The names of all who wrote in a history."""
    answer = git.run(root, "log", "--format=%an", entry, "--").decode("utf-8", "replace")
    return frozenset(name for line in answer.splitlines() for name in line.split(" and "))
