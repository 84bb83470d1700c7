"""A book's history in numbered files, for a folder, a stick or a letter: each copy writes its own series only.

Knows the files and git's words for them. git never runs inside that folder: its hooks and settings would run
as the baker. Parts are read as bytes and checked strictly by git in the book's own folder.
"""

from __future__ import annotations

import hashlib
import re
from contextlib import contextmanager
from typing import TYPE_CHECKING, NamedTuple

from ovenleaf.book import git, histories, layout, lock
from ovenleaf.book.write_faults import reason_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from pathlib import Path

_NAME = re.compile(
    r"(?P<book>[a-z0-9][a-z0-9-]{0,60})\.(?P<handle>[a-z][a-z0-9-]{1,40})\.(?P<number>[0-9]{4,6})\.bundle"
)
_ID = re.compile(rb"[0-9a-f]{40}")
_HEAD = b"# v2 git bundle\n"
HEADER_LIMIT = 1_000_000  # bytes; what a part says of itself is a few lines
PART_LIMIT = 2_000_000_000  # bytes


class PlaceFault(OSError):
    """The folder or stick, not the book's own disk, does not give what lies there, or does not take what is sent."""


class Part(NamedTuple):
    """One file of a series."""

    path: Path
    handle: str
    number: int


class Header(NamedTuple):
    """What a part says of itself: the entries it builds on, the entry it leads to, where its objects begin."""

    needs: tuple[str, ...]
    tip: str
    begins: int


class Received(NamedTuple):
    """What was taken in: the entry each series leads to; parts that are missing or damaged, by name."""

    tips: tuple[str, ...]
    missing: tuple[str, ...]
    damaged: tuple[str, ...]
    rewritten: tuple[str, ...]
    seen: dict[str, str]


def parts_in(folder: Path) -> tuple[Part, ...]:
    """The parts that lie in a folder, by series and number; links and anything else are passed by."""
    found = []
    for path in folder.iterdir() if folder.is_dir() else ():
        name = _NAME.fullmatch(path.name)
        if name and path.is_file() and not path.is_symlink():
            found.append(Part(path, name["handle"], int(name["number"])))
    return tuple(sorted(found, key=lambda part: (part.handle, part.number, part.path.name)))


@contextmanager
def _at_the_place() -> Iterator[None]:
    try:
        yield
    except OSError as fault:
        raise PlaceFault(fault.errno, fault.strerror) from fault


def half_written(folder: Path) -> tuple[Path, ...]:
    """What a copy that was cut off while it wrote a part has left in a folder."""
    return tuple(sorted(path for path in folder.glob("*.bundle.part") if _NAME.fullmatch(path.stem) and path.is_file()))


def header_of(data: bytes) -> Header | None:
    """What stands at the head of a part, or None where it makes no sense."""
    end = data.find(b"\n\n", 0, HEADER_LIMIT)
    if not data.startswith(_HEAD) or end < 0:
        return None
    lines = data[len(_HEAD) : end].split(b"\n")
    needs = [line[1:41] for line in lines if line.startswith(b"-")]
    tips = [line[:40] for line in lines if not line.startswith(b"-")]
    if len(set(tips)) != 1 or not all(map(_ID.fullmatch, (*needs, *tips))):
        return None
    return Header(tuple(sorted(need.decode() for need in needs)), tips[0].decode(), end + 2)


def receive(root: Path, folder: Path, seen: dict[str, str]) -> Received:
    """Take in every part that the book does not have yet; nothing in the book moves.

    `seen` holds the entry each part led to when it was last looked at: one that leads elsewhere now was
    rewritten. What it holds is taken in all the same.
    """
    waiting: dict[Part, Header] = {}
    damaged, rewritten, tips = [], [], {}
    now = dict(seen)
    with _at_the_place():
        heads = {part: header_of(_head(part)) for part in parts_in(folder)}
    for part, header in heads.items():
        if header is None:
            damaged.append(part.path.name)
            continue
        if seen.get(part.path.name, header.tip) != header.tip:
            rewritten.append(part.path.name)
        now[part.path.name] = header.tip
        waiting[part] = header
    for part, header in _in_reach(root, waiting):
        if not histories.has(root, header.tip) and not _take_in(root, part, header):
            damaged.append(part.path.name)
            continue
        tips[part.handle] = header.tip
        del waiting[part]
    missing = _gaps(part for part in waiting if part.path.name not in damaged)
    return Received(tuple(sorted(set(tips.values()))), missing, tuple(damaged), tuple(rewritten), now)


