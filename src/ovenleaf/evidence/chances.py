"""What a few noisy doughs tell of the revisions behind them: chances and ranges.

The model. Doughs of a revision scatter normally about its own value, and the revisions of a formula
about a value in common, so that a revision with few doughs is drawn towards the rest. Neither the
scatter nor the spread is known: both are summed over, each with what the doughs say of it and with a
stated assumption that counts little once there are repeats. Nothing is drawn by lot: the sums run over
fixed points, and the same doughs give the same chances for ever.

Floats on purpose: chances are shown to one digit, and the sums need exponentials. The method is the
normal one-way model with exchangeable means (D. Lindley and A. Smith, Journal of the Royal Statistical
Society B 34, 1972; A. Gelman, Bayesian Analysis 1, 2006, for the half-t spread), from memory.
"""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from itertools import accumulate, pairwise
from math import exp, log, sqrt
from operator import mul
from typing import TYPE_CHECKING

from ovenleaf.evidence.distributions import normal_below

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from decimal import Decimal

    from ovenleaf.evidence.scatter import Scatter

# Assumptions of our own, without a source; each a share of the scale from its lowest to its highest mark.
ASSUMED_SCATTER = 0.05  # half a mark of ten
ASSUMED_REPEATS = 2  # how many repeats that counts as
ASSUMED_SPREAD = 0.07  # revisions of one formula: seven tenths of a mark of ten
_SPREAD_FREEDOM = 3  # of the half-t: far wider spreads stay possible

INSIDE = 0.9  # a range holds the true value nine times in ten

_POINTS = 9
_NEGLIGIBLE = 0.004  # of the whole weight, left to the least likely cases and not counted
_STEPS = 24
_FAR = 5.0  # standard deviations beyond which nothing is left to count
# Gauss-Hermite points and weights for a standard normal, three of them (exact to the fifth power).
_HERMITE = ((-sqrt(3), 1 / 6), (0.0, 2 / 3), (sqrt(3), 1 / 6))


@dataclass(frozen=True, slots=True)
class Group:
    """One revision: the mean of its doughs, in marks, and their number."""

    mean: float
    doughs: int


@dataclass(frozen=True, slots=True)
class Case:
    """One scatter and one spread with the weight that the doughs give them: what each revision is then
    thought to be (`middles`, before the common value is known as `drawn` times it), and how surely."""

    weight: float
    common: float  # the common value, and its variance
    common_variance: float
    keeps: tuple[float, ...]  # how much of its own mean a revision keeps, 0 to 1
    variances: tuple[float, ...]  # of each revision about its middle, once the common value is known


@dataclass(frozen=True, slots=True)
class Judgement:
    """What is thought of all the revisions together."""

    groups: tuple[Group, ...]
    cases: tuple[Case, ...]


Weighted = tuple[tuple[float, float], ...]  # values, each with the logarithm of its weight


def scatters(found: Scatter, width: Decimal) -> Weighted:
    """Scatters that may be the true one, by the repeats found and by the assumption. `width` is that of the scale."""
    repeats = ASSUMED_REPEATS + found.repeats
    squares = ASSUMED_REPEATS * (ASSUMED_SCATTER * float(width)) ** 2 + float(found.squares)
    return scaled_inverse_chi(squares, repeats)


def scaled_inverse_chi(squares: float, repeats: int) -> Weighted:
    """Points over a standard deviation that left `squares` in `repeats` degrees of freedom, evenly in its logarithm."""
    middle, reach = sqrt(squares / repeats), min(3.2 / sqrt(repeats), 2.0)
    points = [middle * exp(reach * place) for place in _even()]
    return tuple((s, -repeats * log(s) - squares / (2 * s * s)) for s in points)


def spreads(width: Decimal) -> Weighted:
    """Spreads among revisions that may be the true one: a half-t about the assumption, evenly in the logarithm."""
    scale = ASSUMED_SPREAD * float(width)
    points = [scale * exp(2.1 * place - 0.5) for place in _even()]
    power = (_SPREAD_FREEDOM + 1) / 2
    return tuple((t, log(t) - power * log(1 + (t / scale) ** 2 / _SPREAD_FREEDOM)) for t in points)


def _even() -> list[float]:
    """Points from -1 to 1, each in the middle of its share."""
    return [(2 * place + 1) / _POINTS - 1 for place in range(_POINTS)]


def assumed(found: Scatter, width: Decimal) -> float:
    """The scatter that is reckoned with, in marks: what was found and what is assumed, by their repeats."""
    squares = ASSUMED_REPEATS * (ASSUMED_SCATTER * float(width)) ** 2 + float(found.squares)
    return sqrt(squares / (ASSUMED_REPEATS + found.repeats))


def judge(groups: Sequence[Group], scatter: Weighted, spread: Weighted) -> Judgement:
    """Weigh every scatter and spread by what the doughs say of it. At least one group."""
    cases = [_case(groups, s, t, ahead + also) for s, ahead in scatter for t, also in spread]
    top = max(case.weight for case in cases)
    kept = _worth_keeping(cases, top)
    total = sum(exp(case.weight - top) for case in kept)
    return Judgement(
        groups=tuple(groups),
        cases=tuple(Case(exp(c.weight - top) / total, c.common, c.common_variance, c.keeps, c.variances) for c in kept),
    )


def _worth_keeping(cases: list[Case], top: float) -> list[Case]:
    """The likeliest cases that together hold all but a few thousandths of the whole."""
    order = sorted(cases, key=lambda case: -case.weight)
    reached = [*accumulate(exp(case.weight - top) for case in order)]
    return order[: 1 + bisect_left(reached, (1 - _NEGLIGIBLE) * reached[-1])]


