"""What a log comes to: which steps ran from when to when, and which run now. The page alone is enough for it.

A step ends when that is said, or when the next of the plan begins; where work further on shows that it
must have ended, its end is not known, and is not made up. What is waited for begins by itself where the
step before it ends.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from typing import TYPE_CHECKING

from ovenleaf.domain.bench_clauses import Clause, clauses_of
from ovenleaf.domain.bench_clock import minutes_between, without_times
from ovenleaf.domain.bench_plan import Kind
from ovenleaf.domain.bench_run import OF_A_STEP, Run, planned_time, with_fields
from ovenleaf.domain.bench_unplanned import comes_before, goes_beside, next_to, then
from ovenleaf.domain.bench_words import Says
from ovenleaf.domain.benchvalues import Field
from ovenleaf.domain.log import standing_lines
from ovenleaf.domain.numbers import number

if TYPE_CHECKING:
    from collections.abc import Iterable
    from datetime import datetime

    from ovenleaf.domain.bench_plan import PlanStep
    from ovenleaf.domain.durations import Duration
    from ovenleaf.domain.log import LogLine

_SETTLED = 20  # minutes into a step that waits, the dough's temperature is that step's own

Runs = tuple[Run, ...]


def replay(log: Iterable[str], plan: tuple[PlanStep, ...], until: datetime | None = None, base: Runs = ()) -> Runs:
    """The runs that a log comes to, as far as what was seen up to `until`, after those of `base`."""
    runs = base
    for line in standing_lines(log):
        if until is not None and line.at > until:
            break
        if line.words.startswith(CLOSES):
            runs = tuple(_stopped(run, line) for run in runs)
        else:
            runs = after(runs, clauses_of(without_times(line.words), plan), line.at, plan)
    return runs


FINISHED, CUT_SHORT, GIVEN_UP = "finished", "cut short: ", "given up: "
CLOSES = (FINISHED, CUT_SHORT, GIVEN_UP)


def _stopped(run: Run, line: LogLine) -> Run:
    """A run when the bake is closed: stopped then where it was cut short and not yet overdue, else nobody said when."""
    if not run.running:
        return run
    time = planned_time(run.step)
    assert run.began is not None
    due = time is not None and minutes_between(run.began, line.at) <= time.high
    if due and not line.words.startswith(FINISHED):
        return replace(run, ended=line.at)
    return replace(run, left=True)


def after(runs: Runs, clauses: tuple[Clause, ...], at: datetime, plan: tuple[PlanStep, ...]) -> Runs:
    """The runs after one more line."""
    meant: PlanStep | None = None
    for clause in clauses:
        if clause.event is not None:
            runs, step = _happened(runs, clause, clauses, at, plan)
            meant = meant or step
            runs = _told_of(runs, step, _of_the_step(clause, step), at)
    for clause in clauses:
        if clause.event is None and not clause.words:
            runs = _told_of(runs, meant or _spoken_of(runs, clause), _of_the_step(clause, None), at)
    return runs


def _happened(
    runs: Runs, clause: Clause, clauses: tuple[Clause, ...], at: datetime, plan: tuple[PlanStep, ...]
) -> tuple[Runs, PlanStep | None]:
    assert clause.event is not None
    step = clause.event.step
    if step is None:
        return _folded(runs, clause.event.folds)
    says = clause.event.says
    if says is Says.NAMED:
        says = _meant(runs, step, clause, clauses)
    if says is Says.BEGINS:
        return _begun(runs, step, at, plan), step
    if says is Says.ENDS:
        return _ended(runs, step, at, clause.time, plan), step
    return runs, step


def _meant(runs: Runs, step: PlanStep, clause: Clause, clauses: tuple[Clause, ...]) -> Says:
    """A step's name alone: it begins, or it is done and over; NAMED where it has begun, so that this is of it."""
    if clause.time is not None or step.kind is Kind.HAND:
        return Says.ENDS
    if step.kind is Kind.MIX and any(field.name == "dough temperature" for one in clauses for field in one.fields):
        return Says.ENDS
    return Says.NAMED if any(run.step == step for run in runs) else Says.BEGINS


def _folded(runs: Runs, folds: int) -> tuple[Runs, PlanStep | None]:
    waiting = next((run for run in reversed(runs) if run.running and run.step.kind is Kind.WAIT), None)
    if waiting is None:
        return runs, None
    made = with_fields(waiting, (Field(name="folds", value=number(str(folds))),))
    return _in_place(runs, waiting, made), waiting.step


