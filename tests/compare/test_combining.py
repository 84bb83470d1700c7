"""Two pages that came of one are combined by a numbered table, and nothing either baker changed is lost."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders import QUICK
from ovenleaf.compare.combining import combine
from ovenleaf.compare.open_questions import item_of, names_of, open_block
from ovenleaf.compare.policies import FLOURS, ORDER, POLICIES, WHOLE, Policy, for_formula
from ovenleaf.compare.step_lines import combine_lines
from ovenleaf.compare.three_ways import GONE, Case, alike, decide, order_of

PLAIN = Policy()


def same(one, other):
    """Written differently at most in spaces."""
    return one is not GONE and other is not GONE and str(one).replace(" ", "") == str(other).replace(" ", "")


@pytest.mark.parametrize(
    ("case", "before", "one", "other", "stands"),
    [
        (1, "a", "a", "a", "a"),
        (2, "a", "b", "a", "b"),
        (2, "a", GONE, "a", GONE),
        (2, GONE, "b", GONE, "b"),
        (3, "a", "a", "c", "c"),
        (3, "a", "a", GONE, GONE),
        (4, "a", "b", "b", "b"),
        (4, "a", "b c", "bc", "b c"),
        (4, "a", GONE, GONE, GONE),
        (7, "a", "b", "c", "a"),
        (7, "a", GONE, "c", "a"),
        (7, 1, True, 5, 1),
        (8, GONE, "b", "c", GONE),
        (9, "a b", "ab", "c", "c"),
        (9, "a b", "c", "ab", "c"),
    ],
)
def test_each_row_of_the_table_decides_as_it_says(case, before, one, other, stands):
    """Rows 1 to 4 and 7 to 9 hold for what is looked at whole."""
    assert decide(before, one, other, means_same=same) == (case, stands)


def test_names_are_looked_at_one_by_one_and_gaining_lists_unite():
    """Rows 5 and 6: a change to one name and a change to another are no clash; what stands in either list stands."""
    base = {"scores": {"noor": {"crumb": 5}}, "log": ["2026-11-04T12:00:00+01:00 mixed"]}
    one = {"scores": {"noor": {"crumb": 5, "crust": 7}}, "log": [*base["log"], "2026-11-04T12:09:00+01:00 tight"]}
    other = {
        "scores": {"noor": {"crumb": 5}, "tomas": {"crumb": 6}},
        "log": [*base["log"], "2026-11-04T11:05:00+00:00 6 g more"],
    }

    made = combine(base, one, other, POLICIES["trial"])

    assert made.tree["scores"] == {"noor": {"crumb": 5, "crust": 7}, "tomas": {"crumb": 6}}
    assert [line.partition(" ")[2] for line in made.tree["log"]] == ["mixed", "6 g more", "tight"]
    assert {Case.WITHIN, Case.UNITED} <= {decision.case for decision in made.decisions}
    assert made.questions == ()


def test_something_put_in_twice_stands_only_where_the_page_could_not_be_read_without():
    """Row 8: an amount is left out until it is settled; a composition stands in."""
    assert combine({}, {"x": 1}, {"x": 2}, PLAIN).tree == {}
    assert combine({}, {"x": 1}, {"x": 2}, POLICIES["ingredients"]).tree == {"x": 1}


# --- laws -----------------------------------------------------------------------------------------------

leaves = st.one_of(st.integers(0, 9), st.booleans(), st.sampled_from(["a", "b", "c d"]))
names = st.sampled_from(["water", "salt", "crumb", "log", "at"])
trees = st.recursive(
    leaves,
    lambda inner: st.one_of(
        st.dictionaries(names, inner, min_size=1, max_size=3), st.lists(leaves, min_size=1, max_size=3)
    ),
    max_leaves=8,
)
pages = st.dictionaries(names, trees, min_size=1, max_size=4)
policies = st.sampled_from([PLAIN, *POLICIES.values()])


@QUICK
@given(pages, pages, policies)
def test_a_change_on_one_side_is_the_outcome(before, changed, policy):
    """combine(b, x, b) = combine(b, b, x) = combine(b, x, x) = x."""
    for one, other in ((changed, before), (before, changed), (changed, changed)):
        made = combine(before, one, other, policy)
        assert alike(made.tree, changed)
        assert made.questions == ()


@QUICK
@given(pages, pages, pages, policies)
def test_it_does_not_matter_whose_page_is_named_first(before, one, other, policy):
    """combine(b, x, y) says the same as combine(b, y, x) but for what neither chose: how things are written."""
    left, right = combine(before, one, other, policy), combine(before, other, one, policy)

    def asked(made):
        return {q.path: sorted((repr(q.one), repr(q.other))) for q in made.questions}

    assert asked(left) == asked(right)
    if not policy.stands_in and not policy.rules:
        assert alike(left.tree, right.tree)


@QUICK
@given(pages, pages, pages)
def test_every_value_that_was_changed_stands_or_is_asked_about(before, one, other):
    """Nothing that either side put in goes missing."""
    made = combine(before, one, other, PLAIN)
    kept = {*_leaves(made.tree), *(leaf for q in made.questions for side in (q.one, q.other) for leaf in _leaves(side))}

    assert {*_leaves(one), *_leaves(other)} - {*_leaves(before)} <= kept


def _leaves(tree):
    if isinstance(tree, dict):
        for value in tree.values():
            yield from _leaves(value)
    elif isinstance(tree, list):
        yield from map(repr, tree)
    elif tree is not GONE:
        yield repr(tree)


# --- formulas -------------------------------------------------------------------------------------------

RYE = {"ingredients": {"rye flour": "60%", "wheat flour": "40%", "water": "74%", "salt": "2%"}}
RULES = for_formula({"rye flour", "wheat flour", "spelt flour"})


def changed(**lines):
    """The rye with other lines; None takes one out."""
    found = RYE["ingredients"] | {key.replace("_", " "): value for key, value in lines.items()}
    return {"ingredients": {key: value for key, value in found.items() if value is not None}}


def test_two_ingredients_changed_by_two_bakers_are_both_changed():
    """By ingredient: her water and his salt are no question."""
    made = combine(RYE, changed(water="76%"), changed(salt="1.8%"), RULES)

    assert made.tree["ingredients"] == RYE["ingredients"] | {"water": "76%", "salt": "1.8%"}
    assert made.questions == ()


def test_water_in_two_ways_stays_as_it_was_and_is_asked():
    """The ancestor's value stands; the question holds both."""
    made = combine(RYE, changed(water="76%"), changed(water="77%", salt="1.8%"), RULES)

    assert made.tree["ingredients"] == RYE["ingredients"] | {"salt": "1.8%"}
    assert open_block(made.questions, names_of(("noor",), ("tomas",))) == {
        "water": {"was": "74%", "noor": "76%", "tomas": "77%"}
    }


