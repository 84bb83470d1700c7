"""Close a bake: scored, cut short or given up. Nothing of it is lost, and it can be taken up again."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.book import layout
from ovenleaf.book.steps.bakes import mixed_for, page_of, read_trials
from ovenleaf.book.steps.benching import CODE, bench_of, in_hand, trial_meant
from ovenleaf.book.steps.card_pages import weighs_a_card
from ovenleaf.book.steps.hand_edits import refuse_edited
from ovenleaf.book.steps.marks_in_words import apart, marks_or_refused
from ovenleaf.book.steps.opening import open_book, open_pantry, settle_baker
from ovenleaf.book.steps.recording import check_day, check_marks
from ovenleaf.book.steps.signing import Stamp, put
from ovenleaf.book.steps.tasting import settle_taster, somebody_else
from ovenleaf.book.steps.telling import MarkOptions
from ovenleaf.compare.trial_view import trial_view
from ovenleaf.domain.bench_log import CUT_SHORT, FINISHED, GIVEN_UP
from ovenleaf.domain.bench_told import steps_for_page
from ovenleaf.domain.figures import mark_as_given
from ovenleaf.domain.late_marks import late_lines
from ovenleaf.domain.log import LogLine
from ovenleaf.domain.trial import Marks, State
from ovenleaf.errors import Next, Refusal
from ovenleaf.records.codec.scoring import with_marks
from ovenleaf.records.codec.trial_edits import with_field, with_line
from ovenleaf.records.codec.trials import read_trial
from ovenleaf.records.page_bytes import decode
from ovenleaf.records.yaml_text import read
from ovenleaf.results import Finished

if TYPE_CHECKING:
    from datetime import datetime
    from pathlib import Path

    from ovenleaf.domain.hearing import Bench
    from ovenleaf.domain.trial import Trial
    from ovenleaf.records.nodes import Page

__all__ = ["FinishOptions", "MarkOptions", "finish"]


@dataclass(frozen=True, slots=True, kw_only=True)
class FinishOptions:
    """How a bake is closed: `because` says why it was `cut_short` or `given_up`; `baked_on` is a day, or ""."""

    marks: MarkOptions = MarkOptions()  # noqa: RUF009  (frozen)
    cut_short: bool = False
    given_up: bool = False
    because: str = ""
    baked_on: str = ""


class NoReason(Refusal):
    """A bake is cut short or given up, and nobody says why. Facts: `code`, `how`."""

    def __init__(self, code: str, how: str) -> None:
        flag = how.replace(" ", "-")
        super().__init__(
            f"Not closed: why was {code} {how}? It is kept, and says so.",
            next=(Next(f'ovenleaf finish {code} --{flag} --because "the power failed"'),),
        )
        self.code = code
        self.how = how


class BothWays(Refusal):
    """A bake cannot be closed in two ways. Fact: `code`."""

    def __init__(self, code: str) -> None:
        super().__init__(
            f"Not closed: {code} cannot be both cut short and given up.",
            detail=("Cut short: it went into the oven or nearly, and was stopped. Given up: there is no bread.",),
        )
        self.code = code


class FinishedAlready(Refusal):
    """The bake is closed. Fact: `code`."""

    def __init__(self, code: str) -> None:
        super().__init__(
            f"Trial {code} is finished already.",
            next=(
                Next(f"ovenleaf score {code}", "marks for it"),
                Next(f"ovenleaf jot --trial {code}", "a line that was forgotten"),
            ),
        )
        self.code = code


class BakedOn(Refusal):
    """The log says another day of baking. Facts: `code`, `day`."""

    def __init__(self, code: str, day: str) -> None:
        super().__init__(
            f"Not finished: {code} was baked on {day}, as its log says.", next=(Next(f"ovenleaf show {code}"),)
        )
        self.code = code
        self.day = day


def finish(
    given: Path | None,
    start: Path,
    typed: str,
    options: FinishOptions,
    *,
    taster: str = "",
    new_taster: bool = False,
    baker: str,
    at: datetime,
    preview: bool = False,
) -> Finished:
    """Close the trial that is named, or the newest in hand; marks may be said behind its name.

    Raises NoReason, BothWays, FinishedAlready, CannotRecord, and the refusals of its steps.
    """
    book = open_book(given, start)
    who = settle_baker(book.root, baker)
    pantry = open_pantry(book.root)
    trials, _ = read_trials(book.root)
    which, words = apart(typed)
    trial = trial_meant(book.root, which, who, trials, "Not finished", f"ovenleaf score {CODE}")
    state = _state(trial, options)
    name = settle_taster(book.root, book.page, taster, who, new=new_taster)
    marks = marks_or_refused(words, name, options.marks)
    check_marks(marks, book.page)
    check_day(options.baked_on, at.date())
    if trial.bake_date and options.baked_on not in ("", trial.bake_date):
        raise BakedOn(trial.code, trial.bake_date)
    bench = bench_of(book, trial, pantry, who, mixed_for(trial, trials))
    page = page_of(trial.name)
    refuse_edited(book.root, page, "Not finished")
    before = layout.read_page(book.root, page)
    now = _closed(read(decode(before, page), path=page), bench, state, options, at)
    if marks != Marks(taster=marks.taster):
        late = late_lines(read_trial(now), marks, who, at)
        now = read(with_marks(now, marks, trial.scale or book.page.scale, (), late), path=page)
    stamp = Stamp(by=who, at=at, verb="finish", preview=preview)
    subject = _subject(trial, who, state, marks)
    ahead = put(book.root, {page: now.text}, stamp, subject, options.because, expect={page: before})
    view = trial_view(read_trial(now), bench.sheet, pantry, mixed_for(trial, trials))
    return Finished(
        view=view,
        book=book.page,
        others=tuple(one.code for one in in_hand(trials) if one.code != trial.code),
        taster=somebody_else(book.root, book.page, view.trial, who),
        card=weighs_a_card(book.root, view.trial),
        ahead=ahead,
    )


def _state(trial: Trial, options: FinishOptions) -> State:
    if options.cut_short and options.given_up:
        raise BothWays(trial.code)
    state = State.CUT_SHORT if options.cut_short else State.GIVEN_UP if options.given_up else State.DONE
    if trial.state is State.DONE:
        raise FinishedAlready(trial.code)
    if state is not State.DONE and not options.because:
        raise NoReason(trial.code, state.value)
    return state


_WORDS = {State.CUT_SHORT: CUT_SHORT, State.GIVEN_UP: GIVEN_UP, State.DONE: FINISHED}


def _closed(page: Page, bench: Bench, state: State, options: FinishOptions, at: datetime) -> Page:
    """The page with its state, its day, a line in the log, and the steps that were still running."""
    trial = bench.trial
    by = "" if bench.speaker == trial.baker else bench.speaker
    line = LogLine(at=at, words=f"{_WORDS[state]}{options.because}" if state is not State.DONE else FINISHED, by=by)
    page = with_line(with_field(page, ("state",), state.value), ("log",), str(line))
    if not trial.bake_date:
        page = with_field(page, ("bake_date",), options.baked_on or at.date().isoformat())
    if state is not State.DONE and not trial.left_out:
        page = with_field(page, ("left_out",), options.because)
    runs = bench.replayed((*trial.log, str(line)))
    for name, text in steps_for_page(trial, tuple(run for run in runs if run not in bench.base)):
        page = with_line(page, ("steps",), {name: text})
    return page


def _subject(trial: Trial, who: str, state: State, marks: Marks) -> str:
    given = [f"{name} {mark_as_given(v)}" for name in ("crumb", "crust") if (v := getattr(marks, name)) is not None]
    how = "finished" if state is State.DONE else state.value
    return f"{trial.formula} {trial.code} ({who}): {', '.join((how, *given))}"
