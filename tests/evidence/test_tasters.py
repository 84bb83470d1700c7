"""Tasters set alike: the same people where they can be had, otherwise their leanings taken out."""

from __future__ import annotations

from decimal import Decimal

import numpy as np
import pytest

from baked import EQUAL, TEN, baked, marks
from ovenleaf.evidence.ranking import rank
from ovenleaf.evidence.tasters import How, alike, leaning_of
from ovenleaf.evidence.units import doughs


def scores(trials):
    return [dough.score for dough in sorted(doughs(rank(trials, EQUAL, TEN).rows), key=lambda dough: dough.codes)]


def test_the_same_people_everywhere_need_nothing():
    """Marks stay as they are."""
    trials = [baked("A1", marks(6, 6), marks(8, 8, "tomas")), baked("A2", marks(7, 7), marks(9, 9, "tomas"))]

    assert alike(trials, EQUAL).how is How.ALL
    assert alike(trials, EQUAL).trials == tuple(trials)
    assert alike(trials[:1], EQUAL).how is How.ALL
    assert alike([], EQUAL).tasters == ()


def test_shared_tasters_are_compared_where_they_gave_most_marks():
    """A guest who tasted one dough of three is left aside."""
    trials = [baked(f"A{n}", marks(6 + n, 6)) for n in (1, 2)] + [baked("A3", marks(9, 6), marks(1, 1, "guest"))]
    found = alike(trials, EQUAL)

    assert (found.how, found.shared, found.tasters) == (How.SHARED, ("noor",), ("guest", "noor"))
    assert scores(found.trials) == [6.5, 7, 7.5]
    assert scores(trials)[2] < 5


def test_a_taster_who_skipped_an_attribute_did_not_taste_the_dough_whole():
    """Hal left before the crumb: he is not shared, though he gave a crust."""
    trials = [baked("A1", marks(6, 6), marks(6, 6, "hal")), baked("A2", marks(8, 8), marks(None, 2, "hal"))]
    found = alike(trials, EQUAL)

    assert (found.how, found.shared) == (How.SHARED, ("noor",))
    assert scores(found.trials) == [6, 8]


def test_otherwise_leanings_are_taken_out():
    """Tomas marks two higher, and some doughs only one of the two tasted: nearly alike, not two apart."""
    both = [baked(f"A{n}", marks(6, 6), marks(8, 8, "tomas")) for n in (1, 2, 4, 5)]
    only = [*both, baked("A3", marks(8, 8, "tomas")), baked("A6", marks(6, 6)), baked("A7", marks(6, 6))]
    found = alike(only, EQUAL)

    assert found.how is How.ADJUSTED
    assert max(scores(found.trials)) - min(scores(found.trials)) < Decimal("0.5")
    assert max(scores(only)) - min(scores(only)) == 2


def test_leanings_are_those_of_least_squares_drawn_by_one_dough():
    """Against numpy: minimise the squared misses of mark = dough + taster plus each leaning squared."""
    given = {"A1": {"noor": 5, "tomas": 7}, "A2": {"noor": 6, "tomas": 7, "petra": 9}, "A3": {"tomas": 8, "petra": 8}}
    trials = [baked(code, *(marks(v, v, t) for t, v in said.items())) for code, said in given.items()]
    tasters = ["noor", "petra", "tomas"]
    rows, seen = [], []
    for dough, said in enumerate(given.values()):
        for taster, value in said.items():
            row = np.zeros(6)
            row[dough] = row[3 + tasters.index(taster)] = 1
            rows.append(row)
            seen.append(value)
    rows += [np.eye(6)[3 + n] for n in range(3)]
    fitted = np.linalg.lstsq(np.array(rows), np.array([*seen, 0, 0, 0]), rcond=None)[0][3:]

    found = leaning_of(trials, "crumb")
    assert [lean.taster for lean in found] == tasters
    assert [float(lean.above) for lean in found] == pytest.approx(list(fitted - fitted.mean()), abs=2e-6)
    assert [lean.doughs for lean in found] == [2, 2, 3]


def test_a_taster_of_one_dough_is_believed_by_half():
    """Who marked one dough two higher is taken to lean by about one, not by two."""
    trials = [baked(f"A{n}", marks(6, 6), marks(6, 6, "tomas")) for n in range(1, 9)]
    trials.append(baked("A9", marks(6, 6), marks(6, 6, "tomas"), marks(9, 9, "petra")))
    leans = {lean.taster: lean.above for lean in leaning_of(trials, "crumb")}

    assert Decimal("0.9") < leans["petra"] - leans["noor"] < Decimal("1.6")


def test_nobody_scored_the_attribute():
    """No leanings, no fault."""
    assert leaning_of([baked("A1", marks(None, 6))], "crumb") == ()
