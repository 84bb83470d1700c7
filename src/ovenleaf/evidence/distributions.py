"""The few distributions that few bakes need: normal, Student's t, chi-square, binomial.

Floats on purpose: these are chances, good to some ten digits and shown to one or two, never an
amount. Formulas by number from the NIST Digital Library of Mathematical Functions (DLMF).
"""

from __future__ import annotations

from math import comb, erfc, exp, inf, lgamma, log, log1p, sqrt
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

_TINY = 1e-300  # stands for a nought that must be divided by
_ENOUGH = 1e-15  # how little the next term of a series may still change
_TERMS = 100_000  # far more terms than any number of bakes asks for


def normal_below(z: float) -> float:
    """The chance that a standard normal value lies below `z` (DLMF 7.17.1 turned round: erfc(-z/sqrt 2) / 2).

    >>> round(normal_below(1.959964), 6)
    0.975
    """
    return erfc(-z / sqrt(2)) / 2


def normal_quantile(chance: float) -> float:
    """The z below which a standard normal value lies with `chance`, which is between 0 and 1.

    >>> round(normal_quantile(0.975), 6)
    1.959964
    """
    return _inverse(normal_below, chance)


def t_below(t: float, freedom: float) -> float:
    """The chance that Student's t with `freedom` degrees of freedom lies below `t` (by DLMF 8.17).

    >>> round(t_below(2.7764451, 4), 6)
    0.975
    """
    square = t * t
    if square < freedom:  # near the middle, what lies between it and t is the smaller part and keeps its digits
        between = beta_below(square / (freedom + square), 0.5, freedom / 2) / 2
        return 0.5 - between if t < 0 else 0.5 + between
    tail = beta_below(freedom / (freedom + square), freedom / 2, 0.5) / 2
    return tail if t < 0 else 1 - tail


def t_quantile(chance: float, freedom: float) -> float:
    """The t below which Student's t lies with `chance`.

    >>> round(t_quantile(0.975, 2), 4)
    4.3027
    """
    return _inverse(lambda t: t_below(t, freedom), chance)


def chi_square_above(value: float, freedom: float) -> float:
    """The chance of a chi-square value above `value`.

    >>> round(chi_square_above(9.487729, 4), 6)
    0.05
    """
    return 1.0 if value <= 0 else _gamma_above(freedom / 2, value / 2)


def binomial_at_least(hits: int, tries: int, chance: float) -> float:
    """The chance of `hits` or more in `tries`, each with `chance`.

    >>> round(binomial_at_least(5, 6, 1 / 3), 6)
    0.017833
    """
    return sum(comb(tries, n) * chance**n * (1 - chance) ** (tries - n) for n in range(max(hits, 0), tries + 1))


def beta_below(x: float, a: float, b: float) -> float:
    """The regularised incomplete beta function I_x(a, b), 0 <= x <= 1, by its continued fraction (DLMF 8.17.22)."""
    if x <= 0 or x >= 1:
        return 0.0 if x <= 0 else 1.0
    if x > (a + 1) / (a + b + 2):  # beyond here the fraction converges slowly, and its mirror image fast
        return 1 - beta_below(1 - x, b, a)
    front = exp(lgamma(a + b) - lgamma(a) - lgamma(b) + a * log(x) + b * log1p(-x))

    def numerator(term: int) -> float:
        m = term // 2
        if term % 2:
            return -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1))
        return m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m))

    return front / (a * _fraction(1.0, numerator, lambda term: 1.0))


def _gamma_above(a: float, x: float) -> float:
    """The regularised upper incomplete gamma function Q(a, x): a series below a + 1, a fraction above it."""
    front = exp(-x + a * log(x) - lgamma(a))
    if x < a + 1:  # DLMF 8.7.1
        term = total = 1 / a
        step = a
        while term > total * _ENOUGH:
            step += 1
            term *= x / step
            total += term
        return 1 - front * total
    # DLMF 8.9.2
    return front / _fraction(x + 1 - a, lambda n: -n * (n - a), lambda n: x + 1 - a + 2 * n)


def _fraction(first: float, over: Callable[[int], float], under: Callable[[int], float]) -> float:
    """`first` + over(1) / (under(1) + over(2) / (under(2) + ...)), by Lentz's method."""
    value = first or _TINY
    c, d = value, 0.0
    for term in range(1, _TERMS):
        d = 1 / (under(term) + over(term) * d or _TINY)
        c = under(term) + over(term) / c or _TINY
        value *= c * d
        if abs(c * d - 1) < _ENOUGH:
            break
    return value


def _inverse(below: Callable[[float], float], chance: float) -> float:
    """Where a symmetric distribution reaches `chance`, by halving; the ends of the range are infinite."""
    if chance <= 0 or chance >= 1:
        return -inf if chance <= 0 else inf
    if chance > 0.5:
        return -_inverse(below, 1 - chance)
    low, high = -1.0, 0.0
    while below(low) > chance:
        low *= 2
    while (middle := (low + high) / 2) not in (low, high):
        low, high = (middle, high) if below(middle) < chance else (low, middle)
    return high
