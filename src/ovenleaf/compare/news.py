"""What one copy of a book holds that another does not, and what their bakers have to settle: values to be told."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from decimal import Decimal

    from ovenleaf.domain.revision import RevisionName


@dataclass(frozen=True, slots=True, kw_only=True)
class Contents:
    """What a book holds, counted; the days are of the first and last bake, "" without any."""

    formulas: int
    revisions: int
    trials: int
    photos: int
    names: tuple[str, ...]
    first_day: str = ""
    last_day: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class NewRevision:
    """A revision that is new to one of two copies. `words` says what changed, "" where it is the first."""

    formula: str
    title: str
    revision: RevisionName
    words: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class NewBake:
    """A trial that is new to one of two copies; a mark is None where nobody gave one."""

    code: str
    title: str
    revision: str
    by: str
    crumb: Decimal | None
    crust: Decimal | None


@dataclass(frozen=True, slots=True, kw_only=True)
class News:
    """What one copy has that the other had not. `more` tells the rest in words, each with who did it, "" unknown."""

    revisions: tuple[NewRevision, ...] = ()
    bakes: tuple[NewBake, ...] = ()
    more: tuple[tuple[str, str], ...] = ()
    photos: int = 0

    @property
    def empty(self) -> bool:
        """True if there is nothing to tell."""
        return not (self.revisions or self.bakes or self.more or self.photos)


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposal:
    """What somebody proposes, why, and the codes of the bakes behind it."""

    by: str
    value: str
    why: str = ""
    bakes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """One open question. `page` is the word by which `settle` knows the page: a formula, a trial's code, ..."""

    page: str
    title: str
    item: str
    was: str
    proposals: tuple[Proposal, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Renamed:
    """What two copies made under one name, and got another: `kind` is code, trial or revision; `path` is where it
    lies now."""

    kind: str
    path: str
    was: str
    now: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BroughtTogether:
    """A formula that two changed, with its new revision: each item that moved, its value, and whose it is."""

    formula: str
    title: str
    revision: RevisionName
    rows: tuple[tuple[str, str, tuple[str, ...]], ...]
