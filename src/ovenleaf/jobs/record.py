"""Write a trial down: what was really done and how it came out, pinned to the exact revision."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from datetime import date, datetime
from functools import partial
from typing import TYPE_CHECKING

from ovenleaf.book.steps.bakes import free_code, free_name, page_of, read_trials
from ovenleaf.book.steps.benching import in_hand
from ovenleaf.book.steps.card_pages import weighs_a_card
from ovenleaf.book.steps.handed_bake import HandedBake, as_marked, check_day, heard, look_at, no_formula
from ovenleaf.book.steps.handing_in import page_bytes
from ovenleaf.book.steps.opening import open_book, open_pantry, settle_baker
from ovenleaf.book.steps.pages import schema_line
from ovenleaf.book.steps.recording import begun_at, check_said
from ovenleaf.book.steps.sheets import kept_sheet
from ovenleaf.book.steps.shelf import Kept, Shelf, as_typed, is_draft, newest, revision_of, spoken, take
from ovenleaf.book.steps.signing import Stamp, put
from ovenleaf.book.steps.tasting import settle_taster, somebody_else
from ovenleaf.book.steps.telling import NO_OPTIONS, MarkOptions, Options, said_by_options
from ovenleaf.book.steps.unsettled import refuse_unsettled
from ovenleaf.book.steps.which_bake import BakedBefore, NothingTold, WhichWasBaked
from ovenleaf.compare.trial_view import trial_view
from ovenleaf.domain import benchline
from ovenleaf.domain.figures import mark_as_given
from ovenleaf.domain.formula import Step
from ovenleaf.domain.ingredients import Kind
from ovenleaf.domain.paper_boxes import Heard
from ovenleaf.domain.revision import revision_name
from ovenleaf.domain.said import Said, in_words, together
from ovenleaf.domain.trial import State, Trial
from ovenleaf.records.codec.trials import trial_text
from ovenleaf.results import OnPaper, Recorded

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from pathlib import Path

    from ovenleaf.domain.book import BookPage
    from ovenleaf.domain.sheet import Sheet


__all__ = [
    "BakedBefore",
    "MarkOptions",
    "Options",
    "Recorded",
    "Told",
    "WhichWasBaked",
    "page_bytes",
    "record",
    "revision_and_words",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """How a bake was told: by options, by words in spoken order, by a typed-up page, by answers.

    `typed` is all behind the formula's name as it was typed, for a refusal that repeats the command.
    """

    options: Options = NO_OPTIONS
    words: str = ""
    page: bytes | None = None
    source: str = ""
    answers: Said | None = None
    typed: str = ""

    @property
    def nothing(self) -> bool:
        """True if nothing was told in any way."""
        return self == Told(typed=self.typed)


def record(
    given: Path | None,
    start: Path,
    formula: str,
    revision: str,
    told: Told,
    *,
    taster: str = "",
    new_taster: bool = False,
    baker: str,
    at: datetime,
    preview: bool = False,
) -> Recorded:
    """Keep one trial of a formula.

    Raises CannotRecord, NothingTold, WhichWasBaked, BakedBefore, UnknownTaster, and the refusals of its steps.
    """
    book = open_book(given, start)
    who = settle_baker(book.root, baker)
    pantry = open_pantry(book.root)
    handed = None if told.page is None else look_at(told.page, told.source, formula, revision)
    if handed is not None:
        formula, revision = formula or handed.formula, revision or handed.revision
    shelf = take(book.root, formula or no_formula(told.source))
    kept = _revision(shelf, revision, told)
    if told.nothing:
        raise NothingTold(shelf.name, at.date().isoformat())
    sheet = kept_sheet(shelf, kept, pantry)
    settle = partial(settle_taster, book.root, book.page, who=who, new=new_taster)
    taster = settle(taster)
    on_paper = Heard() if handed is None else heard(handed, sheet, at.date(), taster)
    said = _by_known_tasters(_said(told, on_paper, sheet, taster), taster, settle)
    check_said(said, sheet, book.page, at.date())
    check_day(handed, said.bake_date, at.date())
    begun = begun_at(said.started, at, said.bake_date or at.date().isoformat())
    if not revision:
        _refuse_older(shelf, kept, said.bake_date, begun, told)
    said = replace(said, started="" if begun is None else begun.isoformat(timespec="seconds"))
    before, _ = read_trials(book.root, shelf.name)
    trial = _trial(book.root, shelf, kept, said, who, at, book.page)
    trial = as_marked(book.root, trial, handed, on_paper.code, at)
    stamp = Stamp(by=who, at=at, verb="record", preview=preview)
    page = page_of(trial.name)
    ahead = put(
        book.root,
        {page: schema_line("trial", page) + trial_text(trial)},
        stamp,
        _subject(trial, said),
        expect={page: None},
    )
    return Recorded(
        view=trial_view(trial, sheet, pantry),
        book=book.page,
        today=trial.bake_date == at.date().isoformat(),
        newest=kept.name == newest(shelf).name,
        keeper="" if revision else _other_keeper(shelf, kept),
        newest_spoken=spoken(shelf.names, newest(shelf).name),
        paper=_paper(handed, on_paper),
        in_hand=tuple(held.code for held in in_hand(before)),
        taster=somebody_else(book.root, book.page, trial, who),
        first=not before,
        beside=_beside(shelf, kept, before),
        card=weighs_a_card(book.root, trial),
        ahead=ahead,
    )


def _beside(shelf: Shelf, kept: Kept, trials: tuple[Trial, ...]) -> bool:
    """True where this bake of the newest revision can be set beside one of the revision before."""
    earlier = [one.name for one in shelf.kept if one.name != kept.name]
    if kept.name != newest(shelf).name or not earlier:
        return False
    return any(trial.revision == str(earlier[-1]) for trial in trials)


def revision_and_words(words: Sequence[str]) -> tuple[str, str]:
    """What stands behind the formula's name: a revision if the first word is one, and the bake in words.

    >>> revision_and_words(["r2", "crumb", "5,", "tight"]), revision_and_words(["24", "rolls"])
    (('r2', 'crumb 5, tight'), ('', '24 rolls'))
    """
    first = words[0] if words else ""
    named = re.fullmatch(r"r\d+(\.[a-z0-9.-]+)?|keeper", first.rstrip(",")) is not None
    return (first.rstrip(","), " ".join(words[1:])) if named else ("", " ".join(words))


def edited_since(given: Path | None, start: Path, formula: str) -> tuple[str, str] | None:
    """The newest revision, as a screen says it and as it is typed, if the page was edited by hand since; else None."""
    shelf = take(open_book(given, start).root, formula)
    return _newest_in_words(shelf) if shelf.kept and is_draft(shelf) else None


def named_on(told: Told, formula: str, revision: str) -> tuple[str, str]:
    """Formula and revision: as typed, or else as what was handed in says; "" where neither does."""
    if told.page is None:
        return formula, revision
    handed = look_at(told.page, told.source, formula, revision)
    return formula or handed.formula, revision or handed.revision


def _newest_in_words(shelf: Shelf) -> tuple[str, str]:
    name = newest(shelf).name
    return spoken(shelf.names, name), as_typed(shelf.names, name)


def _revision(shelf: Shelf, revision: str, told: Told) -> Kept:
    if not revision and shelf.kept and is_draft(shelf):
        raise WhichWasBaked(shelf.name, *_newest_in_words(shelf), told.typed)
    kept = revision_of(shelf, revision)
    refuse_unsettled(shelf.name, kept.formula(), "record {} {}")
    return kept


def _refuse_older(shelf: Shelf, kept: Kept, day: str, begun: datetime | None, told: Told) -> None:
    """The newest revision was not there yet when it was begun or baked, and another was: which is not guessed."""
    then = [older for older in shelf.in_force if _was_there(older, day, begun)]
    if not then or _was_there(kept, day, begun):
        return
    last = then[-1].name
    earlier = spoken(shelf.names, last), as_typed(shelf.names, last)
    on = date.fromisoformat(day) if begun is None else begun.date()
    clock = "" if begun is None else f"{begun:%H:%M}"
    raise BakedBefore(shelf.name, on, earlier, _newest_in_words(shelf), told.typed, begun=clock)


def _was_there(kept: Kept, day: str, begun: datetime | None) -> bool:
    """Whether a revision had been saved when a dough was begun, or by the end of the day on which it was baked."""
    saved = kept.formula().saved
    if begun is None:
        return not day or saved[: len(day)] <= day
    try:
        return datetime.fromisoformat(saved) <= begun
    except (ValueError, TypeError):
        return saved[:10] <= begun.date().isoformat()  # typed by hand, without its time or offset


def _said(told: Told, on_paper: Heard, sheet: Sheet, taster: str) -> Said:
    """All that was told: what was handed in first, then the words, then the options, which have the last say."""
    said = together(on_paper.said, Said(log=tuple(f"on the sheet: {words}" for _, words in on_paper.kept)))
    if told.words:
        flours = [item for item, kind in sheet.kinds if kind is Kind.FLOUR]
        steps = [step.name for step in sheet.formula.process]
        said = together(said, in_words(told.words, taster=taster, steps=steps, flours=flours))
    if told.answers is not None:
        said = together(said, told.answers)
    return together(said, said_by_options(told.options, taster))


def _paper(handed: HandedBake | None, on_paper: Heard) -> OnPaper | None:
    if handed is None or not handed.is_sheet:
        return None
    return OnPaper(source=handed.source, printed=handed.printed, unread=on_paper.unread, kept=on_paper.kept)


def _other_keeper(shelf: Shelf, kept: Kept) -> str:
    keeper = revision_name(shelf.keeper)
    return "" if keeper is None or keeper == kept.name else spoken(shelf.names, keeper)


def _by_known_tasters(said: Said, taster: str, settle: Callable[[str], str]) -> Said:
    """What was told, each taster's marks under a name that is settled; `taster` is that already."""
    told = replace(said, marks=())
    for marks in said.marks:
        name = taster if marks.taster == taster else settle(marks.taster)
        told = together(told, Said(marks=(replace(marks, taster=name),)))
    return told


