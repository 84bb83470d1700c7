"""How much less than it says a prepacked piece may weigh, where packs are sold by the average rule of the EU and UK."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

from ovenleaf.domain.numbers import portion

# Council Directive 76/211/EEC, Annex I, 2.4: up to so many g, so many percent of it or so many g.
_TOLERABLE = (
    (50, Decimal(9), None),
    (100, None, Decimal("4.5")),
    (200, Decimal("4.5"), None),
    (300, None, Decimal(9)),
    (500, Decimal(3), None),
    (1000, None, Decimal(15)),
    (10_000, Decimal("1.5"), None),
)
LEAST = Decimal(5)  # g; lighter packs, and those above 10 kg, are not under the rule


@dataclass(frozen=True, slots=True, kw_only=True)
class Tolerance:
    """In g: the tolerable negative error; the weight that 1 pack in 40 at most may be under; that which none may."""

    error: Decimal
    few_under: Decimal
    none_under: Decimal


def tolerance(nominal: Decimal) -> Tolerance | None:
    """Of packs of `nominal` g; None where the rule does not hold. Percentages round up, to 0.1 g, from 1 kg to 1 g.

    >>> str(tolerance(Decimal(400)).few_under), str(tolerance(Decimal(400)).none_under)
    ('388.0', '376.0')
    """
    if nominal < LEAST:
        return None
    for most, share, grams in _TOLERABLE:
        if nominal <= most:
            step = Decimal("0.1") if nominal <= 1000 else Decimal(1)
            exact = grams if grams is not None else portion(share or Decimal(0), nominal)
            error = exact.quantize(step, rounding=ROUND_CEILING)
            return Tolerance(error=error, few_under=nominal - error, none_under=nominal - 2 * error)
    return None
