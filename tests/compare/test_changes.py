"""A comparison as data keeps its laws, whatever is compared."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders import QUICK, sheet
from ovenleaf.compare.changes import Change, NotApplicable, apply, changes, invert
from ovenleaf.compare.facts import formula_facts, grained

keys = st.lists(st.sampled_from(["whole", "part", "water", "poolish", "own"]), min_size=1, max_size=3).map(tuple)
values = st.one_of(st.decimals(min_value=0, max_value=200, places=2), st.sampled_from(["", "soft", "60 min"]))
facts = st.dictionaries(keys, values, max_size=8)


@QUICK
@given(facts, facts)
def test_changes_applied_lead_to_the_other(one, other):
    """apply(a, changes(a, b)) == b."""
    assert apply(one, changes(one, other)) == other


@QUICK
@given(facts)
def test_nothing_changes_between_a_thing_and_itself(one):
    """changes(a, a) == ()."""
    assert changes(one, dict(one)) == ()


@QUICK
@given(facts, facts)
def test_changes_inverted_lead_back(one, other):
    """invert(changes(a, b)) == changes(b, a)."""
    assert invert(changes(one, other)) == changes(other, one)


@QUICK
@given(facts, facts)
def test_changes_come_sorted_and_each_says_something(one, other):
    """The same order on every machine, and no change from a thing to itself."""
    made = changes(one, other)

    assert [change.key for change in made] == sorted(change.key for change in made)
    assert all(change.before != change.after for change in made)


def random_page(draw):
    """A page with a preferment, seeds and steps that may be there or not."""
    percent = st.integers(1, 40).map(lambda tenths: Decimal(tenths) / 10)
    rye = draw(st.integers(0, 50))
    lines = [f"wheat flour: {100 - rye}%", *([f"rye flour: {rye}%"] if rye else [])]
    lines += [f"water: {draw(st.integers(60, 80))}%", f"salt: {draw(percent)}%{draw(st.sampled_from(['', ', fine']))}"]
    lines += [f"caraway seed: {draw(percent)}%"] if draw(st.booleans()) else []
    lines += ["instant yeast: 1%"]
    page = "ingredients:\n" + "".join(f"  {line}\n" for line in lines)
    if draw(st.booleans()):
        page += (
            f"preferments:\n  poolish:\n    takes: {draw(st.integers(5, 40))}% of the flour\n    wheat flour: 100%\n"
        )
        page += f"    water: {draw(st.integers(50, 120))}%\n    instant yeast: 0.1%\n    rest: 12 h at 21 C\n"
    if draw(st.booleans()):
        page += f"process:\n  - bulk: {draw(st.integers(30, 90))} min at 26 C, covered\n  - bake: 18 min at 220 C\n"
    if draw(st.booleans()):
        page += "aims:\n  crumb: soft\noutside:\n  egg: as needed, for the wash\n"
    return page


pages = st.composite(random_page)()


@QUICK
@given(pages, pages)
def test_the_laws_hold_for_formulas(one, other):
    """Two formulas as facts: there, back, and nothing between one and itself."""
    left, right = (formula_facts(made.formula, made.worked) for made in (sheet(one), sheet(other)))

    assert apply(left, changes(left, right)) == right
    assert apply(right, invert(changes(left, right))) == left
    assert changes(left, left) == ()


def test_changes_are_not_forced_on_other_facts():
    """What does not start from the same place is refused, with the change that does not fit."""
    made = changes({("water",): Decimal(65)}, {("water",): Decimal(68)})

    with pytest.raises(NotApplicable) as caught:
        apply({("water",): Decimal(66)}, made)
    assert caught.value.change == Change(key=("water",), before=Decimal(65), after=Decimal(68))
    with pytest.raises(NotApplicable):
        apply({}, made)


def test_facts_given_are_left_as_they_are():
    """The comparison does not touch what it was given."""
    before = {("water",): Decimal(65)}
    apply(before, changes(before, {}))

    assert before == {("water",): Decimal(65)}


@pytest.mark.parametrize(
    ("value", "grain"),
    [("65.004", "65"), ("65.005", "65.01"), ("0.6249", "0.625"), ("0.0014", "0.001"), ("-1.005", "-1.01")],
)
def test_a_percentage_counts_to_a_hundredth_and_yeast_to_a_thousandth(value, grain):
    """Finer than any scale at the bench, so that grams and percents of one dough compare equal."""
    assert grained(Decimal(value)) == Decimal(grain)