def _trial(root: Path, shelf: Shelf, kept: Kept, said: Said, who: str, at: datetime, book: BookPage) -> Trial:
    today = at.date().isoformat()
    day = said.bake_date or today
    late = day != today
    return Trial(
        name=free_name(root, shelf.name, day, who),
        formula=shelf.name,
        revision=str(kept.name),
        code=free_code(root),
        baker=said.baker or who,
        question=said.question,
        state=State.DONE,
        bake_date=day,
        started=said.started,
        entered=at.isoformat(timespec="seconds") if late else "",
        batch=said.batch,
        weighed=said.weighed,
        as_planned=said.as_planned,
        flours=said.flours,
        kitchen=said.kitchen,
        steps=tuple(Step(name=name, line=benchline.read(line)) for name, line in said.steps),
        measured=said.measured,
        scale=book.scale if said.marks else None,
        scores=said.marks,
        log=tuple(f"{at.isoformat(timespec='seconds')} {line}" for line in said.log),
        plan=said.plan,
        left_out=said.left_out,
        pin=kept.pin,
    )


def _subject(trial: Trial, said: Said) -> str:
    marks = [
        f"{name} {mark_as_given(value)}"
        for marks in said.marks
        for name in ("crumb", "crust")
        if (value := getattr(marks, name)) is not None
    ]
    return f"{trial.formula} {trial.code} ({trial.baker}): {', '.join((f'baked {trial.bake_date}', *marks))}"
