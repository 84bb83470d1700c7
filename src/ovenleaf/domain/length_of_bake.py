"""How long a formula takes by what its lines say: what stands before the day, the steps, and the oven alone."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.domain import benchline
from ovenleaf.domain.durations import Duration
from ovenleaf.domain.numbers import ZERO

if TYPE_CHECKING:
    from decimal import Decimal

    from ovenleaf.domain.formula import Formula
    from ovenleaf.domain.percent import Worked

_BAKES = re.compile(r"\b(?:bak|oven|roast)", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Lengths:
    """Minutes, least to most. `ahead` is the longest way through what is made before the first step, `steps` those
    whose line says a time, `oven` the ones of these that bake; None where no line says."""

    ahead: Duration | None
    steps: Duration | None
    oven: Duration | None
    untimed: tuple[str, ...]  # the steps that say none

    @property
    def whole(self) -> Duration | None:
        """From the first thing made ahead to the end of the last step."""
        parts = [one for one in (self.ahead, self.steps) if one is not None]
        return _sum(parts) if parts else None


def lengths(formula: Formula, worked: Worked) -> Lengths:
    """Add up what the lines say; nothing is guessed for a step that says no time."""
    said = [(step, step.line.get("time")) for step in formula.process]
    timed = [(step.name, time) for step, time in said if isinstance(time, Duration)]
    oven = [time for name, time in timed if _BAKES.search(name)]
    return Lengths(
        ahead=_ahead(worked),
        steps=_sum([time for _, time in timed]) if timed else None,
        oven=_sum(oven) if oven else None,
        untimed=tuple(step.name for step, time in said if not isinstance(time, Duration)),
    )


def _ahead(worked: Worked) -> Duration | None:
    """The part that must be begun first, and what it goes into; parts that stand beside one another take no longer."""
    until: dict[str, Duration] = {}
    for part in reversed(worked.parts):
        said = benchline.read(part.rest).get("time")
        own = said if isinstance(said, Duration) else Duration(low=ZERO, high=ZERO)
        until[part.name] = _sum([own, *([until[part.into]] if part.into in until else [])])
    longest = max(until.values(), key=lambda one: one.high, default=None)
    return longest if longest is not None and longest.high else None


def _sum(parts: list[Duration]) -> Duration:
    low: Decimal = sum((one.low for one in parts), ZERO)
    high: Decimal = sum((one.high for one in parts), ZERO)
    return Duration(low=low, high=high)
