"""What is known of an ingredient, on a screen: each figure with its unit and its source, what is not known as such."""

from __future__ import annotations

import pytest

from builders import pantry
from ovenleaf.present.ingredient import ingredient_screen
from refusals_support import reads_well

SHOWN = {
    "strong-wheat-flour": "bread flour",
    "tipo-00-flour": "tipo 00",
    "T65-flour": "T65",
    "T80-flour": "T80",
    "european-butter": "82% butter",
    "salted-butter": "salted butter",
    "whole-milk": "milk",
    "egg": "eggs",
    "salt": "salt",
    "kosher-salt": "kosher salt",
    "active-dry-yeast": "active dry yeast",
    "liquid-levain": "liquid levain",
    "olives": "black olives",
    "walnuts": "walnut",
    "quark": "quark",
}


@pytest.mark.parametrize("name", SHOWN)
def test_a_screen_of_an_ingredient(name, golden):
    """Golden, within 80 columns."""
    text = ingredient_screen(pantry().get(SHOWN[name]))
    reads_well(text)
    assert all(len(line) <= 80 for line in text.splitlines())
    golden(f"ingredient/{name}", text)


def test_not_known_is_told_and_nothing_is_nothing():
    """A figure that no source has is not shown as 0 g, nor the other way round."""
    quark = ingredient_screen(pantry().get("quark"))
    oil = ingredient_screen(pantry().get("olive oil"))
    assert quark.count("not known") == 4
    assert " 0 g" not in quark
    assert "not known" not in oil
    assert "water             0 g" in oil


def test_every_item_of_the_list_can_be_shown():
    """No line too long, and each says where it is from."""
    known = pantry()
    for name in known.names:
        text = ingredient_screen(known.get(name))
        assert all(len(line) <= 80 for line in text.splitlines()), name
        assert "Where it is from" in text, name
