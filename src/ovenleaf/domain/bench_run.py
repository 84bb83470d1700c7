"""One step as it was done: when it began and ended, and what was told of it; and its line for the page."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from ovenleaf.domain.bench_clock import minutes_between
from ovenleaf.domain.bench_plan import Kind
from ovenleaf.domain.benchvalues import Field, Heat, joined, show
from ovenleaf.domain.durations import Duration
from ovenleaf.domain.numbers import CONTEXT, number

if TYPE_CHECKING:
    from collections.abc import Iterable
    from datetime import datetime
    from decimal import Decimal

    from ovenleaf.domain.bench_plan import PlanStep
    from ovenleaf.domain.benchvalues import Value

# What of a line belongs to the step it is told of, in the order of the step's line.
OF_A_STEP = ("temperature", "oven", "speed", "folds", "pieces", "weight", "dough temperature", "ph", "rise", "core")


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """A step that was begun. `began` None: its beginning was not told; `told` is the time it took as the
    baker said it. `left` is True where later work shows that it ended, and nobody said when; `auto` where it
    began by itself when the step before it ended."""

    step: PlanStep
    began: datetime | None
    ended: datetime | None = None
    told: Duration | None = None
    fields: tuple[Field, ...] = ()
    left: bool = False
    auto: bool = False

    @property
    def running(self) -> bool:
        """True while it goes on."""
        return self.began is not None and self.ended is None and not self.left

    @property
    def took(self) -> Duration | None:
        """How long it took: as told, or by the clock; None where that is not known."""
        if self.told is not None:
            return self.told
        if self.began is None or self.ended is None or self.step.kind is Kind.HAND:
            return None
        minutes = number(str(minutes_between(self.began, self.ended)))
        return Duration(low=minutes, high=minutes)

    def get(self, name: str) -> Value | None:
        """What was told of it under that name, or None."""
        return next((field.value for field in self.fields if field.name == name), None)


def with_fields(run: Run, fields: Iterable[Field]) -> Run:
    """The run with more told of it: folds add up, a second heat of the oven makes a course, else the last stands."""
    known = {field.name: field for field in run.fields}
    for field in fields:
        known[field.name] = _joined(known.get(field.name), field)
    return replace(run, fields=tuple(known.values()))


def _joined(old: Field | None, new: Field) -> Field:
    if old is None:
        return new
    if new.name == "folds":
        return replace(new, value=CONTEXT.add(number(str(old.value)), number(str(new.value))))
    if isinstance(old.value, Heat) and isinstance(new.value, Heat) and new.name == "oven":
        return replace(new, value=joined(old.value, new.value))
    return new


def step_text(run: Run, without: frozenset[str] = frozenset()) -> str:
    """The line of the page, of what is known: `19 min at 220 C, core 97 C`; "" where nothing is.

    `without` names fields that the page has already.
    """
    shown = {field.name: _plainly(field) for field in run.fields if field.name not in without}
    took = "" if run.took is None or "time" in without else str(run.took)
    heat = shown.get("temperature") or shown.get("oven") or ""
    first = f"{took} at {heat}" if took and heat else took or heat
    pieces = f"{shown['pieces']} of {shown['weight']}" if {"pieces", "weight"} <= shown.keys() else ""
    rest = [text for name in OF_A_STEP[2:] if name not in ("pieces", "weight") and (text := shown.get(name))]
    return ", ".join(filter(None, (first, pieces, *rest)))


_SAID_WITH = {"dough temperature": "dough ", "core": "core ", "rise": "rise "}


def _plainly(field: Field) -> str:
    return f"{_SAID_WITH.get(field.name, '')}{show(field).replace('°', '')}"


def planned_time(step: PlanStep) -> Duration | None:
    """How long the plan gives it, or None."""
    time = step.line.get("time")
    return time if isinstance(time, Duration) else None


def least(step: PlanStep) -> Decimal | None:
    """The minutes after which to look at it, or None."""
    time = planned_time(step)
    return None if time is None else time.low
