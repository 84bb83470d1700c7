"""Revisions beside each other: who leads, what it is called, and what is never called better."""

from __future__ import annotations

import time
from decimal import Decimal

import pytest

from baked import EQUAL, TEN, baked, marks, story
from ovenleaf.evidence.gaps import MOST_MORE, more_doughs
from ovenleaf.evidence.standing import all_standings, blindness, standings
from ovenleaf.evidence.verdicts import Call, Verdict


@pytest.mark.parametrize(
    ("chance", "fewest", "call"),
    [
        (0.5, 9, Call.CANNOT_TELL),
        (0.7999, 9, Call.CANNOT_TELL),
        (0.8, 1, Call.LEANS),
        (0.9749, 9, Call.LEANS),
        (0.975, 2, Call.BETTER),
        (0.9999, 1, Call.LEANS),
    ],
)
def test_what_a_chance_is_called(chance, fewest, call):
    """Below 0.8 nothing, from 0.975 better, and never on one dough."""
    assert Verdict(chance=chance, fewest=fewest).call is call


def test_the_story_of_the_design():
    """Revision 4 leads on one dough, and the two with several doughs each are set beside one another."""
    found = standings(story(), EQUAL, TEN)

    assert [row.row.revision for row in found.rows] == ["r4.noor", "r3.noor", "r2.noor", "r1.noor"]
    assert (found.first.row.revision, found.first.row.doughs, found.leader.call) == ("r4.noor", 1, Call.CANNOT_TELL)
    assert (found.gap.above, found.gap.below, found.gap.verdict.call) == ("r3.noor", "r2.noor", Call.LEANS)
    assert found.gap.apart == Decimal("0.875")
    assert found.scatter.repeats == 4
    assert round(found.scatter.deviation, 2) == Decimal("0.48")
    assert sum(row.chance for row in found.rows) == pytest.approx(1, abs=Decimal("0.001"))


def test_ranges_do_not_leave_the_scale():
    """A loaf of ten has no true mean of eleven."""
    trials = [baked(f"A{n}", marks(10, 10)) for n in (1, 2)] + [baked("A3", marks(0, 0), revision="r2.noor")]
    rows = standings(trials, EQUAL, TEN).rows

    assert all(0 <= row.low <= row.high <= 10 for row in rows)


def test_far_apart_with_two_each_is_better_and_with_one_is_not():
    """The same gap of four marks."""
    four = [baked(f"A{n}", marks(9, 9)) for n in (1, 2)] + [
        baked(f"B{n}", marks(5, 5), revision="r2.noor") for n in (1, 2)
    ]

    assert standings(four, EQUAL, TEN).leader.call is Call.BETTER
    assert standings(four[:3], EQUAL, TEN).leader.call is Call.LEANS


@pytest.mark.parametrize(
    "trials",
    [
        [baked("A1", marks(7, 7))],
        [baked(f"A{n}", marks(7, 7), revision=f"r{n}.noor") for n in (1, 2, 3)],
        [baked(f"A{n}", marks(0, 0)) for n in (1, 2, 3)],
        [baked("A1", marks(7, 7)), baked("A2", marks(9, 9, "guest"), revision="r2.noor")],
        [baked("A1", marks(10, 0)), baked("A2", marks(0, 10), revision="r2.noor")],
    ],
    ids=["one score", "all equal", "all nothing", "no taster in common", "opposite"],
)
def test_little_to_go_by_breaks_nothing(trials):
    """One score, all equal, strangers as tasters: figures that are figures, and nothing called better."""
    found = standings(trials, EQUAL, TEN)

    for row in found.rows:
        assert row.low.is_finite()
        assert row.high.is_finite()
        assert row.chance is None or 0 <= row.chance <= 1
    assert found.leader is None or found.leader.call is not Call.BETTER
    assert (found.leader is None) == (len(found.rows) == 1)


def test_nothing_to_rank_is_no_standing():
    """An empty book, and one where nobody scored."""
    assert all_standings([], [], EQUAL, TEN) == ()
    assert all_standings([baked("A1")], [baked("A1")], EQUAL, TEN) == ()


def test_a_lead_that_rests_on_who_tasted_is_not_taken_at_its_word():
    """Only a generous guest tasted revision 2; with leanings taken out it is not ahead by as much."""
    trials = [baked(f"A{n}", marks(6, 6), marks(8, 8, "guest")) for n in (1, 2, 3)]
    trials += [baked("B1", marks(8, 8, "guest"), revision="r2.noor"), baked("C1", marks(6, 6), revision="r3.noor")]
    rows = {row.row.revision: row for row in standings(trials, EQUAL, TEN).rows}

    assert rows["r2.noor"].row.mean - rows["r3.noor"].row.mean == 2
    assert rows["r2.noor"].compared - rows["r3.noor"].compared < Decimal("0.8")


def test_how_many_more_doughs_would_show_it():
    """A gap of one scatter needs eight of each (2 x 1.96 squared is 7.7), a fifth of that far too many."""
    assert more_doughs(1.0, 1.0, (1, 1)) == 7
    assert more_doughs(1.0, 1.0, (4, 4)) == 4
    assert more_doughs(0.2, 1.0, (1, 1)) == MOST_MORE + 1
    assert more_doughs(-1.0, 1.0, (1, 1)) == MOST_MORE + 1


def test_blindness_is_counted_by_marks():
    """Known, blind and not said are three things."""
    trials = [baked("A1", marks(6, 6, blind=True), marks(6, 6, "tomas", blind=False), marks(6, 6, "petra"))]
    found = blindness(trials)

    assert (found.blind, found.knew, found.unsaid) == (1, 1, 1)


@pytest.mark.counted
def test_ten_thousand_trials_are_judged_at_once():
    """Fifty formulas of twenty revisions and ten doughs: two seconds by themselves, and never a minute."""
    trials = [
        baked(f"A{f}x{r}x{d}", marks(5 + (7 * f + 3 * r + d) % 5, 6), revision=f"r{r}.noor", formula=f"loaf-{f}")
        for f in range(50)
        for r in range(20)
        for d in range(10)
    ]
    begun = time.perf_counter()
    found = all_standings(trials, trials, EQUAL, TEN)

    assert len(found) == 50
    assert time.perf_counter() - begun < 60
