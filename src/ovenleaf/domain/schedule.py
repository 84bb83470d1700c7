"""A bake laid out in clock times, backwards from when the bread is wanted or forwards from a start."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from ovenleaf.domain import benchline
from ovenleaf.domain.benchvalues import Heat
from ovenleaf.domain.durations import Duration
from ovenleaf.domain.yeast import time_at

if TYPE_CHECKING:
    from decimal import Decimal

    from ovenleaf.domain.formula import Formula, Step

WAITING = ("bulk", "proof", "ferment", "rest")


@dataclass(frozen=True, slots=True, kw_only=True)
class Slot:
    """One step in clock times. `sign` is what to look for; `span` its minutes; `adjusted` says why they
    are not those of the formula, or ""."""

    name: str
    begins: datetime
    ends: datetime
    low: Decimal
    high: Decimal
    sign: str = ""
    adjusted: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Span:
    name: str
    low: Decimal
    high: Decimal
    sign: str
    adjusted: str


class NoTimes(ValueError):
    """The formula's steps say no times at all."""


def schedule(
    formula: Formula, *, ready: datetime | None = None, begin: datetime | None = None, room: Decimal | None = None
) -> tuple[Slot, ...]:
    """The steps with a time, preferments first, in clock times; either `ready` or `begin` is given.

    A step that waits is moved by the room's temperature where that differs from the formula's and
    the rule of thumb holds; of a range, its longer end is planned for. Raises NoTimes.
    """
    spans = [*_preferments(formula), *(_span(step, room) for step in formula.process if _minutes(step) is not None)]
    if not spans:
        raise NoTimes
    start = begin
    if start is None:
        assert ready is not None
        start = ready - sum((_delta(span.high) for span in spans), timedelta())
    slots = []
    for span in spans:
        end = start + _delta(span.high)
        slots.append(
            Slot(
                name=span.name,
                begins=start,
                ends=end,
                low=span.low,
                high=span.high,
                sign=span.sign,
                adjusted=span.adjusted,
            )
        )
        start = end
    return tuple(slots)


def _delta(minutes: Decimal) -> timedelta:
    return timedelta(minutes=round(minutes))


def _preferments(formula: Formula) -> list[_Span]:
    """The longest-standing preferment: the others stand beside it."""
    found = []
    for part in (*formula.preferments, *formula.stages[:-1]):
        time = benchline.read(part.rest).get("time")
        if isinstance(time, Duration):
            found.append(_Span(name=part.name, low=time.low, high=time.high, sign="", adjusted=""))
    return [max(found, key=lambda span: span.high)] if found else []


def _minutes(step: Step) -> Duration | None:
    time = step.line.get("time")
    return time if isinstance(time, Duration) else None


def _span(step: Step, room: Decimal | None) -> _Span:
    time = _minutes(step)
    assert time is not None
    until = step.line.get("until")
    sign = until if isinstance(until, str) else ""
    planned = _at(step)
    if room is None or planned is None or not _waits(step.name) or room == planned:
        return _Span(name=step.name, low=time.low, high=time.high, sign=sign, adjusted="")
    moved = [time_at(minutes, planned, room) for minutes in (time.low, time.high)]
    if moved[0] is None or moved[1] is None:
        told = "left as it is: no rule of thumb holds at that temperature"
        return _Span(name=step.name, low=time.low, high=time.high, sign=sign, adjusted=told)
    told = f"moved from {planned} to {room} degrees by rule of thumb"
    return _Span(name=step.name, low=moved[0][0], high=moved[1][1], sign=sign, adjusted=told)


def _at(step: Step) -> Decimal | None:
    heat = step.line.get("temperature")
    return heat.temperatures[0].celsius if isinstance(heat, Heat) and len(heat.temperatures) == 1 else None


def _waits(name: str) -> bool:
    return any(word in name.lower() for word in WAITING)
