"""The ingredient list: names, what a culture is made of, what must be known."""

from __future__ import annotations

from decimal import Decimal

import pytest

from builders import pantry
from ovenleaf.domain.ingredients import Ingredient, Kind, Pantry, must_be_known
from ovenleaf.errors import PageRefused


def test_names_are_found_in_any_case_and_by_their_other_names():
    """Case, hyphens and doubled spaces tell nothing apart."""
    known = pantry()

    assert known.get("Strong  Wheat-Flour") == known.get("strong wheat flour")
    assert known.get("bread flour").name == "strong wheat flour"
    assert known.get("butter").name == "unsalted butter"


def test_a_name_no_list_holds_is_neither_flour_nor_water():
    """It counts for its weight alone."""
    nigella = pantry().get("nigella")

    assert not nigella.known
    assert (nigella.flour, nigella.water_told, nigella.kind) == (0, 0, Kind.OTHER)
    assert (nigella.water, nigella.fat, nigella.sugars, nigella.salt) == (None, None, None, None)


def test_a_books_own_list_goes_before_the_built_in():
    """The whole entry is replaced, and its other names stay findable."""
    known = pantry("unsalted butter:\n  kind: fat\n  water: 16\n  fat: 82\n")

    assert (known.get("unsalted butter").water, known.get("unsalted butter").fat) == (16, 82)
    assert known.get("unsalted butter").protein is None
    assert known.get("whole milk") == pantry().get("whole milk")


def test_a_name_of_its_own_goes_before_another_name_for_something_else():
    """A book that lists `bread flour` itself means its own."""
    known = pantry("bread flour:\n  kind: flour\n  flour: 100\n  protein: 14\n")

    assert known.get("bread flour").protein == 14
    assert known.get("strong wheat flour").protein == Decimal("11.98")


def test_a_culture_knows_its_flour_and_water():
    """A levain 1:1 is half flour, a stiff one 62.5 %; flour's own moisture is not counted as water."""
    known = pantry()

    assert (known.get("levain").flour, known.get("levain").water) == (50, 50)
    assert (known.get("stiff levain").flour, known.get("stiff levain").water) == (Decimal("62.5"), Decimal("37.5"))


def test_cultures_made_of_each_other_do_not_hang():
    """A list that goes in a circle is read all the same."""
    round_and_round = Pantry(
        (
            Ingredient(name="one", kind=Kind.CULTURE, made_of=(("other", Decimal(100)),)),
            Ingredient(name="other", kind=Kind.CULTURE, made_of=(("one", Decimal(100)),)),
        )
    )

    assert round_and_round.get("one").flour == 0


@pytest.mark.parametrize(
    ("typed", "meant"),
    [("instnat yeast", "instant yeast"), ("whole wheat flower", "whole wheat flour"), ("watr", "water")],
)
def test_a_slip_of_the_fingers_has_a_nearest_name(typed, meant):
    """It is asked about, and never taken silently."""
    assert pantry().nearest(typed) == meant


@pytest.mark.parametrize("typed", ["water", "Bread Flour", "nigella", "walnuts from the tree"])
def test_a_known_name_and_a_new_one_have_no_nearest(typed):
    """What is right needs no question, and what is far off is new."""
    assert pantry().nearest(typed) is None


@pytest.mark.parametrize(
    "name",
    ["einkorn flour", "Oat Meal", "goat's milk", "egg wash", "sesame oil", "old starter", "sea salt", "nut butter"],
)
def test_what_brings_flour_yeast_milk_egg_salt_or_fat_must_be_known(name):
    """By its name."""
    assert must_be_known(name)


