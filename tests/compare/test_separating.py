"""Conditions near and apart, and bakes that differ in one thing alone."""

from __future__ import annotations

from decimal import Decimal

import pytest

from builders import pantry, sheet, trial
from ovenleaf.compare.bakes import Condition
from ovenleaf.compare.nearness import apart, near
from ovenleaf.compare.revisions import Revisions
from ovenleaf.compare.separating import Bake, independent, separating
from ovenleaf.domain import benchline
from ovenleaf.domain.quantity import Amount, Unit


def value(text):
    """A value as a bench line reads it."""
    fields = benchline.read(text).fields
    return fields[0].value if fields else text


def share(number):
    return Amount(Decimal(str(number)), Unit.SHARE)


@pytest.mark.parametrize(
    ("one", "other", "alike"),
    [
        ("dough 25 C", "dough 25.9 C", True),
        ("dough 25 C", "dough 26 C", False),
        ("dough 77 F", "dough 25 C", True),
        ("60 min", "58 min", True),
        ("60 min", "63 min", True),
        ("60 min", "64 min", False),
        ("12 h", "12 h 30 min", True),
        ("5 min", "7 min", True),
        ("5 min", "8 min", False),
        ("240 C falling to 220 C", "238 C falling to 221 C", True),
        ("240 C falling to 220 C", "240 C", False),
    ],
)
def test_near_as_a_kitchen_can_hold_it(one, other, alike):
    """A dough to a degree, an oven to five, a time to two minutes or a twentieth."""
    assert near(value(one), value(other)) is alike
    assert near(value(other), value(one)) is alike


@pytest.mark.parametrize(
    ("one", "other", "alike"), [(66, "66.4", True), (66, "66.5", False), (2, "2.2", False), (2, "2.05", True)]
)
def test_shares_are_near_within_half_a_point_and_a_twentieth(one, other, alike):
    """Salt is not near salt that is a tenth more."""
    assert near(share(one), share(other)) is alike


def bake(**said):
    return tuple(Condition(name=n.replace("_", " "), value=value(t), text=t) for n, t in said.items())


def test_doughs_of_two_sides_are_apart_only_where_they_do_not_mingle():
    """24 and 27 against 25.5: among one another, so it is no difference between the sides."""
    cold, warm = bake(dough_temperature="dough 24 C"), bake(dough_temperature="dough 27 C")
    between = bake(dough_temperature="dough 25.5 C")

    assert apart([cold, warm], [between]).near == ("dough temperature",)
    assert apart([cold], [between]).differ == ("dough temperature",)
    assert apart([cold], [warm, between]).differ == ("dough temperature",)


def test_words_are_apart_where_none_came_on_both_sides():
    """Noor and tomas beside noor are not apart; noor beside tomas is."""
    noor, tomas = bake(baker="noor"), bake(baker="tomas")

    assert apart([noor, tomas], [noor]) == apart([noor], [noor, tomas])
    assert apart([noor, tomas], [noor]).near == ("baker",)
    assert apart([noor], [tomas]).differ == ("baker",)


def test_recorded_on_one_side_is_neither_alike_nor_apart():
    """A room that one bake tells of."""
    found = apart([bake(room="21 C", baker="noor")], [bake(baker="noor")])

    assert (found.differ, found.near, found.one_sided) == ((), (), ("room",))
    assert apart([], []) == apart([()], [()])


def test_warmth_of_flour_and_water_acts_through_the_dough():
    """It counts where the dough's temperature is not told, and the core's never does."""
    one, other = bake(water__how_warm="x"), bake(baker="noor")
    assert apart([one], [other]).differ == ()
    warm = (Condition(name="water, how warm", value=value("28 C"), text="28 °C"),)
    cold = (Condition(name="water, how warm", value=value("12 C"), text="12 °C"),)
    dough = bake(dough_temperature="dough 25 C")
    assert apart([warm], [cold]).differ == ("water, how warm",)
    assert apart([(*warm, *dough)], [(*cold, *dough)]).differ == ()
    assert apart([bake(core_temperature="core 90 C")], [bake(core_temperature="core 97 C")]).differ == ()


PAGE = """
ingredients:
  strong wheat flour: 100%
  water: {}%
  salt: {}%
"""
SHEETS = {
    ("loaf", f"r{number}.noor"): sheet(PAGE.format(water, salt))
    for number, (water, salt) in enumerate(((62, 2), (65, 2), (65, "1.8"), (68, "1.8")), start=1)
}


def scored(code, revision, score, *conditions, dough=""):
    return Bake(
        trial=trial(f"code: {code}\nrevision: r{revision}.noor\nbake_date: 2026-11-{int(code[1:]):02}"),
        dough=dough or code,
        conditions=conditions,
        crumb=None,
        crust=None,
        score=Decimal(score),
    )


def found(*bakes, things=("water", "salt"), sides=("r1.noor", "r3.noor")):
    pairs = separating(bakes, things, frozenset(sides), Revisions(SHEETS, pantry()))
    return [(p.thing, p.before.trial.code, p.after.trial.code, p.values) for p in pairs]


def test_pairs_that_differ_in_one_thing_alone():
    """r1 and r2 differ in water, r2 and r3 in salt, r1 and r3 in both."""
    assert found(scored("A1", 1, 5), scored("A2", 2, 6), scored("A3", 3, 8)) == [
        ("water", "A1", "A2", ("62.0 %", "65.0 %")),
        ("salt", "A2", "A3", ("2.0 %", "1.8 %")),
    ]
    assert found(scored("A1", 1, 5), scored("A3", 3, 8)) == []
    assert found() == []


def test_a_condition_beside_it_spoils_a_pair():
    """The same flour lot on both, or the pair tells nothing."""
    old, new = (Condition(name="strong wheat flour, which", value=lot, text=lot) for lot in ("B1", "B2"))

    assert found(scored("A1", 1, 5, old), scored("A2", 2, 6, new)) == []
    assert found(scored("A1", 1, 5, old), scored("A2", 2, 6, old)) == [("water", "A1", "A2", ("62.0 %", "65.0 %"))]


def test_halves_of_a_dough_are_no_pair():
    """They cannot tell of the dough."""
    hot, cold = (Condition(name="room", value=value(t), text=t) for t in ("30 C", "18 C"))

    assert found(scored("A1", 1, 5, hot), scored("A2", 1, 6, cold, dough="A1"), things=("room", "water")) == []
    assert found(scored("A1", 1, 5, hot), scored("A2", 1, 6, cold), things=("room", "water")) != []


def test_the_very_revisions_come_first_then_what_leaves_least_unsaid_then_the_latest():
    """Of three pairs in water, that of the two revisions that are compared."""
    room = Condition(name="room", value=value("20 C"), text="20 °C")
    bakes = [scored("A1", 1, 5), scored("A2", 2, 6, room), scored("A3", 2, 6), scored("A4", 3, 6), scored("A5", 4, 7)]

    assert found(*bakes, things=("water",), sides=("r1.noor", "r2.noor"))[0][1:3] == ("A1", "A3")
    assert found(*bakes, things=("water",), sides=("r3.noor", "r4.noor"))[0][1:3] == ("A4", "A5")
    assert found(*bakes, things=("water",), sides=("r1.noor", "r4.noor"))[0][1:3] == ("A4", "A5")


def test_what_the_formula_brings_with_it_is_one_thing():
    """More water on the page and in the bowl is one change."""
    diff = Revisions(SHEETS, pantry()).between(("loaf", "r1.noor"), ("loaf", "r2.noor"))

    assert independent(diff, ("water", "baker")) == ("water", "baker")
