"""The questions about a bake: worded by what was told, and what becomes of an answer."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders import QUICK, sheet
from ovenleaf.domain.asking import questions, settled
from ovenleaf.domain.book import BookPage
from ovenleaf.domain.question import NOTHING, Bench
from ovenleaf.domain.said import Said, together
from ovenleaf.domain.trial import Marks

ROLL = """
formula: market-roll
makes: 24 rolls of 85 g
aims:
  crumb: soft and even
ingredients:
  strong wheat flour: 100%
  water: 65%
  salt: 2%
  butter: 3%
  instant yeast: 0.6%
preferments:
  poolish:
    takes: 20% of the flour
    strong wheat flour: 100%
    water: 100%
    instant yeast: 0.1%
    rest: 12 h at 21 C
process:
  - mix: 9 min, medium, dough 25 C
  - bulk: 60 to 75 min at 26 C
  - bake: 18 min at 220 C falling to 200 C
"""
TODAY = date(2026, 11, 9)


def asked(page=ROLL):
    return questions(Bench(sheet=sheet(page), book=BookPage(), taster="noor", today=TODAY))


def find(start, said=NOTHING, page=ROLL):
    """The question whose words, after what was said, begin so; with those words and its plan."""
    for one in asked(page):
        wording = one.put(said)
        if wording.text.startswith(start):
            return one, wording
    raise AssertionError([one.put(said).text for one in asked(page)])


def take(start, typed, said=NOTHING, page=ROLL):
    question, wording = find(start, said, page)
    return question.take(wording.planned if typed == "=" else typed, said)


def test_the_questions_come_in_the_order_of_the_bench():
    """Day, batch, what was weighed, the poolish, the dough, the steps, the oven, the bread, the tasting."""
    assert [one.put(NOTHING).text for one in asked()] == [
        "Day of baking, if not today, Monday 9 November",
        "Batch, planned 24 rolls of 85 g, from 1196 g of flour",
        "Strong wheat flour, which and what lot",
        "Water, planned 65.0 % of the flour, poolish included, in g",
        "Anything else weighed differently, such as salt 12 g, or no",
        "Poolish, how long it stood, planned 12 h",
        "Room temperature, such as 21 C",
        "Dough temperature, planned 25 °C",
        "Bulk, planned 60 to 75 min",
        "Oven, planned 220 °C falling to 200 °C",
        "Time in the oven, planned 18 min",
        "How many rolls, planned 24",
        "All the bread together, when cold, in g",
        "Hours after baking when you tasted",
        "Crumb, 0 to 10, aim: soft and even",
        "Crust, 0 to 10",
        "Anything to add",
    ]


def test_a_plan_is_of_the_batch_that_was_told():
    """Half the flour is half the water and half the rolls; nobody planned 24 rolls of a 600 g batch."""
    said = Said(batch="600 g flour")
    assert find("Water", said)[1].text == "Water, planned 390 g, poolish included"
    assert find("How many", said)[1].text == "How many rolls, planned 12"
    assert take("Water", "=", said).said.weighed == (("water", "390 g"),)
    assert take("How many", "=", said).said.measured == (("pieces", "12"),)
    assert find("How many", Said(batch="10 rolls of 90 g"))[1].planned == "10"


@QUICK
@given(
    rolls=st.integers(min_value=1, max_value=400),
    each=st.integers(min_value=20, max_value=2000),
)
def test_a_batch_in_pieces_plans_those_pieces(rolls, each):
    """What was told in pieces or in the same dough comes to the same number of pieces."""
    dough = rolls * 85
    assert find("How many", Said(batch=f"{rolls} rolls of {each} g"))[1].planned == str(rolls)
    assert find("How many", Said(batch=f"{dough} g dough"))[1].planned == str(rolls)


def test_as_planned_without_a_weight_is_asked_again():
    """Where the batch is not known a share was planned, and a share is not what was weighed."""
    assert take("Water", "=").problem == "Give what was weighed, as in 396 g."


@pytest.mark.parametrize("start", [one.put(NOTHING).text for one in asked() if one.put(NOTHING).planned])
def test_what_is_planned_is_an_answer_to_its_own_question(start):
    """`=` never meets a problem once the batch is told, and adds to what was told."""
    taken = take(start.split(",")[0], "=", Said(batch="600 g flour"))
    assert taken.problem == ""
    assert taken.said != NOTHING


@pytest.mark.parametrize(
    ("start", "typed", "said"),
    [
        ("Day", "yesterday", Said(bake_date="2026-11-08")),
        ("Batch", "600", Said(batch="600 g flour")),
        ("Batch", "1020 g dough", Said(batch="1020 g dough")),
        ("Strong", "Mill Lane, lot 7", Said(flours=(("strong wheat flour", "Mill Lane, lot 7"),))),
        ("Strong", "none", NOTHING),
        ("Water", "396", Said(weighed=(("water", "396 g"),))),
        ("Anything else", "no", Said(as_planned="all of it")),
        ("Anything else", "salt 12 g", Said(weighed=(("salt", "12 g"),))),
        ("Anything else", "salt 12,5", Said(weighed=(("salt", "12.5 g"),))),
        (
            "Anything else",
            "wheat: 610 g, yeast 4 g",
            Said(weighed=(("strong wheat flour", "610 g"), ("instant yeast", "4 g"))),
        ),
        ("Poolish", "11,5", Said(steps=(("poolish", "11 h 30 min"),))),
        ("Poolish", "690 min", Said(steps=(("poolish", "11 h 30 min"),))),
        ("Room", "70F", Said(kitchen=(("room", "70 F"),))),
        ("Room", "21", Said(kitchen=(("room", "21 C"),))),
        ("Dough", "25,5", Said(measured=(("dough temperature", "25.5 C"),))),
        ("Bulk", "58", Said(steps=(("bulk", "58 min"),))),
        ("Bulk", "58 min at 27 C, covered", Said(steps=(("bulk", "58 min at 27 C, covered"),))),
        ("Oven", "430F", Said(steps=(("bake", "430 F"),))),
        ("Time", "19", Said(steps=(("bake", "19 min"),))),
        ("How many", "12 rolls", Said(measured=(("pieces", "12"),))),
        ("All the bread", "884", Said(measured=(("baked weight", "884 g"),))),
        ("Hours", "2,5 h", Said(marks=(Marks(taster="noor", hours_after=Decimal("2.5")),))),
        ("Crumb", "7", Said(marks=(Marks(taster="noor", crumb=Decimal(7)),))),
        ("Crust", "6,5 too pale", Said(marks=(Marks(taster="noor", crust=Decimal("6.5"), faults=("too pale",)),))),
        ("Anything to add", "good", Said(marks=(Marks(taster="noor", note="good"),))),
        ("Anything to add", "No", NOTHING),
    ],
)
def test_an_answer_becomes_what_was_said(start, typed, said):
    """Each in its place on the trial's page, with its unit."""
    taken = take(start, typed)
    assert (taken.problem, taken.said) == ("", said)


