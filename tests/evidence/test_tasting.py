"""What an opened tasting comes to: marks by bread, ranks within tasters, one bread tasted twice."""

from __future__ import annotations

from decimal import Decimal

import pytest

from ovenleaf.domain.tasting import Design, Tasting
from ovenleaf.domain.trial import Marks
from ovenleaf.evidence.tasting import come_out, marks_by_bread, triangle, verdict

EQUAL = (("crumb", Decimal(1)), ("crust", Decimal(1)))
KEY = (("282", "B5"), ("417", "A7"), ("905", "A7"))


def told(taster, code, crumb, crust=None, **said):
    marks = Marks(taster=taster, crumb=Decimal(crumb), crust=None if crust is None else Decimal(crust), **said)
    return taster, code, marks


def opened(*marks, key=KEY, **said):
    tasters = dict.fromkeys(taster for taster, _, _ in marks)
    usual = {"orders": tuple((taster, tuple(code for code, _ in key)) for taster in tasters), "opened": "2026-11-25"}
    return Tasting(name="x", design=Design.MARKS, marks=marks, key=key, **usual | said)


def test_nothing_is_told_of_a_tasting_that_is_closed():
    """Not before all is in."""
    assert come_out(opened(told("noor", "282", 7, 7), opened=""), EQUAL) == (None, None)


def test_plates_are_averaged_over_tasters_and_stand_best_first():
    """A bread that came twice is two plates, the second one again."""
    made = verdict(opened(told("noor", "282", 8, 8), told("noor", "417", 6, 6), told("noor", "905", 7, 7)), EQUAL)

    assert [(plate.name, plate.outcome.score) for plate in made.plates] == [("B5", 8), ("A7 again", 7), ("A7", 6)]
    assert made.repeats == (("noor", 1),)
    assert made.panel is None
    assert made.complete == ("noor",)


def test_a_taster_who_left_a_plate_blank_is_not_ranked():
    """Ranks are within tasters who marked all; the marks of the other still count in the means."""
    rows = [told(t, code, mark, mark) for t in ("noor", "tomas") for code, mark in (("282", 8), ("417", 6))]
    made = verdict(opened(*rows, told("anna", "282", 2, 2), key=KEY[:2]), EQUAL)

    assert made.complete == ("noor", "tomas")
    assert made.panel.tasters == 2
    assert made.plates[0].outcome.score == 6


def test_marks_go_to_their_trials_blind_and_of_a_bread_that_came_twice_the_mean():
    """One set of marks for a taster and a bread."""
    made = marks_by_bread(
        opened(
            told("noor", "417", 6, 7, note="dry", faults=("too pale",)),
            told("noor", "905", 7, note="dry"),
            told("noor", "282", 8, 8),
        )
    )

    assert made["A7"] == (
        Marks(taster="noor", crumb=Decimal("6.5"), crust=Decimal(7), faults=("too pale",), note="dry", blind=True),
    )
    assert made["B5"][0].blind


@pytest.mark.parametrize(("named", "right"), [({"noor": "282", "tomas": "282"}, 2), ({"noor": "417"}, 0), ({}, 0)])
def test_a_triangle_counts_who_found_the_odd_one(named, right):
    """Out of those who named one."""
    tasting = Tasting(
        name="x",
        design=Design.TRIANGLE,
        orders=tuple((taster, ("282", "417", "905")) for taster in ("noor", "tomas")),
        odd=tuple(named.items()),
        key=KEY,
    )
    made = triangle(tasting)

    assert (made.right, made.tasters, made.least) == (right, len(named), None)
