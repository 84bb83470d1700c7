"""Round figures along the side of a picture."""

from __future__ import annotations

from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from ovenleaf.domain.numbers import CONTEXT, ZERO

TENTHS = tuple(Decimal(step) for step in ("1", "2", "5"))
QUARTERS = tuple(Decimal(step) for step in ("1", "2.5", "5"))


def round_step(span: Decimal, most: int, steps: tuple[Decimal, ...] = TENTHS) -> Decimal:
    """The least of the `steps` (or ten times those, or a tenth, ...) of which `most` reach over `span`.

    >>> round_step(Decimal("2.25"), 8), round_step(Decimal(9), 5)
    (Decimal('0.5'), Decimal('2'))
    """
    if not span:
        return Decimal(1)
    tens = Decimal(1).scaleb(CONTEXT.divide(span, Decimal(most)).adjusted())
    return next(step for step in (tens * one for one in (*steps, Decimal(10))) if step * most >= span)


def round_ends(low: Decimal, high: Decimal, step: Decimal) -> tuple[Decimal, Decimal]:
    """The range widened to whole steps, one at least.

    >>> round_ends(Decimal("6.25"), Decimal("8.25"), Decimal("0.5"))
    (Decimal('6.0'), Decimal('8.5'))
    """
    first = CONTEXT.divide(low, step).to_integral_value(ROUND_FLOOR) * step
    last = CONTEXT.divide(high, step).to_integral_value(ROUND_CEILING) * step
    return (first, last) if last > first else (first, first + step)


def ticks(low: Decimal, high: Decimal, most: int, steps: tuple[Decimal, ...] = TENTHS) -> tuple[Decimal, ...]:
    """Round figures from below `low` to above `high`, about `most` of them, lowest first.

    >>> [str(tick) for tick in ticks(Decimal(62), Decimal(71), 5)]
    ['62', '64', '66', '68', '70', '72']
    """
    step = round_step(high - low, most, steps)
    first, last = round_ends(low, high, step)
    count = int(CONTEXT.divide(last - first, step))
    return tuple(first + step * number for number in range(count + 1))


def share_of_way(value: Decimal, ends: tuple[Decimal, ...]) -> Decimal:
    """How far along from the first to the last of `ends` a value lies, 0 to 1."""
    span = ends[-1] - ends[0]
    return CONTEXT.divide(value - ends[0], span) if span else ZERO
