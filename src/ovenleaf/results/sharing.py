"""A book shared, joined, and its open questions settled."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.results.common import Written

if TYPE_CHECKING:
    from pathlib import Path

    from ovenleaf.compare.news import Asked, BroughtTogether, Contents, News, Renamed


@dataclass(frozen=True, slots=True, kw_only=True)
class Shared(Written):
    """What sharing did. `reached` is False where the place did not answer, and `why_not` says so; `waiting`
    counts the entries that are not there yet. `notes` are sentences on parts, names and pages."""

    title: str
    me: str
    at: str
    shown: str
    sent: bool = False
    reached: bool = True
    why_not: str = ""
    first: bool = False
    contents: Contents
    came: News
    went: News
    together: tuple[BroughtTogether, ...] = ()
    asked: tuple[Asked, ...] = ()
    waiting: int = 0
    renamed: tuple[Renamed, ...] = ()
    notes: tuple[str, ...] = ()
    unsaved: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Invited:
    """What to send to somebody who is to join."""

    title: str
    shown: str
    folder: str
    by: str
    shared: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Joined(Written):
    """A copy of a book that somebody shares."""

    title: str
    folder: Path
    me: str
    contents: Contents
    last_by: str
    last_at: str
    now: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SettledRow:
    """One item that was settled: its value, and whose it was, "" where it is between or beside."""

    item: str
    value: str
    whose: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Settled(Written):
    """Open questions that were settled. `spoken` names the revision, and what it was made from; "" for other pages.

    `rows` are those settled now, `stands` those that had been clear; `left` are items still open. `new_name` is
    a formula of its own that the other proposal became.
    """

    title: str
    page: str
    me: str
    spoken: str
    made_from: str
    rows: tuple[SettledRow, ...]
    left: tuple[str, ...]
    kept: tuple[str, ...]
    waiting: int
    shares: bool
    new_name: str = ""
