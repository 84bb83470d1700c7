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
    assert (nigella.flour, nigella.water, nigella.kind) == (0, 0, Kind.OTHER)


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
