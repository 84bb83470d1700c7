"""What pages of a whole book are made from, beside the answers of other jobs: its bakes, its pictures, its pairs."""

from __future__ import annotations

from contextlib import suppress
from typing import TYPE_CHECKING

from ovenleaf.book import layout
from ovenleaf.book.steps.bakes import mixed_for, read_trials
from ovenleaf.book.steps.once import read_once
from ovenleaf.book.steps.opening import open_pantry, open_to_read
from ovenleaf.book.steps.photos import FOLDER
from ovenleaf.book.steps.sheets import kept_sheet, sheets_of
from ovenleaf.book.steps.shelf import shelf_of
from ovenleaf.compare.trial_view import trial_view
from ovenleaf.errors import Refusal
from ovenleaf.evidence.ranking import outcome
from ovenleaf.records.pictures.cleaning import cleaned
from ovenleaf.records.pictures.parts import PictureFault
from ovenleaf.results import History, Listing, RankedTrials, ShownTrial

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from pathlib import Path

    from ovenleaf.domain.sheet import Sheet
    from ovenleaf.domain.trial import Trial
    from ovenleaf.evidence.ranking import Outcome
    from ovenleaf.results import HistoryRow

__all__ = [
    "Bakes",
    "History",
    "Listing",
    "RankedTrials",
    "all_bakes",
    "bakes_shown",
    "kept_sheets",
    "pairs",
    "pictures",
    "read_once",
]

Bakes = tuple[tuple["Trial", "Outcome"], ...]  # each with how it came out

FEW = 6  # revisions; up to so many, each is set beside each


def all_bakes(given: Path | None, start: Path) -> Bakes:
    """Every trial that can be read, oldest first, with how it came out."""
    book = open_to_read(given, start)
    return tuple((trial, outcome(trial.scores, book.page.weights)) for trial in read_trials(book.root)[0])


def bakes_shown(given: Path | None, start: Path, formula: str) -> tuple[ShownTrial, ...]:
    """Every trial of a formula beside its plan, oldest first; those whose revision cannot be read are left out."""
    book = open_to_read(given, start)
    pantry = open_pantry(book.root)
    trials, _ = read_trials(book.root, formula)
    sheets, _ = sheets_of(book.root, trials, pantry)
    return tuple(
        ShownTrial(view=trial_view(trial, sheet, pantry, mixed_for(trial, trials)), book=book.page)
        for trial in trials
        if (sheet := sheets.get((trial.formula, trial.revision))) is not None
    )


def kept_sheets(given: Path | None, start: Path, formula: str) -> tuple[Sheet, ...]:
    """The sheet of each saved revision that can be read, by number."""
    book = open_to_read(given, start)
    shelf = shelf_of(book.root, formula)
    found = []
    for kept in shelf.kept:
        with suppress(Refusal):  # the formula's history tells of it
            found.append(kept_sheet(shelf, kept, open_pantry(book.root)))
    return tuple(found)


def pictures(given: Path | None, start: Path, files: Sequence[str]) -> Iterator[tuple[str, bytes]]:
    """Those files that are pictures of the book, each as it may be shown to others: without place and camera."""
    root = open_to_read(given, start).root
    for file in dict.fromkeys(files):
        try:
            data = layout.read_file(root, file) if file.startswith(f"{FOLDER}/") else None
            if data is not None:
                yield file, cleaned(data).data
        except (PictureFault, layout.NotAPage):
            continue


def pairs(rows: Sequence[HistoryRow]) -> tuple[tuple[HistoryRow, HistoryRow], ...]:
    """The revisions that are worth setting side by side, older first: each beside each where they are few, else each
    beside what it was made from, the one before it, and the keeper."""
    found = []
    for at, newer in enumerate(rows):
        for older in rows[:at]:
            near = str(older.revision) in newer.made_from or older is rows[at - 1]
            if len(rows) <= FEW or near or "keeper" in (older.mark, newer.mark):
                found.append((older, newer))
    return tuple(found)
