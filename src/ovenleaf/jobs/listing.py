"""What is in the book: its formulas, and the last trials."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from ovenleaf.book.steps.bakes import page_finding, read_trials
from ovenleaf.book.steps.marking import readable_marks
from ovenleaf.book.steps.opening import open_book
from ovenleaf.book.steps.shelf import formula_names, is_draft, newest, shelf_of
from ovenleaf.errors import PageRefused, Refusal
from ovenleaf.evidence.ranking import outcome
from ovenleaf.results import ListedFormula, Listing

if TYPE_CHECKING:
    from pathlib import Path

    from ovenleaf.findings import Finding

LAST = 8


def listing(given: Path | None, start: Path) -> Listing:
    """All formulas by name, and the last few trials. A broken page is told of and stops nothing."""
    book = open_book(given, start)
    trials, findings = read_trials(book.root)
    counts = Counter(trial.formula for trial in trials)
    faults: list[Finding] = list(findings)
    formulas = tuple(_listed(book.root, name, counts[name], faults) for name in formula_names(book.root))
    return Listing(
        book=book.page,
        formulas=formulas,
        trials=tuple((trial, outcome(trial.scores, book.page.weights)) for trial in trials[-LAST:]),
        trial_count=len(trials),
        findings=tuple(faults),
    )


def _listed(root: Path, name: str, trials: int, faults: list[Finding]) -> ListedFormula:
    shelf = shelf_of(root, name)
    marks = readable_marks(root, name)
    try:
        formula = shelf.formula()
        return ListedFormula(
            name=name,
            title=formula.label,
            revision=newest(shelf).name if shelf.kept else None,
            revisions=len(shelf.kept),
            trials=trials,
            draft=is_draft(shelf),
            keeper=marks.keeper,
            away=marks.is_away,
        )
    except PageRefused as refusal:
        faults += refusal.findings
    except Refusal as refusal:
        faults.append(page_finding(shelf.path, refusal))
    return ListedFormula(
        name=name,
        title=name,
        revision=shelf.kept[-1].name if shelf.kept else None,
        revisions=len(shelf.kept),
        trials=trials,
        draft=False,
        broken=True,
    )
