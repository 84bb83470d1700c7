"""Normal, Student's t, chi-square, binomial: against scipy over a grid, and against printed tables."""

from __future__ import annotations

import itertools
from math import inf

import pytest
from scipy import stats

from ovenleaf.evidence.distributions import (
    beta_below,
    binomial_at_least,
    chi_square_above,
    normal_below,
    normal_quantile,
    t_below,
    t_quantile,
)

FREEDOMS = (1, 2, 3, 4, 5, 7, 9.5, 14, 30, 120, 1000)
CHANCES = (1e-9, 0.0005, 0.01, 0.025, 0.05, 0.2, 0.5, 0.8, 0.95, 0.975, 0.99, 0.9995)


def test_normal_chances_are_as_the_reference_library_has_them():
    """scipy.stats.norm, to ten digits, tails too."""
    for z in (-8, -3.2, -1.96, -0.1, 0, 0.7, 1.645, 4):
        assert normal_below(z) == pytest.approx(stats.norm.cdf(z), rel=1e-10)
    for chance in CHANCES:
        assert normal_quantile(chance) == pytest.approx(stats.norm.ppf(chance), rel=1e-9, abs=1e-12)


@pytest.mark.parametrize("freedom", FREEDOMS)
def test_students_t_is_as_the_reference_library_has_it(freedom):
    """scipy.stats.t over a grid of t, chance and degrees of freedom."""
    for t in (-40, -5, -2.1, -0.3, 0, 0.01, 1, 3.7, 25):
        assert t_below(t, freedom) == pytest.approx(stats.t.cdf(t, freedom), rel=1e-9)
    for chance in CHANCES:
        assert t_quantile(chance, freedom) == pytest.approx(stats.t.ppf(chance, freedom), rel=1e-7, abs=1e-12)


def test_the_t_table_of_the_books_comes_out():
    """Two-sided 5 % points as statistical tables print them (Student's t, 97.5 %)."""
    table = {1: 12.7062, 2: 4.3027, 3: 3.1824, 4: 2.7764, 5: 2.5706, 9: 2.2622, 19: 2.0930, 29: 2.0452}
    assert {freedom: round(t_quantile(0.975, freedom), 4) for freedom in table} == table


def test_chi_square_is_as_the_reference_library_has_it():
    """scipy.stats.chi2, on both sides of where the series gives way to the fraction."""
    for value, freedom in itertools.product((0.01, 0.5, 3, 4.99, 5.01, 9.488, 40, 200), (1, 2, 3, 4, 9, 50)):
        assert chi_square_above(value, freedom) == pytest.approx(stats.chi2.sf(value, freedom), rel=1e-9)
    assert chi_square_above(0, 3) == chi_square_above(-1, 3) == 1


def test_the_incomplete_beta_function_is_as_the_reference_library_has_it():
    """scipy.special by way of scipy.stats.beta, ends included."""
    for x, a, b in itertools.product((0, 1e-6, 0.2, 0.5, 0.93, 1), (0.5, 1, 4.5, 60), (0.5, 2, 31)):
        assert beta_below(x, a, b) == pytest.approx(stats.beta.cdf(x, a, b), rel=1e-9, abs=1e-15)


def test_binomial_tails_are_as_the_reference_library_has_them():
    """scipy.stats.binom; none or more is certain, more than all is impossible."""
    for hits, tries in ((0, 5), (1, 5), (5, 6), (8, 12), (40, 60), (7, 6)):
        assert binomial_at_least(hits, tries, 1 / 3) == pytest.approx(stats.binom.sf(hits - 1, tries, 1 / 3))


def test_the_ends_of_a_chance_lie_infinitely_far_out():
    """Nothing is certain of a normal value, nor of t."""
    assert (normal_quantile(0), normal_quantile(1)) == (-inf, inf)
    assert (t_quantile(0, 4), t_quantile(1, 4)) == (-inf, inf)