@pytest.mark.parametrize(
    ("start", "typed", "problem"),
    [
        ("Day", "the other day", "Say it as yesterday"),
        ("Day", "2026-11-10", "still to come"),
        ("Batch", "big", "Say it as 600 g flour"),
        ("Batch", "0", "Say it as 600 g flour"),
        ("Water", "lots", "Give a weight"),
        ("Water", "66%", "Give what was weighed"),
        ("Anything else", "honey 3 g", "Begin with one of strong wheat flour, water, salt, butter, instant yeast"),
        ("Anything else", "salt", "Begin with one of"),
        ("Anything else", "12 g", "Begin with one of"),
        ("Poolish", "a while", "Say how long"),
        ("Room", "47", "Say it as 21 C or 70 F"),
        ("Dough", "warm", "Say it as 25.5 C or 78 F"),
        ("Bulk", "a while", "Say how long"),
        ("Oven", "220", "needs its scale"),
        ("Time", "a while", "Say how long"),
        ("How many", "a dozen", "Give a number"),
        ("How many", "0", "Give a number"),
        ("How many", "²", "Give a number"),
        ("All the bread", "heavy", "Give a weight"),
        ("Hours", "soon", "Give hours"),
        ("Crumb", "good", "Begin with a mark from 0 to 10"),
        ("Crust", "11", "off the scale"),
        ("Crust", "4/5", "out of 5"),
    ],
)
def test_an_answer_that_means_nothing_says_how_it_would(start, typed, problem):
    """Nothing is taken from it."""
    taken = take(start, typed)
    assert problem in taken.problem
    assert taken.said == NOTHING


def test_a_short_name_that_may_mean_two_is_asked_back():
    """Both are named, and nothing is taken."""
    two = "formula: x\ningredients:\n  strong wheat flour: 60%\n  whole wheat flour: 40%\n  water: 70%\n"
    assert take("Anything else", "wheat 600 g", page=two).problem == (
        "That can mean strong wheat flour or whole wheat flour."
    )


def test_what_was_taken_is_said_back_beside_its_plan():
    """A slip can be heard before the next question."""
    said = Said(batch="600 g flour")
    assert take("Water", "396", said).echo == "396 g is 66.0 % of the flour; planned 65.0 %."
    assert take("Water", "390", said).echo == "390 g is 65.0 % of the flour; as planned."
    assert take("All the bread", "884", said).echo == "13.6 % less than the 1024 g of dough."
    assert take("All the bread", "2 lb", said).echo == ""
    assert take("Anything else", "salt 12, butter 30", said).echo == (
        "12 g is 2.0 % of the flour; as planned. 30 g is 5.0 % of the flour; planned 3.0 %."
    )


def test_no_is_all_the_rest_only_where_something_was_weighed():
    """`as_planned` says no more than the baker did."""
    assert take("Anything else", "no", Said(weighed=(("water", "396 g"),))).said.as_planned == "all the rest"
    assert take("Anything else", "no").said.as_planned == "all of it"


def test_oven_and_time_make_one_line_of_the_bake():
    """Answers about one step stand on one line, in the order they were given."""
    told = together(take("Oven", "=").said, take("Time", "19").said)
    assert settled(told).steps == (("bake", "220 C falling to 200 C, 19 min"),)
