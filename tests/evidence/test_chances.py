"""Chances and ranges against Student's t, the figures the design tells, brute force, and their own laws."""

from __future__ import annotations

from decimal import Decimal
from math import inf, isfinite, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from builders import QUICK
from ovenleaf.evidence.chances import (
    Group,
    chance_ahead,
    chances_best,
    gap_range,
    judge,
    mean_range,
    scaled_inverse_chi,
    scatters,
    spreads,
)
from ovenleaf.evidence.scatter import Scatter, pooled_within

WIDTH = Decimal(10)
FEW = settings(QUICK, max_examples=12)
APART = ((1e6, 0.0),)  # a spread so wide that nothing is drawn towards anything
STORY = [Group(8.25, 1), Group(7.75, 3), Group(6.875, 2), Group(6.625, 2)]

# Student 1908, hours of sleep gained by ten patients with two drugs (R's sleep).
FIRST = [Decimal(v) for v in ["0.7", "-1.6", "-0.2", "-1.2", "-0.1", "3.4", "3.7", "0.8", "0.0", "2.0"]]
SECOND = [Decimal(v) for v in ["1.9", "0.8", "1.1", "0.1", "-0.1", "4.4", "5.5", "1.6", "4.6", "3.4"]]


def group(values):
    return Group(float(sum(values)) / len(values), len(values))


def test_without_any_assumption_it_is_students_t():
    """The sleep data as two revisions of ten doughs: t 1.860813 on 18 degrees of freedom (scipy, pooled)."""
    found = pooled_within([FIRST, SECOND])
    judged = judge([group(FIRST), group(SECOND)], scaled_inverse_chi(float(found.squares), found.repeats), APART)
    t, p = stats.ttest_ind([float(v) for v in SECOND], [float(v) for v in FIRST])

    assert t == pytest.approx(1.860813, abs=5e-7)
    assert chance_ahead(judged, 1, 0) == pytest.approx(1 - p / 2, abs=2e-3)
    reach = stats.t.ppf(0.95, 18) * 1.58 / t
    assert gap_range(judged, 1, 0) == pytest.approx((1.58 - reach, 1.58 + reach), abs=0.01)


def test_pairs_against_one_value_are_students_paired_test():
    """Paired differences 1.58, t 4.062128 on 9 (Student 1908; scipy): one group of ten beside a value known exactly."""
    differences = [b - a for a, b in zip(FIRST, SECOND, strict=True)]
    found = pooled_within([differences])
    judged = judge(
        [group(differences), Group(0.0, 10**9)], scaled_inverse_chi(float(found.squares), found.repeats), APART
    )
    one_sided = stats.ttest_1samp([float(v) for v in differences], 0).pvalue / 2

    assert 2 * one_sided == pytest.approx(0.00283289, abs=5e-9)
    assert 1 - chance_ahead(judged, 0, 1) == pytest.approx(one_sided, abs=1e-3)


@pytest.mark.parametrize("repeats", [2, 3, 4, 10, 40])
@pytest.mark.parametrize("apart", [0.2, 1.0, 2.5])
def test_chances_are_those_of_t_over_a_grid(repeats, apart):
    """Two revisions of three doughs, scatter 1, against scipy's t; the points are good to a hundredth."""
    judged = judge([Group(apart, 3), Group(0.0, 3)], scaled_inverse_chi(float(repeats), repeats), APART)

    assert chance_ahead(judged, 0, 1) == pytest.approx(stats.t.cdf(apart / sqrt(2 / 3), repeats), abs=0.012)


def test_the_story_of_the_design_with_its_own_assumptions():
    """Scatter 0.48 on four repeats, revisions spread by 0.7: 7 in 10, 3 in 10, under 1 in 20 twice; 9 in 10 for
    revision 3 above 2, whose gap is anything from nothing to 1.4. Without the spread, 8 in 10 for the single dough."""
    scatter = scaled_inverse_chi(4 * 0.48**2, 4)
    judged = judge(STORY, scatter, ((0.7, 0.0),))
    best = chances_best(judged)

    assert [round(chance, 1) for chance in best[:2]] == [0.7, 0.3]
    assert max(best[2:]) < 0.05
    assert round(chance_ahead(judged, 1, 2), 1) == 0.9
    low, high = gap_range(judged, 1, 2)
    assert (abs(low) < 0.2, round(high, 1)) == (True, 1.4)
    assert round(chances_best(judge(STORY, scatter, APART))[0], 1) == 0.8


def test_the_story_with_the_assumptions_of_the_program():
    """Spread unknown, the single dough is drawn back a little further."""
    found = Scatter(squares=Decimal("0.9375"), repeats=4)
    judged = judge(STORY, scatters(found, WIDTH), spreads(WIDTH))

    assert [round(chance, 1) for chance in chances_best(judged)] == [0.6, 0.3, 0.0, 0.0]
    assert round(chance_ahead(judged, 1, 2), 1) == 0.9


