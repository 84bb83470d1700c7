"""One bake: written down, scored, looked at."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.results.common import Written

if TYPE_CHECKING:
    from ovenleaf.compare.trial_view import TrialView
    from ovenleaf.domain.book import BookPage
    from ovenleaf.domain.trial import Marks


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Scored(Written):
    """Marks that were added to a trial."""

    view: TrialView
    book: BookPage
    marks: Marks
    corrected: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownTrial:
    """One trial beside its plan, to look at."""

    view: TrialView
    book: BookPage
