"""The index: what was read from a page, kept by the page's path and id in this copy of the book.

The only module that touches sqlite3. It keeps texts for pages and knows nothing of what they say. It can be deleted,
spoiled, or written by another program: then it knows nothing, and pages are read as if it had never been.
"""

from __future__ import annotations

import re
import sqlite3
from contextlib import closing, suppress
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING

from ovenleaf.book import layout

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from pathlib import Path

NAME = "index.sqlite"
PATIENCE = 0.2  # seconds; whoever waits longer for another program had better read the pages
# Its tables are not ours, or it is no index at all. Anything else passes: another program is at it, the disk is full.
_SPOILED = frozenset({sqlite3.SQLITE_ERROR, sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB})
Key = tuple[str, str]  # a page's path and its id


@dataclass(frozen=True, slots=True)
class Reader:
    """What is read from pages (`kind`), and a name for the way of reading it: facts by another way are not used."""

    kind: str
    way: str


def known_below(root: Path, folder: str, reader: Reader) -> dict[Key, str]:
    """What is known of the pages below `folder` (which ends in `/`); nothing where there is no index."""
    end = f"{folder[:-1]}0"  # 0 is the sign after / in order
    try:
        with closing(_opened(root)) as index:
            rows = index.execute(_said("known below"), (reader.kind, reader.way, folder, end))
            return {(path, page): facts for path, page, facts in rows}
    except (sqlite3.Error, OSError):
        return {}


def learn(root: Path, reader: Reader, found: Mapping[Key, str], gone: Iterable[Key]) -> None:
    """Keeps what was read, and forgets pages that are not there any more. Not being able to is no harm."""
    try:
        with closing(_opened(root)) as index, index:
            index.execute(_said("begin"))
            index.execute(_said("forget other readers"), (reader.kind, reader.way))
            index.executemany(_said("forget"), [(reader.kind, *key) for key in gone])
            rows = [(reader.kind, reader.way, *key, facts) for key, facts in found.items()]
            index.executemany(_said("keep"), rows)
    except sqlite3.Error as error:
        if error.sqlite_errorcode in _SPOILED:
            _throw_away(root)
    except OSError:
        return


def _opened(root: Path) -> sqlite3.Connection:
    path = layout.state_folder(root) / NAME
    if path.is_symlink() or path.parent.is_symlink() or not path.parent.is_dir():
        raise OSError("not a folder of ours")
    index = sqlite3.connect(path, timeout=PATIENCE)
    index.execute("PRAGMA synchronous = OFF")  # what a power cut spoils is thrown away
    return index


def _throw_away(root: Path) -> None:
    with suppress(OSError):
        (layout.state_folder(root) / NAME).unlink()


def _said(name: str) -> str:
    return _statements()[name]


@cache
def _statements() -> dict[str, str]:
    """What `index.sql` holds, by the names in its remarks."""
    text = files("ovenleaf.book").joinpath("index.sql").read_text(encoding="utf-8")
    parts = re.split(r"^-- ([a-z ]+)$", text, flags=re.MULTILINE)
    return dict(zip(parts[1::2], (part.strip() for part in parts[2::2]), strict=True))