@pytest.mark.parametrize("name", ["nigella", "walnuts", "eggplant", "buttercup petals", "malted barley"])
def test_anything_else_may_be_new(name):
    """A word inside another word tells nothing."""
    assert not must_be_known(name)


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("water: 120", "water of odd is 120"),
        ("fat: -1", "fat of odd is -1"),
        ("density: 0", "density of odd is 0"),
        ("piece: -50", "piece of odd is -50"),
        ("instant: -1", "instant of odd is -1"),
        ("kind: stone", "kind: stone is not one of"),
    ],
)
def test_a_figure_that_cannot_be_is_told(line, says):
    """100 g of anything hold 0 to 100 g of water, and a piece weighs something."""
    with pytest.raises(PageRefused) as caught:
        pantry(f"odd:\n  {line}\n")
    (finding,) = caught.value.findings
    assert says in finding.message
    assert finding.line == 3


def test_a_decimal_comma_is_read_in_a_list_too():
    """As everywhere in a book."""
    assert pantry("odd:\n  water: 12,5\n").get("odd").water == Decimal("12.5")


def test_what_is_not_known_is_not_nothing():
    """A figure that is left out is not known, one that is 0 is; the water of a water needs no figure."""
    known = pantry("our water:\n  kind: water\nfresh cheese:\n  kind: milk\n  fat: 0\n")

    assert (known.get("fresh cheese").water, known.get("fresh cheese").fat) == (None, 0)
    assert known.get("fresh cheese").water_told == 0
    assert known.get("our water").water_told == 100
    assert known.get("olive oil").water == 0
    assert known.get("european butter").sugars is None


def test_parts_beyond_a_hundred_are_told():
    """Sugars are within the carbohydrate and salt within the ash; half a gram over is rounding."""
    with pytest.raises(PageRefused) as caught:
        pantry("odd:\n  water: 60\n  fat: 30\n  sugars: 12\n")
    (finding,) = caught.value.findings
    assert finding.message == "odd would hold 102 g in 100 g: water 60 g, fat 30 g and sugars 12 g."
    assert finding.line == 2

    right = "right:\n  water: 60\n  carbohydrate: 39\n  sugars: 39\n  ash: 1.5\n  salt: 1.5\n"
    assert pantry(right).get("right").contents == Decimal("100.5")


def test_an_override_keeps_the_other_names():
    """Who lists unsalted butter anew still finds it as butter."""
    known = pantry("Unsalted Butter:\n  kind: fat\n  water: 16\n  fat: 82\n  also:\n    - stall butter\n")

    assert known.get("butter").water == 16
    assert known.get("stall butter").water == 16
    assert sum(name.lower() == "unsalted butter" for name in known.names) == 1


def test_a_culture_brings_the_allergens_of_what_it_is_fed_with():
    """Rye sour brings rye, a levain wheat (Regulation (EU) 1169/2011 Annex II)."""
    assert set(pantry().get("rye sour").allergens) == {"rye", "gluten"}
    assert set(pantry().get("levain").allergens) == {"wheat", "gluten"}


def test_a_measure_has_a_spread_where_sources_differ():
    """A cup of bread flour is 117 to 137 g (USDA SR28 20083 dipped; HERR 41 spooned 123, sifted 117)."""
    known = pantry()

    assert known.get("bread flour").spread("cup") == (117, 137)
    assert known.get("plain flour").spread("cup") == (116, 126)
    assert known.get("active dry yeast").spread("teaspoon") == (Decimal("2.96"), 4)
    assert known.get("kosher salt").spread("teaspoon") == (Decimal("2.8"), 5)
    assert known.get("honey").spread("cup") is None


@pytest.mark.parametrize("line", ["bucket, full: 3 g, ours", "cup: 3 g, ours", "cup, full: 3, ours", "cup, full: 3 g"])
def test_another_weight_is_measure_way_weight_and_source(line):
    """Each of the four is wanted, and an example is shown."""
    with pytest.raises(PageRefused) as caught:
        pantry(f"odd:\n  weighed_otherwise:\n    {line}\n")
    assert "Write it like cup, sifted: 117 g" in caught.value.findings[0].message
