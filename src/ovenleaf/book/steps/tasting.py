"""Who tastes: a name this book knows, or a new one. A slip of the fingers does not become a taster of its own."""

from __future__ import annotations

import difflib
from typing import TYPE_CHECKING

from ovenleaf.book.names import newest_first, trial_pages
from ovenleaf.book.steps.bakes import read_one
from ovenleaf.errors import Refusal, SayWhich

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from ovenleaf.domain.book import BookPage

_NEAR = 0.75  # of the letters in common: tomas and tomsa, but not ben and jen


class UnknownTaster(SayWhich):
    """A name nobody tasted under yet, spelled much like one that did. Facts: `taster`, `near`."""

    def __init__(self, taster: str, near: str) -> None:
        super().__init__(
            f"Nobody has tasted in this book as {taster} yet. Did you mean {near}?",
            taster,
            (near,),
            detail=(f"If {taster} is somebody else, say so by adding --new-taster.",),
        )
        self.taster = taster
        self.near = near


def settle_taster(root: Path, book: BookPage, typed: str, who: str, *, new: bool = False) -> str:
    """Under which name marks are kept: the baker's own where none is typed, or a known one whatever its capitals.

    A name that is new is taken as it is, unless it is much like a known one and was not said to be
    `new`. Raises UnknownTaster.
    """
    if not typed or typed == who:
        return typed or who
    known = []
    for name in _tasters(root, book, who):
        if name.lower() == typed.lower():
            return name
        known.append(name)
    near = difflib.get_close_matches(typed.lower(), dict.fromkeys(known), n=1, cutoff=_NEAR)
    if near and not new:
        raise UnknownTaster(typed, near[0])
    return typed


def _tasters(root: Path, book: BookPage, who: str) -> Iterator[str]:
    """Those the book names, then those who scored a bake, the newest bakes first."""
    yield from (who, *book.bakers, *book.tasters)
    for page in newest_first(trial_pages(root)):
        try:
            trial = read_one(root, page)
        except Refusal:
            continue  # `check` tells of it
        yield from (trial.baker, *(marks.taster for marks in trial.scores))
