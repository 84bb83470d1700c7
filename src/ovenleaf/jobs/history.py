"""All revisions of a formula: what each changed, why, and what came of it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book.steps.bakes import read_trials, refused
from ovenleaf.book.steps.marking import marks_page_of, readable_marks
from ovenleaf.book.steps.opening import OpenBook, open_book, open_pantry
from ovenleaf.book.steps.sheets import kept_sheet
from ovenleaf.book.steps.shelf import Kept, Shelf, reads_as_draft, spoken, take
from ovenleaf.compare.formula_diff import compare
from ovenleaf.compare.headline import phrases
from ovenleaf.errors import Refusal
from ovenleaf.evidence.ranking import pooled
from ovenleaf.results import History, HistoryRow

if TYPE_CHECKING:
    from pathlib import Path

    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.sheet import Sheet
    from ovenleaf.domain.trial import Trial
    from ovenleaf.findings import Finding


def history(given: Path | None, start: Path, formula: str) -> History:
    """The kept revisions, oldest first, each with how its doughs came out."""
    book = open_book(given, start)
    shelf = take(book.root, formula)
    pantry = open_pantry(book.root)
    trials, findings = read_trials(book.root, shelf.name)
    faults: list[Finding] = list(findings)
    if shelf.marks_fault is not None:
        faults += refused(marks_page_of(shelf.name), shelf.marks_fault)
    marks = readable_marks(book.root, shelf.name).standing
    sheets: dict[str, Sheet] = {}
    rows = []
    for kept in shelf.kept:
        try:
            sheets[str(kept.name)] = kept_sheet(shelf, kept, pantry)
        except Refusal as refusal:
            faults += refused(kept.path, refusal)
            continue
        rows.append(_row(book, shelf, kept, sheets, trials, marks, pantry))
    last = rows[-1].revision if rows else None
    return History(
        name=shelf.name,
        title=sheets[str(last)].formula.label if last else shelf.name,
        rows=tuple(rows),
        draft=reads_as_draft(shelf),
        findings=tuple(faults),
    )


def _row(
    book: OpenBook,
    shelf: Shelf,
    kept: Kept,
    sheets: dict[str, Sheet],
    trials: tuple[Trial, ...],
    marks: dict[str, str],
    pantry: Pantry,
) -> HistoryRow:
    name = str(kept.name)
    formula = sheets[name].formula
    own = [trial for trial in trials if trial.revision == name]
    doughs, outcome = pooled(own, book.page.weights, book.page.scale)
    base = sheets.get(formula.made_from[0]) if formula.made_from else None
    return HistoryRow(
        revision=kept.name,
        spoken=spoken(shelf.names, kept.name),
        by=formula.by,
        saved=formula.saved,
        why=formula.why,
        made_from=formula.made_from,
        mark=marks.get(name, ""),
        pin=kept.pin,
        trials=len(own),
        doughs=doughs,
        outcome=outcome,
        differing=() if base is None else phrases(compare(base, sheets[name], pantry)),
    )
