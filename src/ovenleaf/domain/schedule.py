"""A bake laid out in clock times, backwards from when the bread is wanted or forwards from a start.

How long a step takes is time that passes, so a night in which the clocks change has its hour more or less.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain import benchline
from ovenleaf.domain.benchvalues import Heat
from ovenleaf.domain.durations import Duration
from ovenleaf.domain.numbers import CONTEXT, ZERO, plain, rounded
from ovenleaf.domain.yeast import RULE_FROM, time_at

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ovenleaf.domain.benchline import BenchLine
    from ovenleaf.domain.formula import Formula
    from ovenleaf.domain.percent import WorkedPart

WAITING = ("bulk", "proof", "ferment", "rest")


@dataclass(frozen=True, slots=True, kw_only=True)
class Slot:
    """One step in clock times. `sign` is what to look for; `low` and `high` are its minutes; `adjusted`
    says why they are not those of the formula, or ""."""

    name: str
    begins: datetime
    ends: datetime
    low: Decimal
    high: Decimal
    sign: str = ""
    adjusted: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Span:
    """A step by its minutes; `at` is when it begins, in minutes from the first mixing, below zero before it."""

    name: str
    low: Decimal
    high: Decimal
    at: Decimal = ZERO
    sign: str = ""
    adjusted: str = ""


class NoTimes(ValueError):
    """The formula's steps say no times at all."""


def schedule(
    formula: Formula,
    *,
    ready: datetime | None = None,
    begin: datetime | None = None,
    room: Decimal | None = None,
    parts: Sequence[WorkedPart] = (),
    yeasted: bool = True,
) -> tuple[Slot, ...]:
    """The steps with a time in clock times, in the order they begin; either `ready` or `begin` is given.

    Each of `parts` (preferments, soakers, bowls) that stands a while is done when what it goes into is begun.
    In a dough raised by yeast, a step that waits, and a preferment that stands, is moved by the room's
    temperature where that differs from the formula's and the rule of thumb holds. Of a range, its longer end
    is planned for. Clock times are those of the time zone that `ready` or `begin` carries. Raises NoTimes.
    """
    spans = sorted([*_standing(parts, room, yeasted), *_process(formula, room, yeasted)], key=lambda span: span.at)
    if not spans:
        raise NoTimes
    if begin is None:
        assert ready is not None
        begin = later(ready, spans[0].at - max(span.at + span.high for span in spans))
    return tuple(_slot(span, begin, spans[0].at) for span in spans)


def _slot(span: _Span, begin: datetime, first: Decimal) -> Slot:
    return Slot(
        name=span.name,
        begins=later(begin, span.at - first),
        ends=later(begin, span.at + span.high - first),
        low=span.low,
        high=span.high,
        sign=span.sign,
        adjusted=span.adjusted,
    )


def later(at: datetime, minutes: Decimal) -> datetime:
    """So many minutes later (below zero, earlier), on the same zone's clock, to the whole minute."""
    return (at.astimezone(UTC) + timedelta(minutes=int(rounded(minutes, 0)))).astimezone(at.tzinfo)


def _standing(parts: Sequence[WorkedPart], room: Decimal | None, yeasted: bool) -> list[_Span]:
    """What is made before the first mixing and stands a while, each done when it is wanted."""
    found: dict[str, _Span] = {}
    for part in reversed(parts):  # what a part goes into stands after it
        wanted = found[part.into].at if part.into in found else ZERO
        line = benchline.read(part.rest)
        low, high, adjusted = _moved(line, room if part.leavened else None, yeasted)
        found[part.name] = _Span(
            name=part.name, low=low, high=high, at=wanted - high, sign=_sign(line), adjusted=adjusted
        )
    return [span for span in reversed(found.values()) if span.high]


def _process(formula: Formula, room: Decimal | None, yeasted: bool) -> list[_Span]:
    """The steps with a time, one behind the other."""
    found: list[_Span] = []
    at = ZERO
    for step in formula.process:
        low, high, adjusted = _moved(step.line, room if _waits(step.name) else None, yeasted)
        if isinstance(step.line.get("time"), Duration):
            found.append(_Span(name=step.name, low=low, high=high, at=at, sign=_sign(step.line), adjusted=adjusted))
            at += high
    return found


def _sign(line: BenchLine) -> str:
    until = line.get("until")
    return until if isinstance(until, str) else ""


def _moved(line: BenchLine, room: Decimal | None, yeasted: bool) -> tuple[Decimal, Decimal, str]:
    """Least and most minutes of a line in this room, and why they are not those of the page, or "".

    No minutes where the line says no time; as they are where no room is given.
    """
    time, planned = line.get("time"), _at(line)
    if not isinstance(time, Duration):
        return ZERO, ZERO, ""
    if room is None or planned is None or room == planned or planned < RULE_FROM:
        return time.low, time.high, ""  # what stands cold stands in the fridge, whatever the room
    low, high = time_at(time.low, planned, room), time_at(time.high, planned, room)
    if not yeasted or low is None or high is None:
        why = "no rule of thumb holds there" if yeasted else "the rule of thumb is for yeast alone"
        return time.low, time.high, f"not moved to {_shown(room)} °C: {why}"
    return low[0], high[1], f"moved from {_shown(planned)} to {_shown(room)} °C by rule of thumb"


def _at(line: BenchLine) -> Decimal | None:
    """How warm the page has it, in degrees Celsius; the middle of a span; None for a course, as an oven's."""
    heat = line.get("temperature")
    if not isinstance(heat, Heat) or (len(heat.temperatures) > 1 and not heat.between):
        return None
    degrees = [one.celsius for one in heat.temperatures]
    return CONTEXT.divide(sum(degrees, ZERO), Decimal(len(degrees)))


def _shown(degrees: Decimal) -> str:
    return plain(rounded(degrees, 1))


def _waits(name: str) -> bool:
    return any(word in name.lower() for word in WAITING)
