"""The entries of a book's history, newest first: who wrote each, with which command, and which pages it changed.

Reads only. Must not know what a page says, nor what a command does.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.book import git
from ovenleaf.book.git import run

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from pathlib import Path

VERB = "Ovenleaf-Verb"
UNDOES = "Ovenleaf-Undoes"
_AT_ONCE = 200  # entries asked for in one call; the last few are what most callers want
_TRAILERS = tuple(f"%(trailers:key={key},valueonly,separator=%x20)" for key in (VERB, UNDOES))
_FIELDS = ("%H", "%P", "%aI", *_TRAILERS, "%an", "%s")  # what others may have written as they liked comes last


@dataclass(frozen=True, slots=True, kw_only=True)
class PastEntry:
    """One entry: `id`, those it follows, whose name it bears, when (ISO), its one line.

    `verb` is the command that wrote it, "" for one that another program made; `undoes` the entry that it
    took back, or "".
    """

    id: str
    follows: tuple[str, ...]
    by: str
    at: str
    subject: str
    verb: str
    undoes: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PageChange:
    """A page in an entry: the id of its bytes before (None: there was none) and after (None: gone)."""

    path: str
    old: str | None
    new: str | None


def past_entries(root: Path, *, beyond: str | None = None) -> Iterator[PastEntry]:
    """The entries of a book from the last one back; those at and before `beyond` are left out."""
    if git.head(root) is None:
        return
    skip = 0
    while True:
        answer = run(
            root, "log", "-z", f"--max-count={_AT_ONCE}", f"--skip={skip}", f"--format={'%x1f'.join(_FIELDS)}",
            "HEAD", *([f"^{beyond}"] if beyond else []), "--",
        )  # fmt: skip
        rows = [row for row in answer.decode("utf-8", "replace").split("\0") if row.strip()]
        yield from map(_entry, rows)
        if len(rows) < _AT_ONCE:
            return
        skip += _AT_ONCE


def _entry(row: str) -> PastEntry:
    found, follows, at, verb, undoes, by, subject = row.strip("\n").split("\x1f", len(_FIELDS) - 1)
    return PastEntry(
        id=found,
        follows=tuple(follows.split()),
        by=by,
        at=at,
        subject=subject,
        verb=verb.strip(),
        undoes=undoes.strip(),
    )


def page_changes(root: Path, entry: str) -> tuple[PageChange, ...]:
    """The pages that an entry changed against the one it follows; none for one that follows several."""
    return changes_of(root, (entry,))[entry]


def changes_of(root: Path, entries: Iterable[str]) -> dict[str, tuple[PageChange, ...]]:
    """What each of the entries changed, as `page_changes` has it; one call for all."""
    found: dict[str, list[PageChange]] = {entry: [] for entry in entries}
    args = ("diff-tree", "--stdin", "--root", "-r", "-z", "--no-renames")
    asked = "".join(f"{entry}\n" for entry in found).encode()
    answer = run(root, *args, input=asked, most=git.LISTING) if found else b""
    rows = iter(answer.decode("utf-8", "surrogateescape").split("\0")[:-1])
    entry = ""
    for row in rows:
        if row.startswith(":"):
            found[entry].append(_change(row, next(rows)))
        else:
            entry = row
    return {entry: tuple(changes) for entry, changes in found.items()}


def _change(facts: str, path: str) -> PageChange:
    old, new = facts.split(" ")[2:4]
    return PageChange(path=path, old=_there(old), new=_there(new))


def _there(found: str) -> str | None:
    return None if found == git.NOTHING else found


def by_other_programs(entries: Iterable[PastEntry]) -> tuple[PastEntry, ...]:
    """Those entries that ovenleaf did not write."""
    return tuple(entry for entry in entries if not entry.verb)
