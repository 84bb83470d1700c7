"""What a baker tells of an ingredient: read from text, refused where it cannot be, asked for one by one."""

from __future__ import annotations

from decimal import Decimal

import pytest

from ovenleaf.domain.ingredients import Kind
from ovenleaf.domain.new_ingredient import (
    TellingFault,
    ToldIngredient,
    following,
    problem_of,
    told_ingredient,
    told_of,
)
from ovenleaf.records.codec.ingredients import read_ingredients, with_ingredient
from ovenleaf.records.yaml_text import read


def told(**said):
    """What a list makes of what is told."""
    shares = tuple((key.replace("_", " "), typed) for key, typed in said.pop("shares", {}).items())
    return told_ingredient("rye malt", ToldIngredient(**{"kind": "malt", **said}, shares=shares))


def fault(**said):
    """The field and the sentence for which it cannot be."""
    with pytest.raises(TellingFault) as caught:
        told(**said)
    return caught.value.field, caught.value.problem


def test_what_is_not_told_is_not_known():
    """A figure left out is not zero, and a zero is one."""
    one = told(shares={"water": "6 g", "sugars": "60,5", "salt": "0"})
    assert (one.water, one.sugars, one.salt, one.fat) == (6, Decimal("60.5"), 0, None)
    assert one.flour == 0


def test_a_flour_counts_whole_unless_it_is_told_otherwise():
    """Nothing else counts as flour unless it is told."""
    assert told(kind="flour").flour == 100
    assert told(kind="flour", shares={"flour": "80%"}).flour == 80
    assert told(kind="Seed").flour == 0


def test_parts_that_exceed_a_hundred_are_refused_with_their_sum():
    """100 g hold 100 g; a printed table may round half a gram over (USDA SR28 01145 comes to 100.05)."""
    assert fault(shares={"water": "60", "fat": "50"}) == (
        "parts",
        "rye malt would hold 110 g in 100 g: water 60 g and fat 50 g.",
    )
    assert fault(shares={"water": "60", "sugars": "40", "salt": "0.6"})[0] == "parts"
    assert told(shares={"water": "17.94", "fat": "81.11", "protein": "0.85", "sugars": "0.15"}).fat == Decimal("81.11")


@pytest.mark.parametrize(
    ("said", "field"),
    [
        ({"kind": ""}, "kind"),
        ({"kind": "stone"}, "kind"),
        ({"shares": {"water": "120"}}, "water"),
        ({"shares": {"fat": "-1"}}, "fat"),
        ({"shares": {"fat": "1e2"}}, "fat"),
        ({"shares": {"fat": "nan"}}, "fat"),
        ({"shares": {"fat": "some"}}, "fat"),
        ({"shares": {"ash": "1"}}, "ash"),
        ({"shares": {"sugars": "3", "milk_sugar": "4"}}, "milk sugar"),
        ({"shares": {"milk_sugar": "4"}}, "milk sugar"),
        ({"kind": "flour", "shares": {"flour": "0"}}, "flour"),
        ({"kind": "culture"}, "made of"),
        ({"kind": "culture", "made_of": ("wheat flour",)}, "made of"),
        ({"kind": "culture", "made_of": ("wheat flour 100", "water 0")}, "made of"),
        ({"kind": "culture", "made_of": ("wheat flour 100",), "shares": {"water": "40"}}, "made of"),
        ({"made_of": ("wheat flour 100",)}, "made of"),
        ({"kind": "yeast"}, "instant"),
        ({"instant": "0.5"}, "instant"),
        ({"kind": "yeast", "instant": "0"}, "instant"),
        ({"weights": (("cup", "0"),)}, "cup"),
        ({"weights": (("bucket", "3"),)}, "bucket"),
        ({"density": "-1"}, "density"),
        ({"reaches": "perhaps"}, "reaches"),
        ({"allergens": ("gluton",)}, "allergens"),
    ],
)
def test_what_cannot_be_is_refused_by_its_field(said, field):
    """Each fault names the field it is about."""
    assert fault(**said)[0] == field


