"""Whether the bakes of two sides were made apart in some condition, over all doughs of each.

What is recorded on one side only is not different. What lies as near as a kitchen can hold it is not
different either: cereal laboratories hold a dough to a degree and an oven to five (AACC baking methods,
by a second-hand account); times within two minutes or a twentieth, and shares within half a point and a
twentieth of themselves, are common practice without a source.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.compare.bakes import DOUGH_TEMPERATURE
from ovenleaf.domain.benchvalues import Heat, Value, measure
from ovenleaf.domain.durations import Duration
from ovenleaf.domain.quantity import Amount, Temperature, Unit

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from ovenleaf.compare.bakes import Condition

_DEGREE = Decimal(1)
_OVEN = Decimal(5)
_MINUTES = Decimal(2)
_POINTS = Decimal("0.5")
_PART = Decimal("0.05")

Bake = tuple["Condition", ...]  # what one trial records as done

# What the oven made of the rest is no condition of its own; how warm flour and water were acts through the dough.
_RESULTS = ("core temperature",)
_WARMTH = ", how warm"


@dataclass(frozen=True, slots=True, kw_only=True)
class Apart:
    """Conditions by name: those in which two sides are apart, those that are not the same and yet near, or came on
    both sides, and those that only one side has recorded."""

    differ: tuple[str, ...]
    near: tuple[str, ...]
    one_sided: tuple[str, ...]


def apart(before: Sequence[Bake], after: Sequence[Bake]) -> Apart:
    """Compare the bakes of two sides. A condition differs where no value of one side is near any of the other, and
    where the values, if they are figures, do not lie among one another."""
    left, right = _by_name(before), _by_name(after)
    both = [name for name in left if name in right and name not in _RESULTS]
    if DOUGH_TEMPERATURE in both:
        both = [name for name in both if not name.endswith(_WARMTH)]
    differ = tuple(name for name in both if _differ(left[name], right[name]))
    return Apart(
        differ=differ,
        near=tuple(name for name in both if name not in differ and not _same(left[name], right[name])),
        one_sided=tuple(name for name in dict.fromkeys((*left, *right)) if (name in left) != (name in right)),
    )


def _by_name(bakes: Iterable[Bake]) -> dict[str, list[Value]]:
    found: dict[str, list[Value]] = {}
    for bake in bakes:
        for condition in bake:
            found.setdefault(condition.name, []).append(condition.value)
    return found


def _same(left: list[Value], right: list[Value]) -> bool:
    return len({measure(value) for value in (*left, *right)}) == 1


def _differ(left: list[Value], right: list[Value]) -> bool:
    if any(near(one, other) for one in left for other in right):
        return False
    figures = [[_figure(value) for value in side] for side in (left, right)]
    if any(figure is None for side in figures for figure in side):
        return True
    one, other = ([figure for figure in side if figure is not None] for side in figures)
    return max(one) < min(other) or max(other) < min(one)


def _figure(value: Value) -> Decimal | None:
    """A value as one figure that can lie between two others, or None."""
    match value:
        case Duration():
            return (value.low + value.high) / 2
        case Temperature():
            return value.celsius
        case Heat() if len(value.temperatures) == 1:
            return value.temperatures[0].celsius
        case Amount() if value.unit is Unit.SHARE:
            return value.value
        case Decimal():
            return value
    return None


def near(one: Value, other: Value) -> bool:
    """True where two values are as near as a kitchen can hold them, or the same."""
    if measure(one) == measure(other):
        return True
    match one, other:
        case Temperature(), Temperature():
            return abs(one.celsius - other.celsius) < _DEGREE
        case Heat(), Heat() if len(one.temperatures) == len(other.temperatures) and one.between == other.between:
            pairs = zip(one.temperatures, other.temperatures, strict=True)
            return all(abs(a.celsius - b.celsius) < _OVEN for a, b in pairs)
        case Duration(), Duration():
            return _near_time(one.low, other.low) and _near_time(one.high, other.high)
        case Amount(), Amount() if one.unit is other.unit is Unit.SHARE:
            moved = abs(one.value - other.value)
            return moved < _POINTS and moved <= _PART * max(one.value, other.value)
    return False


def _near_time(one: Decimal, other: Decimal) -> bool:
    return abs(one - other) <= max(_MINUTES, _PART * max(one, other))
