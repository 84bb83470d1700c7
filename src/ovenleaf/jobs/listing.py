"""What is in the book: its formulas, and the last trials."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from ovenleaf.book.steps.bakes import read_trials, refused
from ovenleaf.book.steps.benching import held_of
from ovenleaf.book.steps.marking import marks_page_of, readable_marks
from ovenleaf.book.steps.opening import open_to_read
from ovenleaf.book.steps.planned import planned_of
from ovenleaf.book.steps.shelf import formula_names, is_draft, newest, shelf_of, spoken, spoken_of
from ovenleaf.errors import Refusal
from ovenleaf.evidence.ranking import outcome
from ovenleaf.records.upgrade import NEWER
from ovenleaf.results import ListedFormula, Listing

if TYPE_CHECKING:
    from datetime import datetime
    from pathlib import Path

    from ovenleaf.findings import Finding

LAST = 8


def listing(given: Path | None, start: Path, at: datetime) -> Listing:
    """What is in hand, all formulas by name, and the last few trials. A broken page is told of and stops nothing."""
    book = open_to_read(given, start)
    trials, findings = read_trials(book.root)
    counts = Counter(trial.formula for trial in trials)
    faults: list[Finding] = [*book.findings, *findings]
    formulas = tuple(_listed(book.root, name, counts[name], faults) for name in formula_names(book.root))
    last = trials[-LAST:]
    held, unread = held_of(book, trials)
    return Listing(
        book=book.page,
        formulas=formulas,
        trials=tuple((trial, outcome(trial.scores, book.page.weights)) for trial in last),
        spoken=spoken_of(book.root, last),
        trial_count=len(trials),
        findings=(*faults, *unread),
        now=at.isoformat(timespec="seconds"),
        in_hand=held,
        planned=planned_of("", trials),
    )


def _listed(root: Path, name: str, trials: int, faults: list[Finding]) -> ListedFormula:
    shelf = shelf_of(root, name)
    marks = readable_marks(root, name)
    if shelf.marks_fault is not None:
        faults += refused(marks_page_of(name), shelf.marks_fault)
    try:
        formula = shelf.formula()
        last = newest(shelf).name if shelf.in_force else None
        return ListedFormula(
            name=name,
            title=formula.label,
            revision=last,
            spoken="" if last is None else spoken(shelf.names, last),
            revisions=len(shelf.kept),
            trials=trials,
            draft=is_draft(shelf),
            keeper=marks.keeper,
            away=marks.is_away,
            open=tuple(question.item for question in formula.open),
            taken_back=bool(shelf.kept) and shelf.data is None and not shelf.in_force,
        )
    except Refusal as refusal:
        found = refused(shelf.path, refusal)
        faults += found
        newer = any(finding.code == NEWER for finding in found)
    return ListedFormula(
        name=name,
        title=name,
        revision=shelf.kept[-1].name if shelf.kept else None,
        spoken="",
        revisions=len(shelf.kept),
        trials=trials,
        draft=False,
        broken=True,
        newer=newer,
    )