def test_all_the_flours_are_one_item():
    """Each made room for five points of a flour: together that would be 105 %, so it is a question."""
    one = changed(rye_flour="65%", wheat_flour="35%")
    other = changed(spelt_flour="5%", wheat_flour="35%")

    made = combine(RYE, one, other, RULES)

    assert made.tree == RYE
    assert [question.path for question in made.questions] == [("ingredients", FLOURS)]


def test_an_amount_written_otherwise_is_no_change():
    """`74.0 %` is 74%, so the other baker's 76% stands."""
    assert combine(RYE, changed(water="74.0 %"), changed(water="76%"), RULES).tree == changed(water="76%")


def test_a_line_taken_out_by_one_and_changed_by_the_other_is_asked():
    """Neither is taken for granted."""
    made = combine(RYE, changed(salt=None), changed(salt="1.8%"), RULES)

    assert made.tree == RYE
    assert open_block(made.questions, names_of(("noor",), ("tomas",))) == {
        "salt": {"was": "2%", "noor": "left out", "tomas": "1.8%"}
    }


def test_a_preferment_taken_out_whole_is_one_question():
    """Its lines are not asked about one by one."""
    part = {"preferments": {"poolish": {"takes": "20%", "wheat flour": "100%", "water": "100%"}}}
    other = {"preferments": {"poolish": {"takes": "20%", "wheat flour": "100%", "water": "110%"}}}

    made = combine(RYE | part, dict(RYE), RYE | other, RULES)

    assert made.tree == RYE | part
    assert [question.path for question in made.questions] == [("preferments", "poolish")]


