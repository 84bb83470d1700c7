"""Ranking by the scores entered: the dough is the unit, blank is never zero, ties share a place."""

from __future__ import annotations

import statistics
from decimal import Decimal
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import rankdata

from builders import QUICK
from ovenleaf.domain.trial import Marks, ScoreScale, State, Trial
from ovenleaf.evidence.ranking import NOT_BAKED, by_revision, outcome, pooled, rank
from ovenleaf.evidence.units import mean

EQUAL = (("crumb", Decimal(1)), ("crust", Decimal(1)))
TEN = ScoreScale(low=Decimal(0), high=Decimal(10))


def marks(crumb=None, crust=None, taster="noor", flavour=None):
    given = {"crumb": crumb, "crust": crust, "flavour": flavour}
    return Marks(taster=taster, **{name: None if mark is None else Decimal(str(mark)) for name, mark in given.items()})


def baked(code, *scores, day=12, **facts):
    name = f"market-roll/2026-11-{day:02}-{code.lower()}"
    said = {"formula": "market-roll", "revision": "r1.noor", "bake_date": f"2026-11-{day:02}", "scale": TEN} | facts
    return Trial(name=name, code=code, scores=scores, **said)


def places(trials, weights=EQUAL):
    return [(row.place, row.tied, row.trial.code) for row in rank(trials, weights, TEN).rows]


def test_a_score_is_crumb_and_crust_in_equal_shares():
    """7 and 8 make 7.5."""
    made = outcome([marks(7, 8)], EQUAL)

    assert (made.crumb, made.crust, made.score) == (7, 8, Decimal("7.5"))


def test_weights_count_as_they_are():
    """score = sum of w x mark / sum of w."""
    weights = (("crumb", Decimal(2)), ("crust", Decimal(1)), ("flavour", Decimal(0)))

    assert outcome([marks(9, 6)], weights).score == 8


def test_tasters_of_one_dough_are_averaged_first():
    """Two tasters are one dough; one who gave no crumb does not count for crumb."""
    made = outcome([marks(7, 8), marks(None, 6, "tomas"), marks(taster="anna")], EQUAL)

    assert (made.crumb, made.crust, made.score) == (7, 7, 7)
    assert made.tasters == ("noor", "tomas")


def test_a_zero_is_a_mark_and_a_blank_is_none():
    """0 pulls the mean down; nothing does not."""
    assert outcome([marks(8, 0), marks(8, 8, "tomas")], EQUAL).crust == 4
    assert outcome([marks(8), marks(8, 8, "tomas")], EQUAL).crust == 8
    assert outcome([marks(0, 0)], EQUAL).score == 0


@pytest.mark.parametrize("scores", [(), (marks(),), (marks(7),), (marks(None, 7),)])
def test_without_a_weighted_mark_there_is_no_score(scores):
    """None, and so the trial is left out."""
    assert outcome(scores, EQUAL).score is None


def test_an_attribute_without_weight_may_be_missing():
    """Crust alone, where only crust counts."""
    assert outcome([marks(None, 6)], (("crumb", Decimal(0)), ("crust", Decimal(1)))).score == 6


def test_ties_take_places_1_1_3():
    """Best first; equals in the order they were baked."""
    trials = [
        baked("D5", marks(8, 7), day=19),
        baked("F4", marks(8.5, 8), day=24),
        baked("E2", marks(8, 8.5), day=21),
        baked("E6", marks(7.5, 7.5), day=22),
        baked("D2", marks(7, 7.5), day=12),
    ]

    assert places(trials) == [
        (1, True, "E2"),
        (1, True, "F4"),
        (3, True, "D5"),
        (3, True, "E6"),
        (5, False, "D2"),
    ]


def test_ties_are_found_on_unrounded_scores():
    """7.496 and 7.5 print alike with one decimal and are no tie."""
    assert places([baked("A1", marks("7.496", "7.496")), baked("A2", marks(7.5, 7.5))]) == [
        (1, False, "A2"),
        (2, False, "A1"),
    ]


