"""One dough baked in two ways: what a bake shares with the one it was mixed for, which is all up to dividing."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from ovenleaf.domain.bench_log import replay
from ovenleaf.domain.bench_plan import Kind
from ovenleaf.domain.bench_unplanned import OF_THE_DOUGH

if TYPE_CHECKING:
    from ovenleaf.domain.bench_log import Runs
    from ovenleaf.domain.bench_plan import PlanStep
    from ovenleaf.domain.trial import Trial

_PARTS = ("divide", "split", "scale")
_OF_THE_DOUGH = ("dough temperature",)  # what is measured of the dough before it is divided


def shared_steps(plan: tuple[PlanStep, ...]) -> tuple[PlanStep, ...]:
    """The steps up to and including the one that parts the dough; where none does, those before the first by hand."""
    for place, step in enumerate(plan):
        if any(step.name.lower().startswith(word) for word in _PARTS):
            return plan[: place + 1]
    by_hand = next((place for place, step in enumerate(plan) if step.kind is Kind.HAND), None)
    return plan[:by_hand] if by_hand is not None else tuple(s for s in plan if s.kind in (Kind.AHEAD, Kind.MIX))


def shared_runs(mixed: Trial, plan: tuple[PlanStep, ...]) -> Runs:
    """What of the steps that are shared was done, by the log of the bake that the dough was mixed for."""
    shared = shared_steps(plan)
    return tuple(run for run in replay(mixed.log, plan) if run.step in shared or run.step.name in OF_THE_DOUGH)


def with_shared(trial: Trial, mixed: Trial, plan: tuple[PlanStep, ...]) -> Trial:
    """A bake with what it shares: weights, flours, kitchen, the steps up to dividing, the dough's temperature.

    Its own values stand before those of the other; `batch` is that of the whole dough, of which weights are shares.
    """
    names = {step.name for step in shared_steps(plan)} | set(OF_THE_DOUGH)
    measured = tuple((name, text) for name, text in mixed.measured if name in _OF_THE_DOUGH)
    return replace(
        trial,
        batch=mixed.batch or trial.batch,
        weighed=tuple((dict(mixed.weighed) | dict(trial.weighed)).items()),
        as_planned=trial.as_planned or mixed.as_planned,
        flours=tuple((dict(mixed.flours) | dict(trial.flours)).items()),
        kitchen=tuple((dict(mixed.kitchen) | dict(trial.kitchen)).items()),
        steps=(*(step for step in mixed.steps if step.name in names), *trial.steps),
        measured=tuple((dict(measured) | dict(trial.measured)).items()),
    )
