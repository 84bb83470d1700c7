"""The trials of one formula, of several or of the whole book, each with its figures, for a spreadsheet."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book.steps.bakes import read_trials
from ovenleaf.book.steps.opening import open_pantry, open_to_read
from ovenleaf.book.steps.sheets import sheets_of
from ovenleaf.book.steps.shelf import take
from ovenleaf.compare.figures import figures
from ovenleaf.domain.batch import flour_in_batch
from ovenleaf.errors import Next, Refusal
from ovenleaf.evidence.ranking import outcome
from ovenleaf.results.publishing import TrialRow, TrialTable

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import datetime
    from pathlib import Path

    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.sheet import Sheet
    from ovenleaf.domain.trial import Trial
    from ovenleaf.evidence.ranking import Weights


class NothingBaked(Refusal):
    """There is no trial to put in a table. Fact: `formulas`."""

    def __init__(self, formulas: tuple[str, ...]) -> None:
        of = f" of {' or '.join(formulas)}" if formulas else ""
        super().__init__(
            f"There is no trial{of} yet, so there is nothing to publish.",
            next=(Next("ovenleaf list", "what is in the book"),),
        )
        self.formulas = formulas


def trial_table(given: Path | None, start: Path, words: Sequence[str], now: datetime) -> TrialTable:
    """Every trial that can be read, oldest first, whatever became of it. Raises NothingBaked.

    A trial whose revision cannot be read has what its own page says and no figures.
    """
    book = open_to_read(given, start)
    names = tuple(take(book.root, word).name for word in words)
    read, findings = read_trials(book.root)
    trials = tuple(trial for trial in read if not names or trial.formula in names)
    if not trials:
        raise NothingBaked(names)
    pantry = open_pantry(book.root)
    sheets, faults = sheets_of(book.root, trials, pantry)
    weights = book.page.weights
    rows = tuple(_row(trial, sheets.get((trial.formula, trial.revision)), weights, pantry) for trial in trials)
    return TrialTable(made=now.date().isoformat(), rows=rows, findings=(*book.findings, *findings, *faults))


def _row(trial: Trial, sheet: Sheet | None, weights: Weights, pantry: Pantry) -> TrialRow:
    return TrialRow(
        trial=trial,
        flour=flour_in_batch(trial.batch, sheet.worked) if sheet else None,
        outcome=outcome(trial.scores, weights),
        figures=tuple(figures(trial, sheet.worked, pantry).items()) if sheet else (),
        planned=tuple((share.item, share.pct) for share in sheet.worked.whole) if sheet else (),
    )