def test_a_tie_of_thirds_is_a_tie():
    """64/9 by way of thirds two ways: what no decimal holds is not broken by its last digit."""
    weights = (("crumb", Decimal(2)), ("crust", Decimal(1)))
    one = baked("A1", marks(7, 6), marks(7, 7, "tomas"), marks(8, 7, "anna"))
    other = baked("A2", marks(8, 5), marks(8, 5, "tomas"), marks(8, 6, "anna"))

    assert places([one, other], weights) == [(1, True, "A1"), (1, True, "A2")]


@pytest.mark.parametrize(
    ("trial", "why"),
    [
        (baked("F1", marks(7, 7), state=State.CUT_SHORT, left_out="the power failed"), "cut short, the power failed"),
        (baked("F1", marks(7, 7), state=State.WITHDRAWN), "withdrawn"),
        (baked("F1", marks(7, 7), state=State.GIVEN_UP), "given up"),
        (baked("F1", state=State.PLANNED), "planned, not yet baked"),
        (baked("F1", state=State.IN_HAND), "still in hand"),
        (baked("F1", marks(7, 7), left_out="wrong flour"), "wrong flour"),
        (baked("F1"), "not scored yet"),
        (baked("F1", marks(7)), "crust not scored"),
        (baked("F1", marks()), "crumb and crust not scored"),
        (
            baked("F1", marks(4, 4), scale=ScoreScale(low=Decimal(1), high=Decimal(5))),
            "scored on another scale, 1 to 5",
        ),
    ],
)
def test_what_cannot_be_ranked_is_left_out_with_the_reason(trial, why):
    """Never put last, and never dropped in silence."""
    made = rank([trial, baked("A1", marks(1, 1))], EQUAL, TEN)

    assert [row.trial.code for row in made.rows] == ["A1"]
    assert [(left.code, reason) for left, reason in made.left_out] == [("F1", why)]


def test_nothing_baked_is_an_empty_ranking():
    """Neither rows nor reasons."""
    made = rank([], EQUAL, TEN)

    assert (made.rows, made.left_out, by_revision(made)) == ((), (), ())
    assert pooled([], EQUAL, TEN) == (0, NOT_BAKED)


def test_by_revision_over_its_doughs():
    """Four revisions and eight doughs."""
    trials = [
        baked("C4", marks(5.5, 7), day=5),
        baked("C9", marks(6.5, 7.5), day=7),
        baked("D2", marks(7, 7.5), revision="r2.noor"),
        baked("E1", marks(6, 7), revision="r2.noor", day=21),
        baked("D5", marks(8, 7), revision="r3.noor", day=19),
        baked("E2", marks(8.5, 8), revision="r3.noor", day=21),
        baked("E6", marks(7.5, 7.5), revision="r3.noor", day=26),
        baked("F4", marks(8.5, 8), revision="r4.noor", day=28),
    ]
    rows = by_revision(rank(trials, EQUAL, TEN))

    shown = [(row.place, row.revision, row.doughs, str(round(row.mean, 2)), row.lowest, row.highest) for row in rows]
    assert shown == [
        (1, "r4.noor", 1, "8.25", Decimal("8.25"), Decimal("8.25")),
        (2, "r3.noor", 3, "7.75", Decimal("7.5"), Decimal("8.25")),
        (3, "r2.noor", 2, "6.88", Decimal("6.5"), Decimal("7.25")),
        (4, "r1.noor", 2, "6.62", Decimal("6.25"), Decimal("7")),
    ]
    assert [row.mean for row in rows][2:] == [Decimal("6.875"), Decimal("6.625")]


def test_a_shared_dough_counts_once():
    """One dough baked two ways is one dough: its two trials are averaged before they meet the other dough."""
    trials = [
        baked("D2", marks(6, 6)),
        baked("D3", marks(8, 8), shares_dough_with="D2"),
        baked("D4", marks(9, 9), day=13),
    ]
    (row,) = by_revision(rank(trials, EQUAL, TEN))

    assert (row.doughs, row.mean, row.lowest, row.highest) == (2, 8, 7, 9)
    assert sorted(row.codes) == ["D2", "D3", "D4"]
    assert len(places(trials)) == 3
    count, together = pooled(trials, EQUAL, TEN)
    assert (count, together.crumb, together.score) == (2, 8, 8)


