"""A formula typed line by line."""

from __future__ import annotations

from decimal import Decimal

import pytest

from ovenleaf.domain.quantity import Amount, Unit
from ovenleaf.domain.typing_in import ingredient_line


@pytest.mark.parametrize(
    ("typed", "item", "value", "unit", "note"),
    [
        ("strong wheat flour 500 g", "strong wheat flour", "500", Unit.G, ""),
        ("500g Strong  Wheat flour", "strong wheat flour", "500", Unit.G, ""),
        ("water 68%", "water", "68", Unit.SHARE, ""),
        ("water: 67,5 %", "water", "67.5", Unit.SHARE, ""),
        ("water=340g", "water", "340", Unit.G, ""),
        ("butter 3%, soft", "butter", "3", Unit.SHARE, "soft"),
        ("1 1/2 tsp salt, fine", "salt", "1.5", Unit.TSP, "fine"),
        ("egg 2 pc", "egg", "2", Unit.PIECE, ""),
        ("0.5 kg rye flour", "rye flour", "0.5", Unit.KG, ""),
    ],
)
def test_a_line_is_read_in_either_order(typed, item, value, unit, note):
    """Item and amount, or amount and item; a note stands behind a comma."""
    line = ingredient_line(typed)
    assert (line.problem, line.item, line.amount, line.note) == ("", item, Amount(Decimal(value), unit), note)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("water", "Give an ingredient and its amount"),
        ("500 g", "Give an ingredient and its amount"),
        ("", "Give an ingredient and its amount"),
        ("water some", "Give an ingredient and its amount"),
        ("water 340", "It wants a unit, as in 340 g or 68%."),
        ("water 340 stone", "The amount cannot be read."),
        ("water 0 g", "Nothing of it is no ingredient"),
    ],
)
def test_a_line_that_means_nothing_says_why(typed, said):
    """What is missing is named, and how it would be said."""
    line = ingredient_line(typed)
    assert said in line.problem
    assert line.amount is None


def test_a_line_goes_on_a_page_as_it_was_meant():
    """The amount with its unit, and the note behind a comma."""
    assert ingredient_line("butter 3%, soft").text == "3%, soft"
    assert ingredient_line("340g water").text == "340 g"
