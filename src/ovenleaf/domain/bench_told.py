"""What a line did to the steps, as facts to tell back; and the lines of those that are over, for the page."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING

from ovenleaf.domain import benchline
from ovenleaf.domain.bench_echo import Begun, Echo, Ended, EndUnknown, Folded
from ovenleaf.domain.bench_plan import Kind
from ovenleaf.domain.bench_run import Run, planned_time, step_text
from ovenleaf.domain.bench_unplanned import DONE, place
from ovenleaf.domain.formula import Step
from ovenleaf.domain.numbers import ZERO, number

if TYPE_CHECKING:
    from collections.abc import Iterator

    from ovenleaf.domain.bench_log import Runs
    from ovenleaf.domain.bench_plan import PlanStep
    from ovenleaf.domain.durations import Duration
    from ovenleaf.domain.said import Pairs
    from ovenleaf.domain.trial import Trial

_CLOCK_APART = 2  # minutes: nearer than that a told time and the clock's are the same


def ended_steps(before: Runs, then: Runs) -> tuple[Echo, ...]:
    """What the line ended, in the order of the runs."""
    return tuple(echo for place, run in enumerate(then) for echo in _ended(_at(before, place), run))


def _at(runs: Runs, place: int) -> Run | None:
    return runs[place] if place < len(runs) else None


def _ended(old: Run | None, run: Run) -> Iterator[Echo]:
    if run.left and not (old and old.left):
        yield EndUnknown(step=run.step)
    elif (run.ended and not (old and old.ended)) or (run.told and old and not (old.told or old.running)):
        yield Ended(step=run.step, took=run.took, planned=planned_time(run.step), clock=_other_clock(old, run))
    folds = run.get("folds")
    if folds is not None and folds != (old.get("folds") if old else None):
        yield Folded(step=run.step, folds=number(str(folds)))


def _other_clock(old: Run | None, run: Run) -> Duration | None:
    """What the clock says a step took, where the baker says another time."""
    if old is None or run.told is None or old.began is None or run.ended is None:
        return None
    by_clock = Run(step=run.step, began=old.began, ended=run.ended).took
    apart = ZERO if by_clock is None else abs(by_clock.high - run.told.high)
    return by_clock if apart > _CLOCK_APART else None


def begun_steps(before: Runs, then: Runs, now: Runs) -> tuple[Echo, ...]:
    """What the line began and still runs, whatever was told before of later hours."""
    running = {run.step for run in now if run.running}
    return tuple(
        begun_of(run)
        for place, run in enumerate(then)
        if run.running and run.step in running and not _runs_already(_at(before, place), run)
    )


def _runs_already(old: Run | None, run: Run) -> bool:
    return old is not None and old.began == run.began


def begun_of(run: Run) -> Begun:
    """A run that goes on: since when, and when to look at it by the plan."""
    assert run.began is not None
    time = planned_time(run.step)
    until = run.step.line.get("until")
    return Begun(
        step=run.step,
        since=run.began,
        look=None if time is None else run.began + timedelta(minutes=int(time.low)),
        until=until if isinstance(until, str) else "",
    )


def steps_for_page(trial: Trial, runs: Runs, *, closing: bool = False) -> Pairs:
    """The steps that are over and not on the page yet, or with more of them than it has; all, where the bake closes."""
    return tuple((run.step.name, text) for run in runs if (text := _for_page(trial, runs, run, closing)))


def _for_page(trial: Trial, runs: Runs, run: Run, closing: bool) -> str:
    if run.running and not closing:
        return ""
    alike = [one for one in runs if one.step.name == run.step.name]
    lines = [step.line for step in trial.steps if step.name == run.step.name]
    if len(alike) > 1:
        nth = alike.index(run)
        lines = lines[nth : nth + 1]
    known = frozenset(field.name for line in lines for field in line.fields)
    if "temperature" in known:
        known |= {"oven"}
    return step_text(run, known) or ("" if run.step.planned or lines else DONE)


def page_steps(said: Pairs) -> tuple[Step, ...]:
    """Steps as a page has them."""
    return tuple(Step(name=name, line=benchline.read(line)) for name, line in said)


def next_step(runs: Runs, plan: tuple[PlanStep, ...]) -> PlanStep | None:
    """What comes next: what is still to be made ahead, then the first step after the last that was begun; or None."""
    begun = {run.step for run in runs}
    if not any(step.kind is not Kind.AHEAD for step in begun):
        ahead = [step for step in plan if step.kind is Kind.AHEAD and step not in begun]
        if ahead:
            return ahead[0]
    last = max((place(plan, step) for step in begun), default=-1)
    return next((step for step in plan if place(plan, step) > last and step.kind is not Kind.AHEAD), None)
