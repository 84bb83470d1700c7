"""What to bake next: the bake that tells most first, and why."""

from __future__ import annotations

from decimal import Decimal

import pytest

from ovenleaf.domain.trial import Marks, ScoreScale, Trial
from ovenleaf.domain.varied import Varied
from ovenleaf.evidence.next import Kind, Known, question, suggestions
from ovenleaf.evidence.standing import standings

EQUAL = (("crumb", Decimal(1)), ("crust", Decimal(1)))
TEN = ScoreScale(low=Decimal(0), high=Decimal(10))
WATER = Varied(name="water", before="72.0 %", after="75.0 %", in_formula=True, shares=(Decimal(72), Decimal(75)))
SALT = Varied(name="salt", before="2.0 %", after="1.8 %", in_formula=True, shares=(Decimal(2), Decimal("1.8")))
WARM = Varied(name="dough temperature", before="25 °C", after="27 °C", in_formula=False)


def baked(**marks):
    """Standings of revisions r1, r2, ... whose doughs came out so."""
    trials = [
        Trial(
            name=f"roll/{revision}{place}",
            formula="roll",
            revision=f"{revision}.noor",
            code=f"{revision.upper()}{place}",
            bake_date="2026-11-12",
            scale=TEN,
            scores=(Marks(taster="noor", crumb=Decimal(str(mark)), crust=Decimal(str(mark))),),
        )
        for revision, given in marks.items()
        for place, mark in enumerate(given)
    ]
    return standings(trials, EQUAL, TEN) if trials else None


def known(found, base="", varied=(), **said):
    revisions = said.pop("revisions", tuple(row.row.revision for row in found.rows) if found else ("r1.noor",))
    return Known(standings=found, revisions=tuple(sorted(revisions)), base=base, varied=varied, **said)


def told(suggested):
    return [(one.kind, one.revision, one.plan) for one in suggested]


def test_before_anything_is_scored_the_newest_revision_is_baked():
    """There is nothing else to say."""
    assert told(suggestions(known(None, revisions=("r1.noor", "r2.noor")))) == [(Kind.FIRST, "r2.noor", ())]


def test_a_leader_on_one_dough_is_repeated_first_and_the_number_it_improves_is_said():
    """The gap is known to z x scatter x sqrt(1/n + 1/m) either way; a dough more makes it narrower."""
    found = baked(r1=[6, 6.5, 6.5], r2=[8])
    first = suggestions(known(found, "r1.noor"))[0]

    assert (first.kind, first.revision, first.doughs) == (Kind.REPEAT, "r2.noor", 1)
    scatter = float(found.reckoned)
    assert float(first.now) == pytest.approx(1.6449 * scatter * (1 + 1 / 3) ** 0.5, rel=1e-4)
    assert float(first.then) == pytest.approx(1.6449 * scatter * (1 / 2 + 1 / 3) ** 0.5, rel=1e-4)


def test_where_the_rival_has_fewer_doughs_it_is_the_one_to_bake():
    """The control, if it is what the leader was made from; else the one that comes next."""
    found = baked(r1=[6], r2=[7, 7.5, 7])

    assert suggestions(known(found, "r1.noor"))[0].kind is Kind.CONTROL
    assert suggestions(known(found))[0].kind is Kind.RIVAL


def test_what_is_plain_is_not_baked_again_to_prove_it():
    """Six doughs each and three marks apart."""
    found = baked(r1=[5, 5, 5.5, 5, 5.5, 5], r2=[8, 8, 8.5, 8, 8, 8.5])

    assert suggestions(known(found, "r1.noor")) == ()


def test_a_confounded_pair_is_taken_apart():
    """Of two changes of the formula one alone on the old; of one and a condition, the new with the old condition."""
    found = baked(r1=[6, 6], r2=[8, 7.5])
    formula = suggestions(known(found, "r1.noor", (WATER, SALT)))
    condition = suggestions(known(found, "r1.noor", (WATER, WARM)))

    assert (Kind.SEPARATE, "r1.noor", (("water", "75.0 %"),)) in told(formula)
    assert (Kind.SEPARATE, "r2.noor", (("dough temperature", "25 °C"),)) in told(condition)
    apart = next(one for one in condition if one.kind is Kind.SEPARATE)
    assert apart.things == ("water", "dough temperature")
    assert Kind.SEPARATE not in [
        one.kind for one in suggestions(known(found, "r1.noor", (WATER, SALT), separated=True))
    ]
    assert Kind.SEPARATE not in [one.kind for one in suggestions(known(found, "r1.noor", (WATER,)))]


@pytest.mark.parametrize(
    ("before", "after", "further"),
    [
        ("72", "75", "77.0 %"),
        ("68", "65", "63.0 %"),
        ("62", "71", "77.0 %"),
        ("2", "1.8", "1.67 %"),
        ("0.5", "0.6", "0.67 %"),
    ],
)
def test_a_direction_that_rose_is_gone_on_in_by_a_smaller_step(before, after, further):
    """72 to 75 rose, so 77: two thirds of the last step, as finely as a baker steps."""
    one = Varied(name="water", before="", after="", in_formula=True, shares=(Decimal(before), Decimal(after)))
    found = suggestions(known(baked(r1=[6, 6], r2=[7, 7]), "r1.noor", (one,)))

    assert [one.plan for one in found if one.kind is Kind.STEP] == [(("water", further),)]


def test_no_step_is_taken_where_it_fell_or_where_somebody_was_already():
    """Nor where two things moved, for then nobody knows which rose."""
    rose, fell = baked(r1=[6, 6], r2=[7, 7]), baked(r1=[7, 7.5], r2=[6, 6])

    def kinds(*of, **said):
        return [one.kind for one in suggestions(known(*of, **said))]

    assert Kind.STEP in kinds(rose, "r1.noor", (WATER,))
    assert Kind.STEP not in kinds(rose, "r1.noor", (WATER,), beyond=frozenset({"water"}))
    assert Kind.STEP not in kinds(rose, "r1.noor", (WATER, SALT))
    assert Kind.STEP not in kinds(fell, "r1.noor", (WATER,))


def test_never_more_than_three_and_none_that_is_planned_already():
    """A leader with one dough, a confounded pair, a rising trend: all three, in that order."""
    found = baked(r1=[6], r2=[8])
    three = suggestions(known(found, "r1.noor", (WATER, WARM)))
    tried = frozenset({(three[0].revision, three[0].plan)})

    assert [one.kind for one in three] == [Kind.REPEAT, Kind.SEPARATE, Kind.STEP]
    left = suggestions(known(found, "r1.noor", (WATER, WARM), tried=tried))
    assert [one.kind for one in left][:2] == [Kind.SEPARATE, Kind.STEP]


@pytest.mark.parametrize("marks", [{"r1": [7]}, {"r1": [7, 7]}, {"r1": [7], "r2": [7]}, {"r1": [0, 10], "r2": [10, 0]}])
def test_one_score_equal_scores_and_wild_ones_give_sensible_bakes(marks):
    """No fault, and numbers that are numbers."""
    for one in suggestions(known(baked(**marks))):
        assert one.now is None or (one.now.is_finite() and one.then < one.now)
        assert question(one, ()).endswith("?")
