"""Begin a bake: a trial in hand, with a code for tape and tub, pinned to the exact revision."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from ovenleaf.book import layout
from ovenleaf.book.steps.bakes import find_trial, free_code, free_name, mixed_for, page_of, read_trials
from ovenleaf.book.steps.batching import BatchOptions, CannotBegin, batch_told
from ovenleaf.book.steps.begin_faults import BegunAlready, NotMixed, OtherDough, WhichToBake
from ovenleaf.book.steps.benching import in_hand
from ovenleaf.book.steps.opening import open_book, open_pantry, settle_baker
from ovenleaf.book.steps.pages import schema_line
from ovenleaf.book.steps.planned import PlannedFirst, WhatToBegin, begun_text, planned_meant, planned_of, revision_for
from ovenleaf.book.steps.sheets import kept_sheet
from ovenleaf.book.steps.shelf import as_typed, formula_names, is_draft, newest, revision_of, spoken, take
from ovenleaf.book.steps.signing import Stamp, put
from ovenleaf.book.steps.swapping import swapped
from ovenleaf.book.steps.unsettled import refuse_unsettled
from ovenleaf.book.steps.weighing import CannotWeigh, scale_of
from ovenleaf.domain.batch import flour_in_batch
from ovenleaf.domain.bench_plan import plan_of
from ovenleaf.domain.revision import revision_name
from ovenleaf.domain.scaling import weigh_up
from ovenleaf.domain.shared_dough import shared_runs
from ovenleaf.domain.trial import CHANGED, SWAP, State, Trial
from ovenleaf.domain.yeast import swaps_in_words
from ovenleaf.records.codec.trials import trial_text
from ovenleaf.results import BegunBake

if TYPE_CHECKING:
    from pathlib import Path

    from ovenleaf.book.steps.opening import OpenBook
    from ovenleaf.book.steps.shelf import Kept, Shelf
    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.scaling import Bowl
    from ovenleaf.domain.sheet import Sheet

__all__ = ["BatchOptions", "BeginOptions", "BegunAlready", "BegunBake", "WhichToBake", "begin"]

SLIP = timedelta(minutes=30)  # a second bake of the same formula so soon is asked about


@dataclass(frozen=True, slots=True, kw_only=True)
class BeginOptions:
    """What `begin` was told; "" is not told.

    `swaps` are what this bake has other than the formula, as `weigh` takes them; `shares` names the bake whose dough
    this is a part of; `another` says that a second bake at the same time is meant; `typed` is all behind the formula's
    name as it was typed, for a refusal that repeats the command.
    """

    batch: BatchOptions = BatchOptions()  # noqa: RUF009  (frozen)
    question: str = ""
    swaps: tuple[str, ...] = ()
    shares: str = ""
    another: bool = False
    typed: str = ""


def begin(
    given: Path | None,
    start: Path,
    formula: str,
    revision: str,
    options: BeginOptions,
    *,
    baker: str,
    at: datetime,
    preview: bool = False,
) -> BegunBake:
    """Open a trial in hand, or a planned one whose code stands for the formula.

    Raises WhatToBegin, WhichToBake, BegunAlready, PlannedFirst, NotPlanned, NotSettled, CannotBegin, and the refusals
    of its steps.
    """
    book = open_book(given, start)
    who = settle_baker(book.root, baker)
    pantry = open_pantry(book.root)
    trials, _ = read_trials(book.root)
    if not formula:
        raise WhatToBegin(planned_of("", trials), next(iter(formula_names(book.root)), ""))
    plan_kept = planned_meant(formula, trials)
    shelf = take(book.root, plan_kept.formula if plan_kept else formula)
    if plan_kept is not None and not revision:
        revision = revision_for(plan_kept, shelf, pantry)
    mixed = _mixed(book.root, shelf.name, revision, options, trials)
    kept = _revision(shelf, mixed.revision if mixed else revision, options)
    sheet = kept_sheet(shelf, kept, pantry)
    refuse_unsettled(shelf.name, sheet.formula, "begin {} {}")
    sheet, plan_told = _swapped(sheet, options, pantry)
    if not options.another and mixed is None:
        _refuse_second(trials, shelf.name, at, options.typed)
        if plan_kept is None and not revision and (waiting := planned_of(shelf.name, trials)):
            raise PlannedFirst(shelf.name, waiting, options.typed)
    batch, of_page = ("", False) if mixed and options.batch == BatchOptions() else batch_told(options.batch, sheet)
    trial = _trial(book, shelf, kept, who, at, batch, options)
    trial = trial if mixed is None else replace(trial, shares_dough_with=mixed.code)
    if plan_kept is not None:
        trial = replace(
            plan_kept,
            state=State.IN_HAND,
            revision=trial.revision,
            pin=trial.pin,
            started=trial.started,
            batch=batch,
            plan=(*plan_kept.plan, *plan_told),
            shares_dough_with=trial.shares_dough_with,
        )
    else:
        trial = replace(trial, plan=plan_told)
    plan = plan_of(sheet)
    stamp = Stamp(by=who, at=at, verb="begin", preview=preview)
    page = page_of(trial.name)
    before = None if plan_kept is None else layout.read_page(book.root, page)
    text = begun_text(book.root, plan_kept, trial) if plan_kept else schema_line("trial", page) + trial_text(trial)
    ahead = put(book.root, {page: text}, stamp, f"{trial.formula} {trial.code} ({who}): begun", expect={page: before})
    return BegunBake(
        trial=trial,
        sheet=sheet,
        plan=plan,
        at=at,
        ahead_bowls=() if mixed else _bowls(book, sheet, trial, pantry),
        shared=mixed,
        runs=shared_runs(mixed, plan) if mixed else (),
        of_page=of_page,
        newest=kept.name == newest(shelf).name,
        keeper="" if revision or mixed else _other_keeper(shelf, kept),
        ahead=ahead,
    )


def _swapped(sheet: Sheet, options: BeginOptions, pantry: Pantry) -> tuple[Sheet, tuple[tuple[str, str], ...]]:
    """The sheet that this bake is weighed by, and what its page says of that; the formula stays what it is."""
    if not options.swaps:
        return sheet, ()
    if options.shares:
        raise CannotBegin("swap", "the dough is mixed already, so nothing in it can be swapped.", "Leave --swap out.")
    try:
        other, swaps, others = swapped(sheet, options.swaps, pantry)
    except CannotWeigh as refusal:
        raise CannotBegin("swap", refusal.what.removeprefix("Not weighed up: "), *refusal.detail) from None
    return other, ((SWAP, "; ".join(options.swaps)), (CHANGED, " ".join(swaps_in_words(swaps, others))))


def _revision(shelf: Shelf, revision: str, options: BeginOptions) -> Kept:
    if not revision and shelf.kept and is_draft(shelf):
        name = newest(shelf).name
        raise WhichToBake(shelf.name, spoken(shelf.names, name), as_typed(shelf.names, name), options.typed)
    return revision_of(shelf, revision)


def _mixed(root: Path, formula: str, revision: str, options: BeginOptions, trials: tuple[Trial, ...]) -> Trial | None:
    """The bake whose dough this is a part of, the one it was mixed for; None where none was named."""
    if not options.shares:
        return None
    named = find_trial(root, options.shares)
    if named.formula != formula:
        raise OtherDough(named.code, named.formula, formula)
    mixed = mixed_for(named, trials) or named
    if mixed.state in (State.PLANNED, State.WITHDRAWN):
        raise NotMixed(mixed.code, mixed.state)
    if revision and revision_of(take(root, formula), revision).name != revision_name(mixed.revision):
        raise OtherDough(named.code, f"{formula} {mixed.revision}", f"{formula} {revision}")
    return mixed


def _refuse_second(trials: tuple[Trial, ...], formula: str, at: datetime, told: str) -> None:
    """A second bake of the formula within minutes is more likely the same one, typed twice."""
    for trial in in_hand(one for one in trials if one.formula == formula):
        begun = datetime.fromisoformat(trial.started)
        if begun.tzinfo is not None and timedelta(0) <= at - begun < SLIP:
            raise BegunAlready(formula, trial.code, (at - begun) // timedelta(minutes=1), told)


def _other_keeper(shelf: Shelf, kept: Kept) -> str:
    keeper = revision_name(shelf.keeper)
    return "" if keeper is None or keeper == kept.name else spoken(shelf.names, keeper)


def _trial(
    book: OpenBook, shelf: Shelf, kept: Kept, who: str, at: datetime, batch: str, options: BeginOptions
) -> Trial:
    return Trial(
        name=free_name(book.root, shelf.name, at.date().isoformat(), who),
        formula=shelf.name,
        revision=str(kept.name),
        code=free_code(book.root),
        baker=who,
        question=options.question,
        state=State.IN_HAND,
        started=at.isoformat(timespec="seconds"),
        batch=batch,
        pin=kept.pin,
    )


def _bowls(book: OpenBook, sheet: Sheet, trial: Trial, pantry: Pantry) -> tuple[Bowl, ...]:
    """What is made ahead of the process, weighed for this batch; none where its size is not known."""
    flour = flour_in_batch(trial.batch, sheet.worked)
    if flour is None or not sheet.worked.parts:
        return ()
    return weigh_up(sheet.worked, flour, scale_of("", book.page.scales), pantry)[:-1]
