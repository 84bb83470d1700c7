"""How many files the entries that arrived would be, counted without laying them out: a few lists that each name the
next a hundred times over are more files than there is room for in the world.

Knows git's lists of files. Must not know what a page says.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from ovenleaf.book import git

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from pathlib import Path

SHORTEST_ROW = 28  # bytes; a list without lists in it holds one file for so many at most
AT_ONCE = 32_000_000  # bytes of lists in memory
_LIST = b"40000 "
_ID = 20  # bytes


class Unfolded(NamedTuple):
    """How many files, at most, and how many folders one in another."""

    files: int
    depth: int


class _Lists(NamedTuple):
    """For each list of files its own files, and the lists in it."""

    files: dict[str, int]
    inner: dict[str, tuple[str, ...]]


def largest(root: Path, entry: str, *, most: int) -> Unfolded:
    """What the largest of the entries up to `entry` that the book does not have would be, counted up to `most`."""
    head = git.head(root)
    args = ("rev-list", "--objects", "--no-object-names", "--filter=blob:none", entry)
    new = git.run(root, *args, *([f"^{head}"] if head else []), "--").decode().split()
    lists = _read(root, new)
    had = Unfolded(len(git.tree_ids(root, head)), 4) if head else Unfolded(0, 0)  # a list that was here before
    done: dict[str, Unfolded] = {}
    for each in lists.files:
        _unfold(each, lists, had, done, most)
    return Unfolded(
        max((one.files for one in done.values()), default=0), max((one.depth for one in done.values()), default=0)
    )


def _unfold(start: str, lists: _Lists, had: Unfolded, done: dict[str, Unfolded], most: int) -> None:
    """Works out a list and those in it. With a pile of its own: they may lie deeper than Python calls."""
    pile = [start]
    while pile:
        one = pile[-1]
        wanted = [each for each in lists.inner.get(one, ()) if each not in done and each in lists.files]
        if one in done or not wanted:
            pile.pop()
            inner = [done.get(each, had) for each in lists.inner.get(one, ())]
            files = min(most + 1, lists.files[one] + sum(each.files for each in inner))
            done[one] = Unfolded(files, 1 + max((each.depth for each in inner), default=0))
        else:
            pile += wanted


def _read(root: Path, ids: list[str]) -> _Lists:
    asked = "".join(f"{one}\n" for one in ids).encode()
    told = git.run(root, "cat-file", "--batch-check=%(objectname) %(objecttype) %(objectsize)", input=asked)
    rows = (line.split() for line in told.decode().splitlines())
    found = _Lists({}, {})
    for some in _in_parts([(row[0], int(row[2])) for row in rows if row[1] == "tree"]):
        for one, data in git.read_objects(root, some, b"tree").items():
            found.files[one], inner = _counted(data)
            if inner:
                found.inner[one] = inner
    return found


def _in_parts(lists: Iterable[tuple[str, int]]) -> Iterator[list[str]]:
    part, size = [], 0
    for one, long in lists:
        part.append(one)
        size += long
        if size > AT_ONCE:
            yield part
            part, size = [], 0
    if part:
        yield part


def _counted(data: bytes) -> tuple[int, tuple[str, ...]]:
    """The files of a list, at most, and the lists in it."""
    if _LIST not in data:
        return len(data) // SHORTEST_ROW, ()
    files, inner, at = 0, [], 0
    while at < len(data):
        end = data.index(b"\0", at) + 1
        if data.startswith(_LIST, at):
            inner.append(data[end : end + _ID].hex())
        else:
            files += 1
        at = end + _ID
    return files, tuple(inner)
