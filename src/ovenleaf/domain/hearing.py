"""One line at the bench, heard: what it adds to the trial's page, and what is told back of it.

Every line goes into the log, word for word; what is understood becomes fields beside it. What the page has
already stays as it is. What cannot be so is kept as words. Pure: the clock, the trial and the plan are arguments.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from ovenleaf.domain.bench_bread import Scale
from ovenleaf.domain.bench_clauses import Clause, clauses_of
from ovenleaf.domain.bench_clock import Seen, seen
from ovenleaf.domain.bench_doubts import before_its_start, too_far, why_not
from ovenleaf.domain.bench_echo import AsWords, Echo, Note, Weighed
from ovenleaf.domain.bench_log import after, replay
from ovenleaf.domain.bench_plan import Kind, plan_of
from ovenleaf.domain.bench_readings import READINGS, readings
from ovenleaf.domain.bench_rest import rest_of
from ovenleaf.domain.bench_told import begun_steps, ended_steps, page_steps, steps_for_page
from ovenleaf.domain.log import LogLine
from ovenleaf.domain.said import Said, together
from ovenleaf.domain.trial import Correction, State, Trial

if TYPE_CHECKING:
    from collections.abc import Iterable
    from datetime import datetime
    from decimal import Decimal

    from ovenleaf.domain.bench_log import Runs
    from ovenleaf.domain.bench_plan import PlanStep
    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class Bench:
    """What a line is heard against: the trial as it stands, its sheet, what water boils at there, who speaks.

    `base` is what was done of the dough before it became this bake, where it shares another's.
    """

    trial: Trial
    sheet: Sheet
    pantry: Pantry
    boiling: Decimal
    speaker: str
    base: Runs = ()

    @property
    def plan(self) -> tuple[PlanStep, ...]:
        """The steps of the dough."""
        return plan_of(self.sheet)

    @property
    def runs(self) -> Runs:
        """What the log comes to so far."""
        return self.replayed(self.trial.log)

    def replayed(self, log: Iterable[str], until: datetime | None = None) -> Runs:
        """What a log comes to after what was done of the dough before."""
        return replay(log, self.plan, until, self.base)


@dataclass(frozen=True, slots=True, kw_only=True)
class Heard:
    """What one line adds, or the part of it with a time of its own. `at` is when it was seen, `told` when it
    was told; `said` goes to the page, `corrections` name what it changes there, `echoes` are told back."""

    at: datetime
    told: datetime
    said: Said
    echoes: tuple[Echo, ...]
    corrections: tuple[Correction, ...] = ()
    resumed: bool = False


def hear(bench: Bench, text: str, now: datetime) -> tuple[Heard, ...]:
    """A line, each part of it that has a time of its own after the other."""
    heard = []
    for part in seen(text, now):
        one = _heard(bench, part, now)
        heard.append(one)
        bench = replace(bench, trial=with_heard(bench.trial, one))
    return tuple(heard)


def with_heard(trial: Trial, heard: Heard) -> Trial:
    """The trial with what was heard on it, as far as another line needs to know."""
    said = heard.said
    return replace(
        trial,
        state=State.IN_HAND if heard.resumed else trial.state,
        bake_date=said.bake_date or trial.bake_date,
        batch=said.batch or trial.batch,
        weighed=tuple((dict(trial.weighed) | dict(said.weighed)).items()),
        flours=(*trial.flours, *said.flours),
        kitchen=(*trial.kitchen, *said.kitchen),
        steps=(*trial.steps, *page_steps(said.steps)),
        measured=(*trial.measured, *said.measured),
        log=(*trial.log, *said.log),
        corrections=(*trial.corrections, *heard.corrections),
    )


def _heard(bench: Bench, part: Seen, now: datetime) -> Heard:
    clauses = clauses_of(part.words, bench.plan)
    problem = part.problem or too_far(part, clauses, bench) or before_its_start(clauses, part.at, bench)
    if problem:
        return _closed(bench, now, now, (), (AsWords(text=part.typed, why=problem),), "")
    refused = {clause: why for clause in clauses if (why := why_not(clause, bench.boiling))}
    good = [clause for clause in clauses if clause not in refused]
    echoes, said = _understood(bench, good, part)
    words = [AsWords(text=clause.typed, why=why) for clause, why in refused.items()]
    words += [echo for echo in echoes if isinstance(echo, AsWords)]
    echoes = tuple(echo for echo in echoes if not isinstance(echo, AsWords))
    kept_apart = {echo.text for echo in words}
    counted = part.typed if not words else ", ".join(c.typed for c in clauses if c.typed not in kept_apart)
    heard = _closed(bench, part.at, now, echoes, tuple(words), counted)
    return replace(
        heard,
        said=together(said, heard.said),
        corrections=_changed(bench, echoes, said, now),
        resumed=_takes_up(bench.trial, good),
    )


def _closed(
    bench: Bench, at: datetime, now: datetime, echoes: tuple[Echo, ...], words: tuple[AsWords, ...], counted: str
) -> Heard:
    """What was heard with its lines for the log: what counts first, then what is words alone."""
    told = None if at == now else now
    by = "" if bench.speaker == bench.trial.baker else bench.speaker
    lines = [LogLine(at=at, words=counted, told=told, by=by)] if counted else []
    lines += [LogLine(at=at, words=echo.text, told=told, by=by, counted=False) for echo in words]
    return Heard(at=at, told=now, said=Said(log=tuple(map(str, lines))), echoes=(*echoes, *words))


def _understood(bench: Bench, clauses: list[Clause], part: Seen) -> tuple[tuple[Echo, ...], Said]:
    """What of a line was understood: what ended, what was read off, all the rest, and what runs from now."""
    trial, plan = bench.trial, bench.plan
    before = bench.replayed(trial.log, part.at)
    then = after(before, tuple(clauses), part.at, plan)
    line = LogLine(at=part.at, words=", ".join(clause.typed for clause in clauses))
    runs = bench.replayed((*trial.log, str(line)))
    own = tuple(run for run in runs if run not in bench.base)
    said = Said(steps=steps_for_page(trial, own), bake_date=_bake_date(trial, runs))
    echoes: list[Echo] = list(ended_steps(before, then))
    for echo, more in readings(clauses, before, then, trial, plan):
        echoes.append(echo)
        said = together(said, more)
    for clause in clauses:
        scale = Scale(trial=_so_far(trial, said, line), sheet=bench.sheet, runs=runs, at=part.at)
        for echo, more in rest_of(clause, scale, bench.pantry):
            echoes.append(echo)
            said = together(said, more)
    echoes += [_nothing_new(clause, then) for clause in clauses if _is_nothing_new(clause, before, then)]
    return (*echoes, *begun_steps(before, then, runs)), said


def _is_nothing_new(clause: Clause, before: Runs, then: Runs) -> bool:
    """True for what was said of a step and changed nothing, such as an end told twice."""
    event = clause.event
    if event is None or {field.name for field in clause.fields} & set(READINGS):
        return False
    if event.step is None:
        return before == then
    return [run for run in before if run.step == event.step] == [run for run in then if run.step == event.step]


def _nothing_new(clause: Clause, runs: Runs) -> Note:
    step = clause.event.step if clause.event else None
    run = next((run for run in reversed(runs) if run.step == step), None)
    if run is None or step is None:
        return Note(text=clause.typed, hint="Nothing that is folded runs.")
    if run.ended:
        return Note(text=clause.typed, hint=f"{step.said.capitalize()} ended at {run.ended:%H:%M} already.")
    if run.began and not run.left:
        return Note(text=clause.typed, hint=f"{step.said.capitalize()} runs since {run.began:%H:%M}.")
    return Note(text=clause.typed)


def _so_far(trial: Trial, said: Said, line: LogLine) -> Trial:
    """The trial with the line, and what an earlier clause of it weighed and measured."""
    return replace(
        trial,
        weighed=tuple((dict(trial.weighed) | dict(said.weighed)).items()),
        measured=(*trial.measured, *said.measured),
        log=(*trial.log, str(line)),
    )


def _changed(bench: Bench, echoes: tuple[Echo, ...], said: Said, now: datetime) -> tuple[Correction, ...]:
    """More of what was weighed already changes the page: named there like any other change."""
    known = dict(bench.trial.weighed)
    return tuple(
        Correction(
            field=f"weighed.{echo.item}",
            was=known[echo.item],
            now=dict(said.weighed)[echo.item],
            by=bench.speaker,
            at=now.isoformat(timespec="seconds"),
            why="more went in" if echo.instead is not None and echo.grams > echo.instead else "less went in",
        )
        for echo in echoes
        if isinstance(echo, Weighed) and echo.item in known
    )


def _bake_date(trial: Trial, runs: Runs) -> str:
    baked = [run.began or run.ended for run in runs if run.step.kind is Kind.BAKE]
    return "" if trial.bake_date or not baked or baked[0] is None else baked[0].date().isoformat()


def _takes_up(trial: Trial, clauses: list[Clause]) -> bool:
    """True where work goes on with a bake that was cut short or given up."""
    closed = trial.state in (State.CUT_SHORT, State.GIVEN_UP)
    return closed and any(clause.event is not None for clause in clauses)
