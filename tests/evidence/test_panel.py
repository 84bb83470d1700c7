"""What few tasters can tell: ranks, Friedman, Kendall, least significant difference, triangle."""

from __future__ import annotations

from decimal import Decimal
from itertools import permutations, product

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from builders import QUICK
from ovenleaf.evidence.panel import least_difference, panel, ranks, triangle_chance, triangle_least

# Hollander and Wolfe, Nonparametric Statistical Methods, table 7.1: rounding first base, 22 runners, three ways;
# the times as R's help page of friedman.test has them.
BASES = """5.40 5.50 5.55 5.85 5.70 5.75 5.20 5.60 5.50 5.55 5.50 5.40 5.90 5.85 5.70 5.45 5.55 5.60 5.40 5.40 5.35
5.45 5.50 5.35 5.25 5.15 5.00 5.85 5.80 5.70 5.25 5.20 5.10 5.65 5.55 5.45 5.60 5.35 5.45 5.05 5.00 4.95
5.50 5.50 5.40 5.45 5.55 5.50 5.55 5.55 5.35 5.45 5.50 5.55 5.50 5.45 5.25 5.65 5.60 5.40 5.70 5.65 5.55
6.30 6.30 6.25"""

# Eight rankings of five breads whose rank sums are 17, 31, 32, 23, 17.
FIVE = "34521 35421 15342 23514 23541 14352 42513 15243"


def table(text, width):
    figures = [Decimal(one) for one in text.split()]
    return [figures[start : start + width] for start in range(0, len(figures), width)]


def test_runners_round_first_base_as_in_the_textbook():
    """Hollander and Wolfe: rank sums 53, 47, 32; chi-square 11.1429 with ties, W 0.2532, by R's friedman.test too."""
    made = panel(("round out", "narrow", "wide"), table(BASES, 3))

    assert [total for _, total in made.sums] == [53, 47, 32]
    assert made.statistic == pytest.approx(11.142857, abs=1e-6)
    assert made.agreement == pytest.approx(0.2532468, abs=1e-7)
    assert stats.chi2.sf(made.statistic, 2) == pytest.approx(0.003805041, abs=1e-9)
    assert made.exact
    assert made.chance == pytest.approx(0.0038, abs=0.0015)


def test_the_iso_8587_example_comes_out():
    """ISO 8587, annex A: eight assessors, five samples, rank sums 17, 31, 32, 23, 17 are apart by 12.4 or not at all.

    The table below is our own with those sums (the standard's rows are not at hand); figures as a page on sensory
    laboratories quotes them: 10.6 against 9.488, least difference 12.396.
    """
    made = panel("ABCDE", [[Decimal(rank) for rank in row] for row in FIVE.split()])

    assert [total for _, total in made.sums] == [17, 31, 32, 23, 17]
    assert made.statistic == pytest.approx(10.6)
    assert made.agreement == pytest.approx(0.33125)
    assert least_difference(8, 5) == pytest.approx(12.396, abs=0.001)
    assert set(made.apart) == {("A", "B"), ("A", "C"), ("B", "E"), ("C", "E")}


@QUICK
@given(st.lists(st.lists(st.integers(0, 10), min_size=3, max_size=3), min_size=3, max_size=9))
def test_friedman_is_as_the_reference_library_has_it(rows):
    """scipy.stats.friedmanchisquare with ties; where all are ties there is nothing to test."""
    made = panel("ABC", [[Decimal(mark) for mark in row] for row in rows])
    if all(len(set(row)) == 1 for row in rows):
        assert (made.statistic, made.chance) == (0, 1)
    else:
        assert made.statistic == pytest.approx(stats.friedmanchisquare(*zip(*rows, strict=True)).statistic, abs=1e-9)


@QUICK
@given(st.lists(st.integers(0, 12), min_size=1, max_size=7))
def test_ranks_are_as_the_reference_library_has_them(marks):
    """scipy.stats.rankdata: equal marks share the mean of their ranks."""
    assert list(ranks([Decimal(mark) for mark in marks])) == list(stats.rankdata(marks))


@QUICK
@given(st.lists(st.lists(st.integers(0, 3), min_size=3, max_size=3), min_size=2, max_size=4))
def test_the_exact_chance_is_that_of_all_orders_counted_out(rows):
    """Every taster's ranks in every order, one by one: the plainest count there is."""
    made = panel("ABC", [[Decimal(mark) for mark in row] for row in rows])
    ranked = [ranks(row) for row in rows]

    def apart(deal):
        return sum(sum(column) ** 2 for column in zip(*deal, strict=True))

    deals = [apart(deal) for deal in product(*(tuple(permutations(row)) for row in ranked))]
    assert made.chance == pytest.approx(sum(one >= apart(ranked) - 1e-9 for one in deals) / len(deals))


@pytest.mark.parametrize(
    ("rows", "statistic", "chance"),
    [
        ([(1, 2, 3)] * 3, 6.0, 0.028),
        ([(1, 2, 3)] * 4, 8.0, 0.0046),
        ([(1, 2, 3)] * 3 + [(1, 3, 2)], 6.5, 0.042),
        ([(1, 2, 3, 4)] * 2, 6.0, 0.042),
        ([(1, 2, 3, 4)] * 3, 9.0, 0.0017),
    ],
)
def test_small_panels_get_the_chances_of_the_printed_table(rows, statistic, chance):
    """M. Friedman's table of 1937 for few ranks (values from memory)."""
    made = panel("ABCD"[: len(rows[0])], [[Decimal(mark) for mark in row] for row in rows])

    assert made.exact
    assert made.statistic == pytest.approx(statistic)
    assert made.chance == pytest.approx(chance, abs=0.0005)


def test_a_large_panel_falls_back_on_chi_square_and_says_so():
    """Where the orders are too many to count."""
    made = panel("ABCDEFGHI", [[Decimal((bread * 7 + taster) % 9) for bread in range(9)] for taster in range(6)])

    assert not made.exact
    assert made.chance == pytest.approx(stats.chi2.sf(made.statistic, 8))


@pytest.mark.parametrize("rows", [[], [(7, 8)], [(7,), (8,)]])
def test_one_taster_or_one_bread_is_no_panel(rows):
    """There is nothing to compare."""
    breads = "AB"[: len(rows[0])] if rows else "AB"
    assert panel(breads, [[Decimal(mark) for mark in row] for row in rows]) is None


def test_breads_that_do_not_differ_have_no_pairs_apart():
    """The least difference is asked only where the whole panel tells the breads apart."""
    made = panel("ABC", [[Decimal(7)] * 3] * 5)

    assert (made.differ, made.apart, made.agreement) == (False, (), 0)


def test_triangle_minima_are_those_of_the_binomial():
    """Right answers that guessing gives less than once in 20 (scipy.stats.binom, one chance in three)."""
    for tasters in range(1, 41):
        least = next((n for n in range(tasters + 1) if stats.binom.sf(n - 1, tasters, 1 / 3) <= 0.05), None)
        assert triangle_least(tasters) == least
    printed = {5: 4, 6: 5, 7: 5, 8: 6, 9: 6, 10: 7, 12: 8}
    assert {tasters: triangle_least(tasters) for tasters in printed} == printed
    assert triangle_chance(4, 5) == pytest.approx(11 / 243)
