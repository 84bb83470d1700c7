"""Who tastes: a name this book knows, or a new one. A slip of the fingers does not become a taster of its own."""

from __future__ import annotations

import difflib
from itertools import islice
from typing import TYPE_CHECKING

from ovenleaf.book.names import newest_first, trial_pages
from ovenleaf.book.steps.bakes import read_one
from ovenleaf.domain.trial import State
from ovenleaf.errors import Refusal, SayWhich

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from ovenleaf.domain.book import BookPage
    from ovenleaf.domain.trial import Trial

_FEW = 40  # names that are looked at to find somebody else; a name comes up with each bake
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


class NotBaked(Refusal):
    """The trial is not at the point where it can be scored. Fact: `code`."""

    def __init__(self, code: str, state: State) -> None:
        super().__init__(f"Trial {code} is {state.value}, so there is nothing to taste.")
        self.code = code


def refuse_unbaked(trial: Trial) -> None:
    """Raise NotBaked for a trial that nobody can have tasted."""
    if trial.state in (State.PLANNED, State.WITHDRAWN):
        raise NotBaked(trial.code, trial.state)


def somebody_else(root: Path, book: BookPage, trial: Trial, who: str) -> str:
    """One who tastes in this book, as far as its newest bakes tell, and gave no marks to this trial yet; or ""."""
    gave = {who, *(marks.taster for marks in trial.scores)}
    return next((name for name in islice(_tasters(root, book, who), _FEW) if name not in gave), "")


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
