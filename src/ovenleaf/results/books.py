"""A book: begun, listed, looked over, at this moment."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.findings import Severity
from ovenleaf.results.common import Written

if TYPE_CHECKING:
    from pathlib import Path

    from ovenleaf.compare.found import Fit
    from ovenleaf.compare.trial_view import TrialView
    from ovenleaf.domain.book import BookPage
    from ovenleaf.domain.finding import Asked
    from ovenleaf.domain.held import Held
    from ovenleaf.domain.revision import RevisionName
    from ovenleaf.domain.slip import Slip
    from ovenleaf.domain.taken_back import TakenBack
    from ovenleaf.domain.trial import Trial
    from ovenleaf.evidence.ranking import Outcome
    from ovenleaf.findings import Finding


@dataclass(frozen=True, slots=True, kw_only=True)
class Started(Written):
    """A new book."""

    folder: Path
    page: BookPage
    baker: str
    formulas: tuple[str, ...] = ()
    trials: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class ListedFormula:
    """A formula in a list."""

    name: str
    title: str
    revision: RevisionName | None
    spoken: str  # the revision as a screen says it, "" where none is saved
    revisions: int
    trials: int
    draft: bool
    keeper: str = ""
    away: bool = False
    broken: bool = False
    newer: bool = False  # broken only in that a newer ovenleaf wrote it
    taken_back: bool = False  # with its every revision
    open: tuple[str, ...] = ()  # what two bakers changed in two ways


@dataclass(frozen=True, slots=True, kw_only=True)
class Listing:
    """What is in the book."""

    book: BookPage
    formulas: tuple[ListedFormula, ...]
    trials: tuple[tuple[Trial, Outcome], ...]
    trial_count: int
    findings: tuple[Finding, ...]
    now: str
    in_hand: tuple[Held, ...]
    planned: tuple[Trial, ...]
    spoken: tuple[tuple[tuple[str, str], str], ...]  # each trial's formula and revision, as a screen says the latter


@dataclass(frozen=True, slots=True, kw_only=True)
class Gaps:
    """What the pages of the trials lack, those that lack least first; trials that are planned, in hand or
    withdrawn have no row. `repeatable` and `comparable` count those that lack nothing for it, of `looked_at`."""

    book: BookPage
    rows: tuple[TrialView, ...]
    looked_at: int
    repeatable: int
    comparable: int
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """Bakes that were looked for. `each` says how many fit each thing that was asked by itself; `common` what those
    that fit all of it recorded alike: (name, from lowest to highest)."""

    book: BookPage
    asked: tuple[Asked, ...]
    each: tuple[int, ...]
    fits: tuple[Fit, ...]
    looked_at: int
    common: tuple[tuple[str, str], ...]
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckReport:
    """The whole book looked over. `mended` says what was put right before, `not_mended` what could not be; `ahead` is
    as in `Written`."""

    findings: tuple[Finding, ...]
    formulas: int
    revisions: int
    trials: int
    pages: int
    mended: tuple[str, ...] = ()
    not_mended: tuple[str, ...] = ()
    repaired: bool = False
    ahead: str = ""

    @property
    def trouble(self) -> bool:
        """True if there is an error or a warning; notes are no trouble."""
        return any(finding.severity is not Severity.NOTE for finding in self.findings)


@dataclass(frozen=True, slots=True, kw_only=True)
class Repaired(Written):
    """What was mended, a sentence each, and what could not be."""

    done: tuple[str, ...]
    left: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Answered(Written):
    """Slips that the baker called meant."""

    formula: str
    slips: tuple[Slip, ...]
    meant: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Now:
    """What is going on in a book."""

    book: BookPage
    now: str
    in_hand: tuple[Held, ...]
    planned: tuple[Trial, ...]
    drafts: tuple[str, ...]
    unsaved: tuple[str, ...]
    last: Trial | None
    cut_off: str
    findings: tuple[Finding, ...]
    formulas: int
    trials: int
    open: tuple[tuple[str, str], ...]  # what two bakers, or a card, left to settle: formula and item
    not_shared: int | None  # entries that are not where the book is shared; None where it is shared with nobody
    likely: str  # the formula that was baked last, else the first one; "" where there is none
    begun: tuple[str, ...] = ()  # those of the drafts of which no revision was ever kept


@dataclass(frozen=True, slots=True, kw_only=True)
class Undone(Written):
    """The last entry taken back. `what` is its one line, `entered` when it was written; `told` what became of each
    thing in it; `spoken` how a screen says the revisions it names, by formula and revision."""

    what: str
    entered: str
    told: tuple[TakenBack, ...]
    spoken: tuple[tuple[tuple[str, str], str], ...]
