"""Look for bakes by what was measured, done, seen and noted: all that a few words ask for."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book.steps.bakes import read_trials
from ovenleaf.book.steps.opening import open_pantry, open_to_read
from ovenleaf.book.steps.sheets import sheets_of
from ovenleaf.compare.found import fitting, in_common, settled
from ovenleaf.compare.looked import looked_through
from ovenleaf.compare.trial_view import trial_view
from ovenleaf.domain.find_words import looked_for
from ovenleaf.domain.finding import FindFault
from ovenleaf.domain.trial import State
from ovenleaf.errors import Next, Refusal
from ovenleaf.evidence.ranking import outcome
from ovenleaf.results import Found

if TYPE_CHECKING:
    from datetime import date
    from pathlib import Path


class CannotFind(Refusal):
    """What is asked for cannot be understood. Facts: `clause`, `reason`."""

    def __init__(self, fault: FindFault) -> None:
        super().__init__(
            f"Not looked for: {fault.clause}: {fault.what}." if fault.clause.strip(" ,") else "Nothing was asked for.",
            detail=(f"{fault.how[:1].upper()}{fault.how[1:]}{'' if fault.how.endswith('?') else '.'}",),
            next=(Next("ovenleaf find gummy, dough above 26C, since October", "a comma between two means both"),),
        )
        self.clause = fault.clause
        self.reason = fault.what


def find(given: Path | None, start: Path, words: str, today: date) -> Found:
    """The bakes that fit, newest first. Raises CannotFind; a broken page is told of and stops nothing."""
    book = open_to_read(given, start)
    pantry = open_pantry(book.root)
    trials, findings = read_trials(book.root)
    sheets, unread = sheets_of(book.root, trials, pantry)
    bakes = tuple(
        looked_through(
            trial_view(trial, sheets[trial.formula, trial.revision], pantry),
            outcome(trial.scores, book.page.weights).score,
            pantry,
        )
        for trial in reversed(trials)
        if (trial.formula, trial.revision) in sheets
    )
    try:
        asked = settled(looked_for(words, today), bakes)
    except FindFault as fault:
        raise CannotFind(fault) from None
    fits = fitting(asked, bakes)
    if "withdrawn" not in (one.said for one in asked):
        fits = tuple(fit for fit in fits if fit.view.trial.state is not State.WITHDRAWN)
    return Found(
        book=book.page,
        asked=asked,
        each=tuple(len(fitting((one,), bakes)) for one in asked),
        fits=fits,
        looked_at=len(bakes),
        common=in_common(fits, bakes, asked),
        findings=(*book.findings, *findings, *unread),
    )
