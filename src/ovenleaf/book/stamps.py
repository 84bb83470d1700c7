"""The state that a book's folder is in, told by the stamps that the disk puts on its files; none of them is read.

Loads almost nothing, for those who must not wait. Must not know what a page says.
"""

from __future__ import annotations

import marshal
import os
import sys
from hashlib import sha1
from typing import TYPE_CHECKING

from ovenleaf.book.places import HISTORY, STATE

if TYPE_CHECKING:
    from collections.abc import Iterable

MOST = 60_000  # files; a folder that holds more is no book alone, and walking it is no gain
RESTLESS = 2_000_000_000  # nanoseconds; the coarsest clock of a disk that knows when a file was changed
# What of the history an answer may hang on: the last entry, what git has listed and what it passes by, who bakes here,
# what is unfinished, what waits to be shared.
OF_HISTORY = (
    *("HEAD", "config", "index", "info", "packed-refs", "refs"),
    *(f"{STATE}/{name}" for name in ("baker", "pending", "sharing.json")),
)

_FOLDER = 0o040000
_KIND = 0o170000


class Unsettled(Exception):
    """The stamps cannot tell: something was changed a moment ago, or there is too much to look at."""


def of_folder(root: str, *, now: int) -> str:
    """A name for the state of all files in a book's folder: the same name, the same bytes.

    Each file counts by its place, size, number and the times of its last change, also that which cannot be set by
    hand. `now` is in nanoseconds: what was changed just before it could be changed again without another stamp, so
    that nothing is said of it. Raises Unsettled.
    """
    if sys.platform == "win32":
        raise Unsettled  # the time that cannot be set by hand is not told there
    found: list[tuple[str, int, int, int, int, int]] = []
    _look(root, found, leave=HISTORY)
    for name in OF_HISTORY:
        _look_at(f"{root}/{HISTORY}/{name}", found)
    return _named(found, now)


def of_program(folder: str, *, now: int) -> str:
    """The same of the program's own folder: what another program answered is not its answer."""
    found: list[tuple[str, int, int, int, int, int]] = []
    _look(folder, found, leave="__pycache__")
    return _named([row for row in found if not row[0].endswith((".pyc", "__pycache__"))], now)


def _named(found: Iterable[tuple[str, int, int, int, int, int]], now: int) -> str:
    rows = list(found)
    if any(row[3] > now - RESTLESS or row[4] > now - RESTLESS for row in rows if row[1] & _KIND != _FOLDER):
        raise Unsettled
    return sha1(marshal.dumps(rows, 2), usedforsecurity=False).hexdigest()


def _look_at(path: str, found: list[tuple[str, int, int, int, int, int]]) -> None:
    try:
        told = os.lstat(path)
    except OSError:
        return
    found.append((path, told.st_mode, told.st_size, told.st_mtime_ns, told.st_ctime_ns, told.st_ino))
    if told.st_mode & _KIND == _FOLDER:
        _look(path, found)


def _look(folder: str, found: list[tuple[str, int, int, int, int, int]], leave: str = "") -> None:
    """All that lies in a folder, and below; `leave` is the name of a folder that is passed by."""
    below = []
    try:
        with os.scandir(folder) as entries:
            for entry in entries:
                told = entry.stat(follow_symlinks=False)
                if told.st_mode & _KIND != _FOLDER:
                    row = (entry.path, told.st_mode, told.st_size, told.st_mtime_ns, told.st_ctime_ns, told.st_ino)
                    found.append(row)
                elif entry.name != leave:
                    below.append(entry.path)
    except OSError:
        raise Unsettled from None
    if len(found) > MOST:
        raise Unsettled
    for path in sorted(below):
        _look(path, found, leave)
