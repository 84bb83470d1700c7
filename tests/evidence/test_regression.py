"""The straight line through few doughs: against certified values, and against the reference library."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from builders import QUICK
from ovenleaf.evidence.regression import fit

# NIST StRD, Norris (National Institute of Standards and Technology, Statistical Reference Datasets: y, x).
NORRIS = """0.1 0.2  338.8 337.4  118.1 118.2  888.0 884.6  9.2 10.1  228.1 226.5  668.5 666.3  998.5 996.3
449.1 448.6  778.9 777.0  559.2 558.2  0.3 0.4  0.1 0.6  778.1 775.5  668.8 666.9  339.3 338.0  448.9 447.5
10.8 11.6  557.7 556.0  228.3 228.1  998.0 995.8  888.8 887.6  119.6 120.2  0.3 0.3  0.6 0.3  557.6 556.8
339.3 339.1  888.0 887.2  998.5 999.0  778.9 779.0  10.2 11.1  117.6 118.3  228.9 229.2  668.4 669.1
449.2 448.9  0.2 0.5"""


def points(*pairs):
    return [(Decimal(str(x)), Decimal(str(y))) for x, y in pairs]


def test_norris_comes_out_to_the_certified_digits():
    """NIST StRD Norris, 36 observations: both coefficients, their deviations and the residual one, to 13 digits."""
    figures = NORRIS.split()
    made = fit([(Decimal(x), Decimal(y)) for y, x in zip(figures[::2], figures[1::2], strict=True)])

    assert made.freedom == 34
    certified = {
        made.slope: "1.00211681802045",
        made.start: "-0.262323073774029",
        made.error: "0.000429796848199937",
        made.start_error: "0.232818234301152",
        made.residual: "0.884796396144373",
    }
    for ours, theirs in certified.items():
        assert abs(ours / Decimal(theirs) - 1) < Decimal("1e-13")


@QUICK
@given(st.lists(st.tuples(st.integers(600, 850), st.integers(0, 20)), min_size=3, max_size=12))
def test_a_line_is_as_the_reference_library_draws_it(rows):
    """scipy.stats.linregress: slope, intercept, standard error."""
    data = [(Decimal(x) / 10, Decimal(y) / 2) for x, y in rows]
    made = fit(data)
    if made is None:
        assert len({x for x, _ in data}) < 2
        return
    theirs = stats.linregress([float(x) for x, _ in data], [float(y) for _, y in data])
    assert float(made.slope) == pytest.approx(theirs.slope, abs=1e-9)
    assert float(made.start) == pytest.approx(theirs.intercept, abs=1e-7)
    if len({y for _, y in data}) > 1:  # of marks that are all equal it says nothing
        assert float(made.error) == pytest.approx(theirs.stderr, abs=1e-7)


def test_the_range_is_t_times_the_error():
    """Three points leave one degree of freedom, and t is 6.3 for nine in ten: wide, as it should be."""
    made = fit(points((62, 6), (65, 7), (68, 7)))
    low, high = made.slope_range()

    assert made.slope == Decimal(1) / 6
    assert float(high - made.slope) == pytest.approx(6.31375 * float(made.error), rel=1e-5)
    assert low < 0 < high


@pytest.mark.parametrize("rows", [[], [(65, 7)], [(65, 7), (65, 8)]])
def test_without_a_second_value_there_is_no_line(rows):
    """None, one, or several doughs at one and the same value."""
    assert fit(points(*rows)) is None


@pytest.mark.parametrize("rows", [[(62, 6), (65, 7)], [(62, 7), (65, 7), (68, 7)], [(60, 5), (65, 6), (70, 7)]])
def test_where_no_scatter_is_seen_no_range_is_made_up(rows):
    """Two doughs, doughs that are all equal, and three that happen to lie on a line."""
    assert fit(points(*rows)).slope_range() is None
