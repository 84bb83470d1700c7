"""The dough is the unit: nothing else can be counted."""

from __future__ import annotations

from decimal import Decimal

import pytest

from baked import EQUAL, TEN, baked, marks
from ovenleaf.domain.trial import ScoreScale
from ovenleaf.evidence.ranking import by_revision, rank
from ovenleaf.evidence.scatter import scatter
from ovenleaf.evidence.units import by_person, doughs, mixings, on_scale


def made(trials):
    return doughs(rank(trials, EQUAL, TEN).rows)


def test_more_tasters_of_one_dough_are_no_more_doughs():
    """Nine tasters of one dough and one of another are two doughs, and one repeat."""
    many = [marks(8, 8, f"taster-{n}") for n in range(9)]
    found = made([baked("A1", *many), baked("A2", marks(6, 6))])

    assert [dough.score for dough in found] == [8, 6]
    assert (scatter(found, "score").repeats, scatter(found, "score").squares) == (1, 2)


def test_halves_of_a_dough_are_one_dough():
    """Three bakes from one mixing, one told by way of another, give one dough and no repeat."""
    halves = [
        baked("A1", marks(6, 6)),
        baked("A2", marks(8, 8), shares_dough_with="A1"),
        baked("A3", marks(10, 10), shares_dough_with="A2"),
    ]

    assert mixings(halves) == {"A1": "A1", "A2": "A1", "A3": "A1"}
    assert [(dough.codes, dough.score) for dough in made(halves)] == [(("A3", "A2", "A1"), 8)]
    assert scatter(made(halves), "score").repeats == 0


def test_two_that_name_each_other_are_one_dough_still():
    """A circle on the pages does not go round for ever."""
    circle = [
        baked("A1", marks(6, 6), shares_dough_with="A2"),
        baked("A2", marks(8, 8), shares_dough_with="A1"),
    ]

    assert len(mixings(circle)) == 2


def test_a_person_with_two_handles_is_one_taster():
    """noor at the shop is noor: her two marks of one dough are averaged before tomas is asked."""
    twice = baked("A1", marks(6, 6), marks(8, 8, "noor-shop"), marks(4, 4, "tomas"), baker="noor-shop")
    (one,) = by_person([twice], {"noor-shop": "noor"})

    assert [(m.taster, m.crumb) for m in one.scores] == [("noor", 7), ("tomas", 4)]
    assert one.baker == "noor"
    assert by_person([twice], {}) == (twice,)


@pytest.mark.parametrize(("blind", "said"), [((True, True), True), ((True, False), None), ((None, None), None)])
def test_what_two_handles_say_of_blindness_stands_where_they_agree(blind, said):
    """Otherwise it is not recorded."""
    twice = baked("A1", marks(6, 6, blind=blind[0]), marks(8, 8, "noor-shop", blind=blind[1]))

    assert by_person([twice], {"noor-shop": "noor"})[0].scores[0].blind is said


def test_marks_move_to_another_scale_in_proportion():
    """3 of 1 to 5 is the middle, 5 of 0 to 10; what is blank stays blank."""
    five = ScoreScale(low=Decimal(1), high=Decimal(5))
    moved = on_scale(baked("A1", marks(3, None), marks(5, 1, "tomas"), scale=five), TEN)

    assert moved.scale == TEN
    assert [(m.crumb, m.crust) for m in moved.scores] == [(5, None), (10, 0)]
    assert on_scale(baked("A1", marks(3, 4)), TEN).scores == (marks(3, 4),)


def test_a_revision_has_a_mean_over_its_doughs():
    """Not over its loaves: 6 and 8 of one dough and 9 of another make 8."""
    rows = by_revision(
        rank(
            [baked("A1", marks(6, 6)), baked("A2", marks(8, 8), shares_dough_with="A1"), baked("A3", marks(9, 9))],
            EQUAL,
            TEN,
        )
    )

    assert [(row.doughs, row.mean) for row in rows] == [(2, 8)]
