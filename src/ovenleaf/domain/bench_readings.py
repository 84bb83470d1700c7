"""Readings told at the bench: to the step they are of, or among what was measured. The first that is told stands."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain import benchline
from ovenleaf.domain.bench_echo import Echo, Kept, Measured, Note, Stands
from ovenleaf.domain.bench_limits import unusual
from ovenleaf.domain.benchvalues import Field, Value, alike, show
from ovenleaf.domain.said import Said

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from ovenleaf.domain.bench_clauses import Clause
    from ovenleaf.domain.bench_log import Runs
    from ovenleaf.domain.bench_plan import PlanStep
    from ovenleaf.domain.bench_run import Run
    from ovenleaf.domain.trial import Trial

READINGS = ("dough temperature", "temperature", "oven", "core", "ph", "rise")
_ON_THE_PAGE = {"core": "core temperature", "ph": "pH"}
_ALONE = ("dough temperature", "core", "ph", "rise")  # what has a name of its own among what was measured


def readings(
    clauses: Iterable[Clause], before: Runs, then: Runs, trial: Trial, plan: tuple[PlanStep, ...]
) -> Iterator[tuple[Echo, Said]]:
    """Each reading with where it went; only of clauses whose words were understood."""
    for clause in clauses:
        if clause.event is None and clause.words:
            continue
        for field in clause.fields:
            if field.name in READINGS:
                yield _reading(field, clause, _gained(field, before, then), trial, plan)


def _gained(field: Field, before: Runs, then: Runs) -> Run | None:
    """The run that this reading was added to, if one was; a bake's heat is that of its oven."""
    for place, run in enumerate(then):
        old = before[place] if place < len(before) else None
        for name in (field.name, "oven") if field.name == "temperature" else (field.name,):
            value = run.get(name)
            if value is not None and (old is None or old.get(name) != value):
                return run
    return None


def _reading(
    field: Field, clause: Clause, run: Run | None, trial: Trial, plan: tuple[PlanStep, ...]
) -> tuple[Echo, Said]:
    if run is not None:
        planned = run.step.line.get(field.name) or run.step.line.get("temperature" if field.name == "oven" else "")
        return Measured(
            name=_name_of(field, run),
            value=field.value,
            step=run.step.said,
            planned=planned,
            usual=unusual(field),
        ), Said()
    if field.name not in _ALONE:
        return Note(text=clause.typed), Said()
    name = _ON_THE_PAGE.get(field.name, field.name)
    text = show(field).replace("°", "").removeprefix("pH ")
    stands = dict(trial.measured).get(name)
    if stands is not None:
        return (Kept(name=name, text=text) if stands == text else Stands(name=name, said=text, stands=stands)), Said()
    own = benchline.read(f"{name} {dict(trial.plan).get(name, '')}").get(field.name)  # this bake's plan, if it has one
    planned = own or _planned(field.name, plan)
    told = Measured(name=name, value=field.value, planned=planned, usual=unusual(field))
    return told, Said(measured=((name, text),))


def _name_of(field: Field, run: Run) -> str:
    return "oven" if field.name == "temperature" and run.step.kind.value == "bake" else field.name


def _planned(name: str, plan: tuple[PlanStep, ...]) -> Value | None:
    return next((value for step in plan if (value := step.line.get(name)) is not None), None)


def differs(echo: Measured) -> bool:
    """True where a reading is not as planned."""
    return echo.planned is not None and not alike(echo.value, echo.planned)
