"""Round weights, both scales, spoons and allergens for readers at home."""

from __future__ import annotations

from decimal import Decimal

import pytest

from ovenleaf.book.steps.opening import built_in
from ovenleaf.domain.allergens import allergens
from ovenleaf.domain.home_kitchen import home_weight
from ovenleaf.domain.home_measures import home_measure
from ovenleaf.domain.ingredients import Kind, Pantry
from ovenleaf.domain.reader_words import for_readers

PANTRY = Pantry(built_in())


@pytest.mark.parametrize(
    ("grams", "kind", "told"),
    [
        ("288", Kind.WATER, "290"),
        ("482.4", Kind.FLOUR, "480"),
        ("99.6", Kind.FLOUR, "100"),
        ("48.3", Kind.FLOUR, "48"),
        ("11.7", Kind.SALT, "11.5"),
        ("3.72", Kind.YEAST, "3.7"),
        ("0.24", Kind.YEAST, "0.25"),
        ("7.3", Kind.SPICE, "7.5"),
        ("0.004", Kind.YEAST, "0.0040"),
        ("0", Kind.OTHER, "0"),
    ],
)
def test_weights_for_home_kitchens_are_round(grams, kind, told):
    """Flour and water to 5 g, to 1 g when light, salt to half a gram, yeast to a tenth; something is never nothing."""
    assert home_weight(Decimal(grams), kind) == Decimal(told)


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("60 to 75 min at 26 C, until doubled", "60 to 75 minutes at 26 °C (79 °F), until doubled"),
        ("18 min at 240 C falling to 220 C", "18 minutes at 240 °C (475 °F) falling to 220 °C (425 °F)"),
        ("24 to 26 C", "24 to 26 °C (75 to 79 °F)"),
        ("bake at 425F, core 207 F", "bake at 425 °F (220 °C), core 207 °F (97 °C)"),
        ("1 h 30 min", "1 hour 30 minutes"),
        ("stir 4 times, 85 g each, round", "stir 4 times, 85 g each, round"),
        ("25,5C", "25.5 °C (78 °F)"),
    ],
)
def test_a_line_is_told_in_both_scales_and_whole_words(line, told):
    """A dial's steps for an oven, a degree for a dough; what is no time and no heat stays letter for letter."""
    assert for_readers(line) == told


def test_allergens_by_both_laws():
    """FALCPA 2004 with the FASTER Act 2021, and Regulation (EU) 1169/2011 Annex II, of one mixed list."""
    items = ("strong wheat flour", "rye flour", "whole milk", "egg", "unsalted butter", "sesame seed")
    found = allergens(word for item in items for word in PANTRY.get(item).allergens)
    assert set(found.us) == {"wheat", "milk", "egg", "sesame"}
    assert set(found.eu) == {"cereals containing gluten (wheat, rye)", "milk", "eggs", "sesame"}


@pytest.mark.parametrize(("item", "us", "eu"), [("rye flour", (), "rye"), ("barley malt flour", (), "barley")])
def test_rye_and_barley_are_named_in_the_eu_alone(item, us, eu):
    """US law has wheat alone of the cereals; the EU has all that hold gluten."""
    found = allergens(PANTRY.get(item).allergens)
    assert (found.us, found.eu) == (us, (f"cereals containing gluten ({eu})",))


def test_every_word_of_the_ingredient_list_is_known_to_one_law():
    """No allergen of the built-in list falls through."""
    words = {word for name in PANTRY.names for word in PANTRY.get(name).allergens}
    assert words
    assert allergens(sorted(words)).others == ()


def test_nuts_are_named_one_by_one():
    """Spelt is wheat to US law and a cereal of its own name in the EU; nuts stand in brackets."""
    found = allergens(["spelt", "gluten", "tree nuts", "walnut", "almond"])
    assert found.us == ("wheat", "tree nuts (almond, walnut)")
    assert found.eu == ("cereals containing gluten (spelt)", "nuts (almond, walnut)")


@pytest.mark.parametrize(
    ("item", "grams", "told"),
    [
        # USDA Home Economics Research Report 41: 123 g of bread flour spooned into a cup, 126 g of all-purpose.
        ("strong wheat flour", "123", "1 cup, spooned"),
        ("plain wheat flour", "252", "2 cups, spooned"),
        ("honey", "339", "1 cup"),  # USDA SR28 19296
        ("egg", "50", "1 egg"),  # USDA SR28 01123, large
        ("fine sea salt", "10", ""),
        ("olives", "120", ""),
    ],
)
def test_cups_and_spoons_are_from_the_same_grams(item, grams, told):
    """By the household weights of the list; nothing is told where no source weighed a spoon."""
    assert home_measure(Decimal(grams), PANTRY.get(item), item) == told


def test_salt_of_no_named_kind_is_told_as_table_salt():
    """A spoon of flakes weighs half as much, so the kind is said with the spoon."""
    assert home_measure(Decimal(12), PANTRY.get("salt"), "salt").endswith("of table salt")
