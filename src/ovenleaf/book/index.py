"""The index: what was read from a page, kept by the page's path and id in this copy of the book.

The only module that touches sqlite3. It keeps texts for pages and knows nothing of what they say. It can be deleted,
spoiled, or written by another program: then it knows nothing, and pages are read as if it had never been.
"""

from __future__ import annotations

import os
import sqlite3
from contextlib import closing, suppress
from functools import cache
from hashlib import sha1
from typing import TYPE_CHECKING, NamedTuple

from ovenleaf.book.places import HISTORY, STATE

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from pathlib import Path

NAME = "index.sqlite"
PATIENCE = 0.2  # seconds; whoever waits longer for another program had better read the pages
# Its tables are not ours, or it is no index at all. Anything else passes: another program is at it, the disk is full.
_SPOILED = frozenset({sqlite3.SQLITE_ERROR, sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB})
Key = tuple[str, str]  # a page's path and its id


class Reader(NamedTuple):
    """What is read from pages (`kind`), and a name for the way of reading it: facts by another way are not used."""

    kind: str
    way: str


class Answer(NamedTuple):
    """What was said, and how the command ended."""

    code: int
    text: str


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
            throw_away(root)
    except OSError:
        return


def answer_to(root: Path | str, question: str, state: str) -> Answer | None:
    """What was answered to a question while the book was in that state, if that is known."""
    try:
        with closing(_opened(root)) as index:
            row = index.execute(_said("answer"), (question, state)).fetchone()
    except (sqlite3.Error, OSError, UnicodeError):
        return None
    if row is None or row[2] != _seal(question, state, row[0], row[1]):
        return None
    return Answer(row[0], row[1])


def keep_answer(root: Path | str, question: str, state: str, answer: Answer) -> None:
    """Keeps an answer, in place of what was answered in another state; the oldest give way."""
    try:
        with closing(_opened(root)) as index, index:
            index.execute(_said("begin answers"))
            index.execute(_said("keep answer"), (question, state, *answer, _seal(question, state, *answer)))
            index.execute(_said("forget old answers"))
    except sqlite3.Error as error:
        if error.sqlite_errorcode in _SPOILED:
            throw_away(root)
    except (OSError, UnicodeError):  # a command line may hold bytes that are no text
        return


def _seal(*parts: object) -> str:
    return sha1(repr(parts).encode(), usedforsecurity=False).hexdigest()


def _path(root: Path | str) -> str:
    return f"{root}/{HISTORY}/{STATE}/{NAME}"


def is_spoiled(root: Path) -> bool:
    """True if there is an index that no longer holds together."""
    try:
        with closing(_opened(root)) as index:
            return bool(index.execute("PRAGMA quick_check(1)").fetchone()[0] != "ok")
    except sqlite3.Error as error:
        return error.sqlite_errorcode in _SPOILED
    except OSError:
        return False


def _opened(root: Path | str) -> sqlite3.Connection:
    path = _path(root)
    folder = os.path.dirname(path)
    if os.path.islink(path) or os.path.islink(folder) or not os.path.isdir(folder):
        raise OSError("not a folder of ours")
    if os.path.lexists(path) and not os.path.isfile(path):  # a pipe would keep us waiting for ever
        raise OSError("not a file of ours")
    index = sqlite3.connect(path, timeout=PATIENCE)
    index.execute("PRAGMA synchronous = OFF")  # what a power cut spoils is thrown away
    return index


def throw_away(root: Path | str) -> None:
    """Takes the index away: it is made anew when it is wanted."""
    with suppress(OSError):
        os.unlink(_path(root))


def _said(name: str) -> str:
    return _statements()[name]


@cache
def _statements() -> dict[str, str]:
    """What `index.sql` holds, by the names in its remarks."""
    # Not by importlib.resources, which takes as long to load as a query; out of an archive nothing is remembered.
    with open(f"{os.path.dirname(__file__)}/index.sql", encoding="utf-8") as stream:
        text = stream.read()
    parts = (part.partition("\n") for part in text.split("\n-- ")[1:])
    return {name: statement.strip() for name, _, statement in parts}