def _begun(runs: Runs, step: PlanStep, at: datetime, plan: tuple[PlanStep, ...]) -> Runs:
    known = next((run for run in reversed(runs) if run.step == step and run.running), None)
    if known is not None:
        return _in_place(runs, known, replace(known, began=at, auto=False)) if known.auto else runs
    return (*_closed(runs, step, at, plan), Run(step=step, began=at))


def _ended(runs: Runs, step: PlanStep, at: datetime, told: Duration | None, plan: tuple[PlanStep, ...]) -> Runs:
    known = next((run for run in reversed(runs) if run.step == step), None)
    if known is not None and not known.running:
        missed = told is not None and (known.left or known.took is None)
        return _in_place(runs, known, replace(known, told=told)) if missed else runs  # it was over already
    if known is not None:
        runs = _in_place(runs, known, replace(known, ended=at, told=told))
        runs = _closed(runs, step, at, plan)
    else:
        began = at if step.kind is Kind.HAND else None if told is None else at - timedelta(minutes=int(told.high))
        # when a bake that nobody saw go in began is not known, nor when the proof before it ended
        known_began = began is not None or step.kind is Kind.MIX
        runs = _closed(runs, step, began or at, plan, known=known_began)
        runs = (*runs, Run(step=step, began=began, ended=at, told=told))
    coming = then(plan, step)
    if coming is None or coming.kind is not Kind.WAIT or any(run.step == coming for run in runs):
        return runs
    return (*runs, Run(step=coming, began=at, auto=True))


def _closed(runs: Runs, step: PlanStep, at: datetime, plan: tuple[PlanStep, ...], *, known: bool = True) -> Runs:
    """What ran until now, ended by `step`: at that time where it is the very next, at an unknown one otherwise."""
    return tuple(_close(run, step, at, plan, known) if run.running and run.step != step else run for run in runs)


def _close(run: Run, step: PlanStep, at: datetime, plan: tuple[PlanStep, ...], known: bool) -> Run:
    if step.kind is Kind.AHEAD or not comes_before(plan, run.step, step):
        return run  # what stands ahead goes on beside the rest
    ends_with_it = run.step.kind is Kind.AHEAD or goes_beside(run.step)
    if ends_with_it or (known and next_to(plan, run.step, step)):
        return replace(run, ended=at)
    return replace(run, left=True)


def _in_place(runs: Runs, old: Run, new: Run) -> Runs:
    return tuple(new if run is old else run for run in runs)


def _of_the_step(clause: Clause, step: PlanStep | None) -> tuple[Field, ...]:
    """The figures of a clause that may belong to a step; pieces and their weight only to work of the hand."""
    by_hand = step is not None and step.kind is Kind.HAND
    return tuple(
        field
        for field in clause.fields
        if field.name in OF_A_STEP and (by_hand or field.name not in ("pieces", "weight"))
    )


def _spoken_of(runs: Runs, clause: Clause) -> PlanStep | None:
    """The step that figures without a word are of: the one that runs; of oven and core, the bake."""
    baking = [run.step for run in runs if run.step.kind is Kind.BAKE]
    if any(field.name in ("oven", "core") for field in clause.fields):
        return baking[-1] if baking else None
    going = [run.step for run in runs if run.running]
    return going[-1] if going else None


def _told_of(runs: Runs, step: PlanStep | None, fields: tuple[Field, ...], at: datetime) -> Runs:
    """The runs with what was told of one of them; the dough's temperature only where it is not the one after mixing."""
    run = next((run for run in reversed(runs) if run.step == step), None)
    if run is None:
        return runs
    settled = is_settled(run, at)
    kept = tuple(field for field in fields if field.name != "dough temperature" or settled)
    if run.step.kind is Kind.BAKE:
        kept = tuple(replace(field, name="oven") if field.name == "temperature" else field for field in kept)
    else:
        kept = tuple(field for field in kept if field.name not in ("oven", "core"))
    return _in_place(runs, run, with_fields(run, kept)) if kept else runs


def is_settled(run: Run, at: datetime) -> bool:
    """True where a step that waits has run so long that the dough's temperature is that of this step."""
    return run.step.kind is Kind.WAIT and run.began is not None and minutes_between(run.began, at) >= _SETTLED