def _in_reach(root: Path, waiting: dict[Part, Header]) -> Iterable[tuple[Part, Header]]:
    """The parts whose ground the book has; each that is taken in may bring the next within reach."""
    tried: set[Part] = set()
    while ready := next(
        (
            (part, header)
            for part, header in waiting.items()
            if part not in tried and all(histories.has(root, need) for need in header.needs)
        ),
        None,
    ):
        tried.add(ready[0])
        yield ready


def _gaps(waiting: Iterable[Part]) -> tuple[str, ...]:
    """The names of the parts without which those that wait cannot be read: the one before the first of each series."""
    first: dict[str, Part] = {}
    for part in waiting:
        first.setdefault(part.handle, part)
    return tuple(_name(part.path.name.split(".")[0], part.handle, part.number - 1) for part in first.values())


def _head(part: Part) -> bytes:
    with part.path.open("rb") as stream:
        return stream.read(HEADER_LIMIT)


def _bytes(part: Part) -> bytes:
    if part.path.stat().st_size > PART_LIMIT:
        return b""
    return part.path.read_bytes()


def _take_in(root: Path, part: Part, header: Header) -> bool:
    """Let git check and keep the objects of a part; False where they are not whole or not sound."""
    with _at_the_place():
        data = _bytes(part)
    try:
        git.run(root, "index-pack", "--strict", "--fix-thin", "--stdin", input=data[header.begins :])
    except git.GitFault as fault:
        if reason_of(fault):  # the book's own disk, not the part
            raise
        return False
    return histories.has(root, header.tip)


def send(root: Path, folder: Path, book: str, handle: str, since: str | None) -> tuple[str, str]:
    """Write the next part of this copy's series, all that came after `since`; its name and the entry it leads to."""
    with lock.held(root, 10.0):
        # Not into a file: a git that is killed would leave its lock file, and no later one would get by it.
        only = [f"^{since}"] if since else []
        data = git.run(root, "bundle", "create", "--quiet", "--version=2", "-", "HEAD", *only)
        with _at_the_place():
            numbers = [part.number for part in parts_in(folder) if part.handle == handle]
            name = _name(book, handle, max(numbers, default=0) + 1)
            folder.mkdir(parents=True, exist_ok=True)
            layout.replace_file(folder / name, data, temporary=folder / f"{name}.part")
    header = header_of(data[:HEADER_LIMIT])
    assert header is not None, "git writes what we read"
    return name, header.tip


class Series(NamedTuple):
    """This copy's own series: the last entry that can be read there by somebody who has nothing, None for none;
    and whether that is where the series ends."""

    tip: str | None
    whole: bool


def own_series(folder: Path, handle: str) -> Series:
    """How far this copy's own series can be read. A part that is lost or damaged takes along those that build on
    it, until a later part reaches back behind it."""
    tip: str | None = None
    known: set[str] = set()
    whole = True
    for part in parts_in(folder):
        if part.handle == handle:
            with _at_the_place():
                data = _bytes(part)
            header = header_of(data[:HEADER_LIMIT])
            whole = header is not None and set(header.needs) <= known and _is_sound(data[header.begins :])
            if header is not None and whole:
                tip = header.tip
                known.add(tip)
    return Series(tip, whole)


def _is_sound(pack: bytes) -> bool:
    """A pack ends in the digest of all that stands before."""
    return hashlib.sha1(pack[:-20], usedforsecurity=False).digest() == pack[-20:]


def _name(book: str, handle: str, number: int) -> str:
    return f"{book}.{handle}.{number:04}.bundle"