def _case(groups: Sequence[Group], scatter: float, spread: float, ahead: float) -> Case:
    """One scatter and spread; `weight` is still the logarithm. The common value is taken as wholly unknown before."""
    noise = [scatter * scatter / group.doughs for group in groups]
    precision = [1 / (spread * spread + variance) for variance in noise]
    total = sum(precision)
    common = sum(p * group.mean for p, group in zip(precision, groups, strict=True)) / total
    misfit = sum(p * (group.mean - common) ** 2 for p, group in zip(precision, groups, strict=True))
    weight = ahead + sum(log(p) for p in precision) / 2 - log(total) / 2 - misfit / 2
    keeps = tuple(spread * spread * p for p in precision)
    variances = tuple(keep * variance for keep, variance in zip(keeps, noise, strict=True))
    return Case(weight, common, 1 / total, keeps, variances)


def chance_ahead(judged: Judgement, one: int, other: int) -> float:
    """The chance that the revision at `one` is truly above that at `other`."""
    return min(1.0, max(0.0, 1 - _gap_below(judged, one, other)(0.0)))


def gap_range(judged: Judgement, one: int, other: int) -> tuple[float, float]:
    """From where to where the true gap, `one` above `other`, lies nine times in ten."""
    return _range(_gap_below(judged, one, other), *_reach([_gap(judged, case, one, other) for case in judged.cases]))


def mean_range(judged: Judgement, one: int) -> tuple[float, float]:
    """From where to where the true value of a revision lies nine times in ten."""
    normals = [_value(judged, case, one) for case in judged.cases]
    return _range(_mixture(judged, normals), *_reach(normals))


def _value(judged: Judgement, case: Case, one: int) -> tuple[float, float]:
    """What one revision is thought to be in a case: a mean and a variance."""
    keep = case.keeps[one]
    middle = keep * judged.groups[one].mean + (1 - keep) * case.common
    return middle, case.variances[one] + (1 - keep) ** 2 * case.common_variance


def _gap(judged: Judgement, case: Case, one: int, other: int) -> tuple[float, float]:
    """The gap between two revisions in a case: what they have in common goes out of it as far as both lean on it."""
    leans = case.keeps[other] - case.keeps[one]
    variance = case.variances[one] + case.variances[other] + leans**2 * case.common_variance
    return _value(judged, case, one)[0] - _value(judged, case, other)[0], variance


def _gap_below(judged: Judgement, one: int, other: int) -> Callable[[float], float]:
    return _mixture(judged, [_gap(judged, case, one, other) for case in judged.cases])


def _mixture(judged: Judgement, normals: Sequence[tuple[float, float]]) -> Callable[[float], float]:
    weighed = [(c.weight, middle, sqrt(variance)) for c, (middle, variance) in zip(judged.cases, normals, strict=True)]
    return lambda x: sum(weight * normal_below((x - middle) / deviation) for weight, middle, deviation in weighed)


def _reach(normals: Sequence[tuple[float, float]]) -> tuple[float, float]:
    return (
        min(middle - _FAR * sqrt(variance) for middle, variance in normals),
        max(middle + _FAR * sqrt(variance) for middle, variance in normals),
    )


def _range(below: Callable[[float], float], low: float, high: float) -> tuple[float, float]:
    return _where(below, (1 - INSIDE) / 2, low, high), _where(below, (1 + INSIDE) / 2, low, high)


def _where(below: Callable[[float], float], chance: float, low: float, high: float) -> float:
    """Where a chance is reached, by halving: to a thousandth of what it began with, and far finer than marks."""
    for _ in range(17):
        middle = (low + high) / 2
        low, high = (middle, high) if below(middle) < chance else (low, middle)
    return (low + high) / 2


def chances_best(judged: Judgement) -> tuple[float, ...]:
    """The chance of each revision to be the best of all; they add up to 1."""
    total = [0.0] * len(judged.groups)
    for case in judged.cases:
        deviations = [sqrt(variance) for variance in case.variances]
        for point, weight in _HERMITE:
            common = case.common + point * sqrt(case.common_variance)
            middles = [
                keep * group.mean + (1 - keep) * common for keep, group in zip(case.keeps, judged.groups, strict=True)
            ]
            _add_best(total, case.weight * weight, middles, deviations)
    return tuple(min(chance, 1.0) for chance in total)


def _add_best(total: list[float], weight: float, middles: list[float], deviations: list[float]) -> None:
    """Add the chance of each of some independent normals to be the highest.

    The chance that one lies in a step times the chance that all others lie below it, over all steps.
    """
    pairs = list(zip(middles, deviations, strict=True))
    low = max(middle - _FAR * deviation for middle, deviation in pairs)
    high = max(middle + _FAR * deviation for middle, deviation in pairs)
    alive = [place for place, (middle, deviation) in enumerate(pairs) if middle + _FAR * deviation > low]
    edges = [low + (high - low) * step / _STEPS for step in range(_STEPS + 1)]
    below = [[normal_below((edge - pairs[p][0]) / pairs[p][1]) for edge in edges] for p in alive]
    best = [0.0] * len(alive)
    for before, after in pairwise(zip(*below, strict=True)):
        beneath = [(one + other) / 2 for one, other in zip(before, after, strict=True)]
        for place, others in enumerate(_products_of_others(beneath)):
            best[place] += (after[place] - before[place]) * others
    whole = sum(best)
    for place, chance in zip(alive, best, strict=True):
        total[place] += weight * chance / whole


def _products_of_others(values: list[float]) -> list[float]:
    """For each value the product of all the others, without dividing by what may be nought."""
    ahead = accumulate([1.0, *values[:-1]], mul)
    behind = [*accumulate([1.0, *values[:0:-1]], mul)]
    return [one * other for one, other in zip(ahead, reversed(behind), strict=True)]
