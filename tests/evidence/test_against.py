"""Scores against something weighed: a dough is one point, whoever tasted it and however often it was split."""

from __future__ import annotations

from decimal import Decimal

from ovenleaf.domain.trial import Marks, ScoreScale, Trial
from ovenleaf.evidence.against import against
from ovenleaf.evidence.ranking import rank

EQUAL = (("crumb", Decimal(1)), ("crust", Decimal(1)))
TEN = ScoreScale(low=Decimal(0), high=Decimal(10))


def baked(code, mark, **facts):
    marks = tuple(Marks(taster=f"t{place}", crumb=Decimal(m), crust=Decimal(m)) for place, m in enumerate(mark))
    said = {"formula": "roll", "revision": "r1.noor", "bake_date": "2026-11-12", "scale": TEN, "scores": marks} | facts
    return Trial(name=f"roll/{code}", code=code, **said)


def drawn(trials, known):
    values = {code: (Decimal(value), "as recorded") for code, value in known.items()}
    ranking = rank(trials, EQUAL, TEN)
    return against(ranking, values, what="water", unit="%", of="score", why_not="no figure for water")


def test_tasters_are_averaged_and_loaves_of_one_dough_are_one_point():
    """Two tasters and two ovens are not four doughs."""
    made = drawn(
        [baked("A1", [6, 8]), baked("A2", [8], shares_dough_with="A1"), baked("A3", [9])],
        {"A1": 62, "A2": 62, "A3": 68},
    )

    assert [(point.codes, point.value, point.score) for point in made.points] == [("A1 and A2", 62, 7.5), ("A3", 68, 9)]
    assert made.line.slope == Decimal("0.25")
    assert made.line.freedom == 0


def test_a_bake_without_the_figure_or_the_score_is_named_with_its_reason():
    """Nothing is guessed, and nothing goes missing unseen."""
    made = drawn([baked("A1", [7]), baked("A2", [8]), baked("A3", [])], {"A1": 62, "A3": 64})

    assert [point.codes for point in made.points] == ["A1"]
    assert [(trial.code, why) for trial, why in made.left_out] == [
        ("A2", "no figure for water"),
        ("A3", "not scored yet"),
    ]
    assert made.line is None


def test_no_bakes_make_no_points():
    """An empty picture, and no fault."""
    assert drawn([], {}).points == ()
