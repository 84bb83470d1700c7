"""What each bake's page lacks for repeating it and for comparing it: those that lack least first."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book.steps.bakes import mixed_for, read_trials
from ovenleaf.book.steps.opening import open_pantry, open_to_read
from ovenleaf.book.steps.sheets import sheets_of
from ovenleaf.compare.trial_view import TrialView, trial_view
from ovenleaf.domain.trial import State
from ovenleaf.results import Gaps

if TYPE_CHECKING:
    from pathlib import Path

_NOT_BAKED = (State.PLANNED, State.IN_HAND, State.WITHDRAWN)  # or not to its end


def gaps(given: Path | None, start: Path) -> Gaps:
    """The trials that lack something. A broken page is told of and stops nothing."""
    book = open_to_read(given, start)
    pantry = open_pantry(book.root)
    trials, findings = read_trials(book.root)
    baked = tuple(trial for trial in trials if trial.state not in _NOT_BAKED)
    sheets, unread = sheets_of(book.root, baked, pantry)
    views = tuple(
        trial_view(trial, sheets[trial.formula, trial.revision], pantry, mixed_for(trial, trials))
        for trial in reversed(baked)
        if (trial.formula, trial.revision) in sheets
    )
    return Gaps(
        book=book.page,
        rows=tuple(sorted((view for view in views if view.gaps), key=_far_from_whole)),
        looked_at=len(views),
        repeatable=sum(not view.missing for view in views),
        comparable=sum(not view.missing_to_compare for view in views),
        findings=(*book.findings, *findings, *unread),
    )


def _far_from_whole(view: TrialView) -> tuple[int, int]:
    """How much is missing, for repeating above all; the newest stands first among equals."""
    return len(view.missing), len(view.gaps)
