"""Add a taster's marks to a trial. A mark that is already there changes only visibly, with its reason."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from ovenleaf.book import layout
from ovenleaf.book.steps.bakes import find_trial, page_of
from ovenleaf.book.steps.hand_edits import refuse_edited
from ovenleaf.book.steps.marks_in_words import apart, marks_or_refused
from ovenleaf.book.steps.opening import open_book, open_pantry, settle_baker, working_page
from ovenleaf.book.steps.recording import check_marks
from ovenleaf.book.steps.sheets import kept_sheet
from ovenleaf.book.steps.shelf import revision_of, shelf_of
from ovenleaf.book.steps.signing import Stamp, put
from ovenleaf.book.steps.swapping import as_begun
from ovenleaf.book.steps.tasting import refuse_unbaked, settle_taster
from ovenleaf.book.steps.telling import MarkOptions
from ovenleaf.compare.trial_view import trial_view
from ovenleaf.domain.figures import mark_as_given
from ovenleaf.domain.late_marks import late_lines
from ovenleaf.domain.trial import ATTRIBUTES, Correction, Marks, Trial
from ovenleaf.errors import Next, Refusal
from ovenleaf.records.codec.scoring import with_marks
from ovenleaf.records.codec.trials import read_trial
from ovenleaf.records.yaml_text import read
from ovenleaf.results import Scored

if TYPE_CHECKING:
    from datetime import datetime
    from decimal import Decimal
    from pathlib import Path

    from ovenleaf.domain.book import BookPage

__all__ = ["MarkOptions", "Marks", "apart", "score"]


class NothingScored(Refusal):
    """No mark was given. Facts: `code`, `taster`, if that is not the baker."""

    def __init__(self, code: str, taster: str) -> None:
        super().__init__(
            f"No marks were given for trial {code}.",
            detail=("Marks are told as in --crumb 7 --crust 8.",),
            next=(Next(f"ovenleaf score {code}{f' --taster {taster}' if taster else ''}", "asked for, at a terminal"),),
        )
        self.code = code
        self.taster = taster


class AlreadyScored(Refusal):
    """The taster gave another mark before. Facts: `code`, `taster`, `changed` as (field, was, now)."""

    def __init__(self, code: str, taster: str, changed: tuple[tuple[str, str, str], ...], command: str) -> None:
        told = ", ".join(f"{field} {was}" for field, was, _ in changed)
        super().__init__(
            f"{taster} has given trial {code} marks already: {told}.",
            detail=("To put a mark right, say why: the old one stays visible in the trial.",),
            next=(Next(f'{command} --why "typed the wrong mark"'),),
        )
        self.code = code
        self.taster = taster
        self.changed = changed


class SameMarks(Refusal):
    """The taster gave just these marks before. Facts: `code`, `taster`."""

    def __init__(self, code: str, marks: Marks) -> None:
        told = ", ".join(f"{name} {mark_as_given(v)}" for name in ATTRIBUTES if (v := getattr(marks, name)) is not None)
        super().__init__(
            f"Nothing to add: {marks.taster} has told just this of trial {code} already{f': {told}' if told else ''}.",
            next=(Next(f"ovenleaf show {code}", "what its page holds"),),
        )
        self.code = code
        self.taster = marks.taster


def score(
    given: Path | None,
    start: Path,
    typed: str,
    options: MarkOptions,
    *,
    answers: Marks | None = None,
    taster: str = "",
    new_taster: bool = False,
    why: str = "",
    baker: str,
    at: datetime,
    preview: bool = False,
) -> Scored:
    """Add a taster's marks (the baker's own if nobody is named) to the trial that is meant, on that trial's scale.

    `answers` are marks that were asked for, under a name that is settled; the `options` are left aside then.
    """
    book = open_book(given, start)
    who = settle_baker(book.root, baker)
    which, words = apart(typed)
    trial = find_trial(book.root, which)
    name = settle_taster(book.root, book.page, taster, who, new=new_taster) if answers is None else answers.taster
    marks = answers or marks_or_refused(words, name, options)
    scale = trial.scale or book.page.scale
    _check(trial, marks, book.page, who)
    corrections = _corrections(trial, marks, why, who, at)
    page = page_of(trial.name)
    refuse_edited(book.root, page, "Not scored")
    before = layout.read_page(book.root, page)
    told = working_page(book.root, page)
    text = with_marks(told, marks, scale, corrections, late_lines(trial, marks, who, at))
    if text == told.text:
        raise SameMarks(trial.code, marks)
    stamp = Stamp(by=who, at=at, verb="score", preview=preview)
    ahead = put(book.root, {page: text}, stamp, _subject(trial, marks), why, expect={page: before})
    pantry = open_pantry(book.root)
    shelf = shelf_of(book.root, trial.formula)
    sheet = as_begun(kept_sheet(shelf, revision_of(shelf, trial.revision), pantry), trial, pantry)
    return Scored(
        view=trial_view(read_trial(read(text, path=page)), sheet, pantry),
        book=book.page,
        marks=marks,
        corrected=tuple(made.field for made in corrections),
        ahead=ahead,
    )


def _check(trial: Trial, marks: Marks, book: BookPage, who: str) -> None:
    refuse_unbaked(trial)
    if marks == Marks(taster=marks.taster):
        raise NothingScored(trial.code, marks.taster if marks.taster != who else "")
    if trial.scale in (None, book.scale):
        check_marks(marks, book)
    else:
        check_marks(marks, replace(book, scale=trial.scale), f"trial {trial.code}")


def _corrections(trial: Trial, marks: Marks, why: str, who: str, at: datetime) -> tuple[Correction, ...]:
    """The marks that change, each with what it was. Raises AlreadyScored where no reason is given."""
    known = next((one for one in trial.scores if one.taster == marks.taster), None)
    if known is None:
        return ()
    changed = tuple(
        (name, mark_as_given(old), mark_as_given(new))
        for name in ATTRIBUTES
        if _differ(old := getattr(known, name), new := getattr(marks, name))
    )
    if changed and not why:
        said = " ".join(f"--{name} {now}" for name, _, now in changed)
        raise AlreadyScored(
            trial.code, marks.taster, changed, f"ovenleaf score {trial.code} --taster {marks.taster} {said}"
        )
    when = at.isoformat(timespec="seconds")
    return tuple(
        Correction(field=f"scores.{marks.taster}.{name}", was=was, now=now, by=who, at=when, why=why)
        for name, was, now in changed
    )


def _differ(old: Decimal | None, new: Decimal | None) -> bool:
    return old is not None and new is not None and old != new


def _subject(trial: Trial, marks: Marks) -> str:
    given = [f"{name} {mark_as_given(value)}" for name in ATTRIBUTES if (value := getattr(marks, name)) is not None]
    return f"{trial.formula} {trial.code} ({marks.taster}): {', '.join(given) or 'a remark'}"
