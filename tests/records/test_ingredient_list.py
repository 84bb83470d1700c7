"""The built-in list is looked up by its names, and each ingredient is read when it is asked for."""

from __future__ import annotations

from ovenleaf.records.assets import ingredients_text
from ovenleaf.records.codec.ingredients import list_ingredients, read_ingredients
from ovenleaf.records.yaml_text import read


def test_the_list_by_its_names_is_the_list():
    """All of it, in its order, with all names; and what is read one by one is what is read as a whole."""
    text = ingredients_text()
    whole = read_ingredients(read(text, path="the built-in list"))
    listed = list_ingredients(text)
    assert [(one.name, one.also) for one in listed] == [(one.name, one.also) for one in whole]
    assert tuple(one.read() for one in listed) == whole