def test_chances_agree_with_brute_force():
    """A hundred thousand draws from the same model, by numpy with a fixed beginning, differ by under a hundredth."""
    rng = np.random.default_rng(2026)
    scatter, spread, size = 0.5, 0.7, 100_000
    means, doughs = (np.array([getattr(g, name) for g in STORY]) for name in ("mean", "doughs"))
    noise = scatter**2 / doughs
    precision = 1 / (spread**2 + noise)
    common = rng.normal((precision * means).sum() / precision.sum(), precision.sum() ** -0.5, (size, 1))
    keep = spread**2 * precision
    draws = rng.normal(keep * means + (1 - keep) * common, np.sqrt(keep * noise))
    judged = judge(STORY, ((scatter, 0.0),), ((spread, 0.0),))

    drawn = np.bincount(draws.argmax(axis=1), minlength=4) / size
    assert chances_best(judged) == pytest.approx(drawn, abs=0.01)
    assert chance_ahead(judged, 1, 2) == pytest.approx((draws[:, 1] > draws[:, 2]).mean(), abs=0.01)
    assert mean_range(judged, 0) == pytest.approx(np.quantile(draws[:, 0], (0.05, 0.95)), abs=0.02)
    assert gap_range(judged, 0, 1) == pytest.approx(np.quantile(draws[:, 0] - draws[:, 1], (0.05, 0.95)), abs=0.02)


def test_one_dough_is_drawn_further_than_many():
    """The same mean above the rest, on one dough and on six."""
    rest = [Group(6.5, 3), Group(6.6, 3), Group(6.4, 3)]
    found = Scatter(squares=Decimal(2), repeats=8)
    one, six = (judge([Group(8.0, n), *rest], scatters(found, WIDTH), spreads(WIDTH)) for n in (1, 6))

    assert sum(mean_range(one, 0)) < sum(mean_range(six, 0))
    assert chances_best(one)[0] < chances_best(six)[0]


def test_all_equal_is_even_and_nothing_breaks():
    """Scores that are all the same leave no squares: every revision has the same chance, every figure is finite."""
    judged = judge([Group(7.0, 2)] * 4, scatters(Scatter(repeats=4), WIDTH), spreads(WIDTH))

    assert chances_best(judged) == pytest.approx([0.25] * 4)
    assert chance_ahead(judged, 0, 3) == pytest.approx(0.5)
    assert all(isfinite(value) for value in (*mean_range(judged, 0), *gap_range(judged, 0, 1)))


def test_one_revision_alone_is_its_own_best():
    """Nothing to compare it with, and no range without end."""
    judged = judge([Group(7.0, 1)], scatters(Scatter(), WIDTH), spreads(WIDTH))

    assert chances_best(judged) == pytest.approx([1.0])
    assert all(abs(value) < inf for value in mean_range(judged, 0))


some_groups = st.lists(st.tuples(st.integers(0, 40), st.integers(1, 12)), min_size=2, max_size=6).map(
    lambda drawn: [Group(quarters / 4, doughs) for quarters, doughs in drawn]
)


@FEW
@given(some_groups, st.integers(0, 20), st.integers(0, 30))
def test_laws_of_chances(groups, tenths, repeats):
    """Chances lie in 0 to 1 and add up to 1, of two the one's is the rest of the other's, ranges are in order."""
    found = Scatter(squares=Decimal(tenths) / 10, repeats=repeats)
    judged = judge(groups, scatters(found, WIDTH), spreads(WIDTH))
    best = chances_best(judged)

    assert sum(best) == pytest.approx(1)
    assert all(0 <= chance <= 1 for chance in best)
    assert chance_ahead(judged, 0, 1) + chance_ahead(judged, 1, 0) == pytest.approx(1)
    if len(groups) == 2:
        assert best[0] == pytest.approx(chance_ahead(judged, 0, 1), abs=0.01)
    low, high = gap_range(judged, 0, 1)
    assert low < high
    mirrored = gap_range(judged, 1, 0)
    assert (-mirrored[1], -mirrored[0]) == pytest.approx((low, high), abs=1e-4)


@FEW
@given(some_groups, st.integers(0, 30))
def test_a_scale_ten_times_as_wide_changes_no_chance(groups, repeats):
    """0 to 100 with every mark ten times as high is the same book."""
    found = Scatter(squares=Decimal(repeats) / 4, repeats=repeats)
    wide = Scatter(squares=found.squares * 100, repeats=repeats)
    ten = judge(groups, scatters(found, WIDTH), spreads(WIDTH))
    hundred = judge([Group(10 * g.mean, g.doughs) for g in groups], scatters(wide, WIDTH * 10), spreads(WIDTH * 10))

    assert chances_best(ten) == pytest.approx(chances_best(hundred))
