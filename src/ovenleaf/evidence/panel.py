"""What a panel of few tasters can tell of several breads: by ranks, since one taster's 7 is another's 5.

Rank sums, Friedman's test with ties, Kendall's W, the least significant difference (ISO 8587) and
the triangle test (ISO 4120). Small panels get the exact chance over all orders that could have been.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from itertools import combinations, permutations
from math import factorial, sqrt
from typing import TYPE_CHECKING

from ovenleaf.evidence.distributions import binomial_at_least, chi_square_above, normal_quantile

if TYPE_CHECKING:
    from collections.abc import Sequence
    from decimal import Decimal

RARE = 0.05  # a chance below this is called no chance; common practice
GUESSING = 1 / 3  # one of three breads is the odd one
_MOST_ORDERS = 300_000  # steps of counting in one taster; more would keep a baker waiting
_NEAR = 1e-9  # statistics nearer than this are the same one


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelResult:
    """What the ranks say. `sums` holds (bread, rank sum), the highest marks having the highest ranks.

    `statistic` is Friedman's, corrected for ties; `chance` that ranks given by lot come out as far apart,
    `exact` or by chi-square; `agreement` Kendall's W, 0 to 1; `least` the difference of two rank sums that
    counts; `apart` the pairs that are at least so far apart, only where the breads differ at all.
    """

    tasters: int
    sums: tuple[tuple[str, float], ...]
    statistic: float
    chance: float
    exact: bool
    agreement: float
    least: float
    apart: tuple[tuple[str, str], ...]

    @property
    def differ(self) -> bool:
        """True where such ranks by lot would be rare."""
        return self.chance <= RARE


def ranks(marks: Sequence[Decimal]) -> tuple[float, ...]:
    """The rank of each mark, 1 for the lowest; equal marks share the mean of their ranks.

    >>> ranks((7, 5, 7))
    (2.5, 1.0, 2.5)
    """
    return tuple(
        (sum(other < mark for other in marks) + sum(other <= mark for other in marks) + 1) / 2 for mark in marks
    )


def panel(breads: Sequence[str], table: Sequence[Sequence[Decimal]]) -> PanelResult | None:
    """Ranks the marks of each taster (a row, with a mark for each bread) and compares the sums.

    None for fewer than two tasters or two breads, which cannot be told from chance.
    """
    if len(table) < 2 or len(breads) < 2:
        return None
    ranked = [ranks(row) for row in table]
    sums = [sum(column) for column in zip(*ranked, strict=True)]
    statistic = _friedman(ranked, sums)
    exact = _exact_chance(ranked, sums)
    chance = chi_square_above(statistic, len(breads) - 1) if exact is None else exact
    least = least_difference(len(table), len(breads))
    apart = [pair for pair in combinations(range(len(breads)), 2) if abs(sums[pair[0]] - sums[pair[1]]) >= least]
    return PanelResult(
        tasters=len(table),
        sums=tuple(zip(breads, sums, strict=True)),
        statistic=statistic,
        chance=chance,
        exact=exact is not None,
        agreement=statistic / (len(table) * (len(breads) - 1)),
        least=least,
        apart=tuple((breads[one], breads[other]) for one, other in apart) if chance <= RARE else (),
    )


def _friedman(ranked: Sequence[Sequence[float]], sums: Sequence[float]) -> float:
    """12 sum R^2 / (J P (P+1)) - 3 J (P+1), over 1 - sum(t^3 - t) / (J (P^3 - P)); nothing where all are ties.

    Source: Hollander and Wolfe, Nonparametric Statistical Methods, 7.1.
    """
    tasters, breads = len(ranked), len(sums)
    plain = 12 * sum(one * one for one in sums) / (tasters * breads * (breads + 1)) - 3 * tasters * (breads + 1)
    ties = sum(count**3 - count for row in ranked for count in Counter(row).values())
    left = 1 - ties / (tasters * (breads**3 - breads))
    return max(0.0, plain) / left if left > _NEAR else 0.0


def _exact_chance(ranked: Sequence[Sequence[float]], sums: Sequence[float]) -> float | None:
    """The share of all orders, each taster's own ranks dealt out by lot, whose rank sums lie as far apart.

    Sums are kept in order, since it is one which bread has which: few different ones are left. None where
    even so there are too many.
    """
    reached = sum(one * one for one in sums)
    states: dict[tuple[float, ...], int] = {(0.0,) * len(sums): 1}
    total = 1
    for row in ranked:
        if len(states) * factorial(len(row)) > _MOST_ORDERS:
            return None
        orders = Counter(permutations(row))
        deals: Counter[tuple[float, ...]] = Counter()
        for state, ways in states.items():
            for order, times in orders.items():
                deals[tuple(sorted(map(sum, zip(state, order, strict=True))))] += ways * times
        states, total = deals, total * sum(orders.values())
    return sum(ways for state, ways in states.items() if sum(s * s for s in state) >= reached - _NEAR) / total


def least_difference(tasters: int, breads: int) -> float:
    """How far two rank sums must lie apart to count: z sqrt(J P (P+1) / 6), at 5 % (ISO 8587)."""
    return normal_quantile(1 - RARE / 2) * sqrt(tasters * breads * (breads + 1) / 6)


def triangle_chance(right: int, tasters: int) -> float:
    """The chance that so many or more find the odd one of three by guessing alone (ISO 4120)."""
    return binomial_at_least(right, tasters, GUESSING)


def triangle_least(tasters: int) -> int | None:
    """How many must find the odd one so that guessing is under 1 in 20; None where even all are too few.

    >>> triangle_least(6), triangle_least(2)
    (5, None)
    """
    return next((right for right in range(tasters + 1) if triangle_chance(right, tasters) <= RARE), None)
