"""One bake: written down, scored, looked at."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.results.common import Written

if TYPE_CHECKING:
    from datetime import datetime

    from ovenleaf.compare.trial_view import TrialView
    from ovenleaf.domain.bench_log import Runs
    from ovenleaf.domain.bench_plan import PlanStep
    from ovenleaf.domain.book import BookPage
    from ovenleaf.domain.hearing import Heard
    from ovenleaf.domain.scaling import Bowl
    from ovenleaf.domain.sheet import Sheet
    from ovenleaf.domain.trial import Correction, Marks, Trial
    from ovenleaf.evidence.moves import Move
    from ovenleaf.findings import Finding


@dataclass(frozen=True, slots=True, kw_only=True)
class OnPaper:
    """A filled-in sheet that a trial was written down from: when it was printed, as a date; the boxes that could
    not be read; what was kept word for word, each with its line."""

    source: str
    printed: str
    unread: tuple[str, ...]
    kept: tuple[tuple[int, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Recorded(Written):
    """A trial that was written down."""

    view: TrialView
    book: BookPage
    today: bool
    newest: bool  # False where a revision that is not the newest was named
    keeper: str = ""  # as a screen says it, where none was named and the keeper is another than the newest
    newest_spoken: str = ""
    paper: OnPaper | None = None
    in_hand: tuple[str, ...] = ()  # the codes of bakes of this formula that are in hand, and stay so
    taster: str = ""  # somebody else who tastes in this book, or ""
    first: bool = False  # no bake of this formula was recorded before
    beside: bool = False  # this is the newest revision, and the one before it was baked too
    card: bool = False  # something was weighed of a formula that was adopted from a card


@dataclass(frozen=True, slots=True, kw_only=True)
class Scored(Written):
    """Marks that were added to a trial."""

    view: TrialView
    book: BookPage
    marks: Marks
    corrected: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptPhoto:
    """One picture that was kept: the name it was given by, its file in the book, its size, what was taken out."""

    shown: str
    page: str
    format: str
    size: int  # bytes
    width: int
    height: int
    taken_out: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Photographed(Written):
    """Pictures that were put with a trial. `known` holds (name given, file of the book) of those it had already."""

    trial: Trial
    label: str
    spoken: str
    photos: tuple[KeptPhoto, ...]
    known: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownTrial:
    """One trial beside its plan, to look at. `taster` is one who tastes in this book and has not scored it, or ""."""

    view: TrialView
    book: BookPage
    taster: str = ""
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class BegunBake(Written):
    """A bake that was begun. `ahead_bowls` are what is made before the process, weighed for this batch where its size
    is known; `of_page`: the batch is the page's own; `shared` is the trial whose dough this is, or None."""

    trial: Trial
    sheet: Sheet
    plan: tuple[PlanStep, ...]
    at: datetime
    ahead_bowls: tuple[Bowl, ...] = ()
    of_page: bool = False
    shared: Trial | None = None
    runs: Runs = ()
    newest: bool = True
    keeper: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Jotted(Written):
    """A line that was added to a trial. `others` are the codes of other bakes in hand; `named` is True where the
    trial was named; `before` are the bytes of its page before, for taking the line back."""

    trial: Trial
    label: str
    heard: tuple[Heard, ...]
    words: str
    resumed: bool
    others: tuple[str, ...]
    named: bool
    before: bytes


@dataclass(frozen=True, slots=True, kw_only=True)
class TakenBack(Written):
    """A line that was taken back: it stays in the log, with a word."""

    code: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Finished(Written):
    """A bake that was closed. `others` are the codes of bakes still in hand; `taster` is one who tastes in this book
    and has not scored this bake, or ""; `card` says that something was weighed of what was adopted from a card."""

    view: TrialView
    book: BookPage
    others: tuple[str, ...] = ()
    taster: str = ""
    card: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Corrected(Written):
    """A trial that was put right. `added` are values that were not recorded so far.

    What it moves: `moves` and `revisions` in the ranking of its formula, `diffs` two revisions each as
    typed; `spoken` is every revision named here as a screen says it.
    """

    view: TrialView
    corrections: tuple[Correction, ...]
    added: tuple[tuple[str, str], ...]
    moves: tuple[Move, ...]
    revisions: tuple[Move, ...]
    diffs: tuple[tuple[str, str], ...]
    spoken: tuple[tuple[str, str], ...]