def test_revisions_of_the_same_name_in_two_formulas_stay_apart():
    """r1.noor of the roll and r1.noor of the rye."""
    trials = [baked("D2", marks(6, 6)), baked("D3", marks(6, 6), formula="caraway-rye")]

    rows = by_revision(rank(trials, EQUAL, TEN))
    assert [(row.place, row.tied, row.formula) for row in rows] == [(1, True, "caraway-rye"), (1, True, "market-roll")]


def test_pooled_counts_only_what_could_be_ranked():
    """A bake that was cut short says nothing of its revision."""
    trials = [baked("D2", marks(6, 8)), baked("D3", marks(0, 0), state=State.CUT_SHORT), baked("D4", marks(9))]
    count, together = pooled(trials, EQUAL, TEN)

    assert (count, together.crumb, together.crust, together.score) == (1, 6, 8, 7)


quarter = st.integers(0, 40).map(lambda quarters: Decimal(quarters) / 4)
blank_or = st.one_of(st.none(), quarter)
doughs = st.lists(st.lists(st.tuples(quarter, quarter), min_size=1, max_size=7), min_size=1, max_size=12)
some_weights = st.tuples(st.integers(0, 3), st.integers(1, 3)).map(
    lambda given: (("crumb", Decimal(given[0])), ("crust", Decimal(given[1])))
)


def exact_score(scores, weights):
    """The score as a fraction, by the definition."""
    given = {"crumb": [crumb for crumb, _ in scores], "crust": [crust for _, crust in scores]}
    means = {name: sum(map(Fraction, values)) / len(values) for name, values in given.items()}
    return sum(Fraction(w) * means[name] for name, w in weights) / sum(Fraction(w) for _, w in weights)


@QUICK
@given(doughs, some_weights)
def test_places_agree_with_scipy(tables, weights):
    """scipy.stats.rankdata(method='min') over exact fractions, best first."""
    trials = [
        baked(f"A{n}", *(marks(crumb, crust, f"taster-{m}") for m, (crumb, crust) in enumerate(table)))
        for n, table in enumerate(tables, start=1)
    ]
    exact = [exact_score(table, weights) for table in tables]
    order = {score: place for place, score in enumerate(sorted(set(exact)))}
    theirs = rankdata([-order[score] for score in exact], method="min")

    made = {row.trial.code: row for row in rank(trials, weights, TEN).rows}
    assert [made[trial.code].place for trial in trials] == list(theirs)
    assert [made[trial.code].tied for trial in trials] == [exact.count(score) > 1 for score in exact]


@QUICK
@given(st.lists(st.tuples(blank_or, blank_or), min_size=1, max_size=9))
def test_means_agree_with_numpy_and_statistics(table):
    """A blank is left out of the mean, as nanmean leaves out a NaN."""
    made = outcome([marks(crumb, crust, f"taster-{n}") for n, (crumb, crust) in enumerate(table)], EQUAL)

    for name, column in (("crumb", 0), ("crust", 1)):
        given = [row[column] for row in table if row[column] is not None]
        found = getattr(made, name)
        if not given:
            assert found is None
            continue
        assert abs(found - statistics.mean(given)) < Decimal("1e-24")
        floats = np.array([np.nan if row[column] is None else float(row[column]) for row in table])
        assert float(found) == pytest.approx(float(np.nanmean(floats)), rel=1e-12)


@QUICK
@given(st.lists(st.decimals(min_value=0, max_value=10, places=2), min_size=1, max_size=20))
def test_a_mean_is_exact_to_28_digits(values):
    """Against fractions."""
    exact = sum(map(Fraction, values)) / len(values)

    assert abs(Fraction(mean(values)) - exact) < Fraction(1, 10**26)


@QUICK
@given(doughs)
def test_the_order_trials_come_in_makes_no_difference(tables):
    """Ties are put in the order of the days and names."""
    trials = [
        baked(f"A{n}", *(marks(crumb, crust, f"taster-{m}") for m, (crumb, crust) in enumerate(table)), day=1 + n % 5)
        for n, table in enumerate(tables, start=1)
    ]

    assert rank(trials, EQUAL, TEN) == rank(trials[::-1], EQUAL, TEN)
    assert by_revision(rank(trials, EQUAL, TEN)) == by_revision(rank(trials[::-1], EQUAL, TEN))