def test_allergens_are_the_words_of_the_list():
    """A grain brings gluten and a nut is a tree nut; what the law does not name is kept as told."""
    assert told(allergens=("Rye",)).allergens == ("rye", "gluten")
    assert told(allergens=("walnuts", "soya")).allergens == ("tree nuts", "walnut", "soy")
    assert told(allergens=("kiwi", "none")).allergens == ("kiwi",)
    assert fault(allergens=("gluton",))[1] == "gluton is not known as an allergen. Did you mean gluten?"


def test_what_is_written_reads_back_the_same():
    """All that is told survives the page; what is not told is not on it."""
    one = told_ingredient(
        "brine cheese",
        ToldIngredient(
            kind="cheese",
            shares=(("water", "55"), ("fat", "21"), ("sugars", "4"), ("milk sugar", "4"), ("salt", "2.3")),
            weights=(("cup", "150"),),
            density="1.1",
            reaches="no",
            allergens=("milk",),
            also=("white cheese",),
            source="the label: 2026",
            note="from the market",
        ),
    )
    text = with_ingredient(None, one)
    assert read_ingredients(read(text, path="ingredients.yaml")) == (one,)
    assert "protein" not in text
    assert "flour" not in text


def test_one_more_is_spliced_in_and_the_page_stays_as_typed():
    """Remarks, order and spacing of a hand-typed list stay."""
    typed = "# ours\nformat: ingredients/1\ningredients:\n  nigella:   # black\n    kind:   spice\n"
    one = told(shares={"water": "6"})
    assert with_ingredient(read(typed, path="x"), one) == f"{typed}  rye malt:\n    kind: malt\n    water: 6\n"
    assert "rye malt:" in with_ingredient(read("format: ingredients/1\n", path="x"), one)


def asked(*typed):
    """The fields that are asked for when these answers are given in turn."""
    answers, fields = (), []
    for one in typed:
        question = following(answers)
        fields.append(question.field)
        answers = (*answers, (question.field, one))
    return fields, following(answers), answers


def test_each_kind_is_asked_for_what_it_needs():
    """A seed may keep its water, a culture is fed, a yeast has its strength, a salt needs nothing but its source."""
    whole = ["kind", "flour", "water", "fat", "sugars", "salt", "reaches", "allergens", "source"]
    assert asked("seed", *[""] * 8)[:2] == (whole, None)
    assert asked("flour", *[""] * 7)[:2] == ([field for field in whole if field != "reaches"], None)
    assert asked("culture", "", "")[:2] == (["kind", "made of", "source"], None)
    assert asked("yeast", "", "", "")[:2] == (["kind", "instant", "water", "source"], None)
    assert asked("salt", "")[:2] == (["kind", "source"], None)
    assert asked("")[1] is None


def test_answers_make_what_options_make():
    """Asked or told in options, it is the same ingredient."""
    answers = asked("malt", "", "6", "", "60", "", "rye, none", "the bag")[2]
    by_option = told(shares={"water": "6", "sugars": "60"}, allergens=("rye",), source="the bag")
    assert told_ingredient("rye malt", told_of(answers)) == by_option
    assert by_option.kind is Kind.MALT


def test_an_answer_that_cannot_be_is_told_at_once():
    """Also where it is too much only beside the ones before it."""
    answers = (("kind", "malt"), ("water", "60"))
    assert problem_of((*answers, ("fat", "50"))) == "It would hold 110 g in 100 g: water 60 g and fat 50 g."
    assert problem_of((*answers, ("fat", "much"))) == "much is not a number of g."
    assert problem_of((("kind", "stone"),)).startswith("stone is not a kind of ingredient.")
    assert problem_of((*answers, ("fat", ""))) == ""
    assert problem_of((("kind", "yeast"),)) == ""