def test_all_amounts_as_one_question_keep_the_ancestors():
    """Where both changes together do not come out, none of them is made."""
    rules = for_formula({"rye flour"}, amounts_whole=True)

    made = combine(RYE | {"makes": "2 loaves"}, changed(water="76%") | {"makes": "3 loaves"}, changed(salt="1%"), rules)

    assert made.tree["ingredients"] == RYE["ingredients"]
    assert (WHOLE,) in [question.path for question in made.questions]


# --- steps ----------------------------------------------------------------------------------------------


def steps(*lines):
    return {"process": [{name.strip(): line.strip()} for name, _, line in (text.partition(":") for text in lines)]}


BASE = steps("mix: 6 min, dough 28 C", "bulk: 45 min at 28 C, covered", "bake: 50 min at 250 C")


def test_two_fields_of_one_step_are_told_apart():
    """Her time and his temperature go into one line."""
    one = steps("mix: 6 min, dough 28 C", "bulk: 50 min at 28 C, covered", "bake: 50 min at 250 C")
    other = steps("mix: 6 min, dough 28 C", "bulk: 45 min at 29 C, covered", "bake: 50 min at 250 C")

    made = combine(BASE, one, other, RULES)

    assert made.tree["process"][1] == {"bulk": "50 min at 29 C, covered"}
    assert made.questions == ()


def test_one_field_in_two_ways_is_asked_alone():
    """The rest of the line is combined."""
    told = combine_lines("45 min at 28 C, covered", "50 min at 29 C, covered", "55 min at 28 C, covered")

    assert told.line == "45 min at 29 C, covered"
    assert [(asked.field, asked.one, asked.other) for asked in told.asked] == [("time", "50 min", "55 min")]


def test_words_changed_by_both_make_the_line_one_question():
    """Words cannot be told apart."""
    assert combine_lines("covered", "in a bowl", "in the trough") is None


def test_a_step_each_is_put_in_where_it_was():
    """Two new steps in two places are no clash."""
    one = {"process": [BASE["process"][0], {"rest": "20 min"}, *BASE["process"][1:]]}
    other = {"process": [*BASE["process"], {"cool": "2 h"}]}

    made = combine(BASE, one, other, RULES)

    assert [next(iter(step)) for step in made.tree["process"]] == ["mix", "rest", "bulk", "bake", "cool"]


def test_an_order_changed_in_two_ways_is_a_question():
    """The ancestor's order stands."""
    assert order_of(("a", "b", "c"), ("b", "a", "c"), ("a", "c", "b")) == (("a", "b", "c"), False)
    one, other = ({"process": [BASE["process"][place] for place in order]} for order in ((1, 0, 2), (0, 2, 1)))

    made = combine(BASE, one, other, RULES)

    assert made.tree == BASE
    assert [item_of(question.path) for question in made.questions] == [ORDER]


def test_an_order_changed_by_one_stands():
    """Only one of them moved a step."""
    assert order_of(("a", "b", "c"), ("b", "a", "c"), ("a", "b", "c")) == (("b", "a", "c"), True)
    assert order_of(("a", "b", "c"), ("a", "b", "c"), ("b", "a", "c")) == (("b", "a", "c"), True)


# --- open questions --------------------------------------------------------------------------------------

ASKED = {"open": {"water": {"was": "74%", "noor": "76%", "tomas": "77%"}}}


def test_a_question_that_one_settled_is_settled():
    """The other left it alone."""
    made = combine(RYE | ASKED, changed(water="76%"), RYE | ASKED, RULES)

    assert made.tree == changed(water="76%")


def test_a_question_settled_in_two_ways_is_open_again():
    """Both settled it at once."""
    made = combine(RYE | ASKED, changed(water="76%"), changed(water="77%"), RULES)

    assert made.tree == RYE
    assert open_block(made.questions, names_of(("noor",), ("tomas",))) == ASKED["open"]


def test_bakers_of_one_name_are_told_apart_by_their_revisions():
    """The same handle on both sides says nothing."""
    names = names_of(("noor",), ("noor",), one_revision="r2.noor", other_revision="r3.noor")

    assert (names.one, names.other) == ("r2.noor", "r3.noor")
