"""A straight line through few doughs, and how far its slope can be trusted.

Sums are Decimals, so that scores far from zero lose no digits; only the t quantile is a float.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain.numbers import CONTEXT, ZERO
from ovenleaf.evidence.distributions import t_quantile

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

Point = tuple[Decimal, Decimal]
SURE = Decimal("0.9")  # how often a range holds what is true, as everywhere in this room (`chances.INSIDE`)


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """y = start + slope x. `residual` is the scatter about the line, and `error` that of the slope, in the same
    units; both None with two points, which any line meets. `freedom` is the number of points less two."""

    slope: Decimal
    start: Decimal
    residual: Decimal | None
    error: Decimal | None
    start_error: Decimal | None
    freedom: int

    def slope_range(self) -> tuple[Decimal, Decimal] | None:
        """The slope give or take t x its standard error, right nine times in ten; None where the scatter is not known.

        Points that lie on a line exactly tell no scatter either: with marks in steps that is chance.
        """
        if not self.error:
            return None
        chance = float((1 + SURE) / 2)
        away = CONTEXT.multiply(Decimal(t_quantile(chance, self.freedom)), self.error)
        return self.slope - away, self.slope + away


def fit(points: Sequence[Point]) -> Fit | None:
    """The least-squares line; None where there is no second x to draw it to.

    Source of the formulas: NIST/SEMATECH e-Handbook of Statistical Methods, 4.1.4.1.
    """
    if len({x for x, _ in points}) < 2:
        return None
    count = Decimal(len(points))
    mid_x = CONTEXT.divide(sum((x for x, _ in points), ZERO), count)
    mid_y = CONTEXT.divide(sum((y for _, y in points), ZERO), count)
    spread = _sum((x - mid_x, x - mid_x) for x, _ in points)
    slope = CONTEXT.divide(_sum((x - mid_x, y - mid_y) for x, y in points), spread)
    start = CONTEXT.subtract(mid_y, CONTEXT.multiply(slope, mid_x))
    freedom = len(points) - 2
    if not freedom:
        return Fit(slope=slope, start=start, residual=None, error=None, start_error=None, freedom=0)
    off = [CONTEXT.subtract(y - mid_y, CONTEXT.multiply(slope, x - mid_x)) for x, y in points]
    residual = CONTEXT.sqrt(CONTEXT.divide(_sum((one, one) for one in off), Decimal(freedom)))
    error = CONTEXT.divide(residual, CONTEXT.sqrt(spread))
    at_nought = CONTEXT.add(CONTEXT.divide(Decimal(1), count), CONTEXT.divide(mid_x * mid_x, spread))
    return Fit(
        slope=slope,
        start=start,
        residual=residual,
        error=error,
        start_error=CONTEXT.multiply(residual, CONTEXT.sqrt(at_nought)),
        freedom=freedom,
    )


def _sum(pairs: Iterable[Point]) -> Decimal:
    total = ZERO
    for one, other in pairs:
        total = CONTEXT.add(total, CONTEXT.multiply(one, other))
    return total
