"""How much dough one bake was, in the baker's words."""

from __future__ import annotations

from decimal import Decimal

import pytest

from builders import worked
from ovenleaf.domain.batch import dough_in_batch, flour_in_batch

ROLL = worked("ingredients:\n  wheat flour: 100%\n  water: 65%\n  salt: 2%\n  unsalted butter: 3%\n")  # 170 % in all


@pytest.mark.parametrize(
    ("said", "flour"),
    [
        ("600 g flour", "600"),
        ("600 g of flour", "600"),
        ("600g flour", "600"),
        ("0,6 kg of flour", "600"),
        ("1 kg of all the flour", "1000"),
        ("1020 g dough", "600"),
        ("1.02 kg of dough", "600"),
        ("12 rolls of 85 g", "600"),
        ("12 x 85 g", "600"),
        ("12x85g", "600"),
        ("12 rolls of 85 g dough", "600"),
        ("1 loaf of 1.7 kg", "1000"),
        ("2 lb flour", "907.18474"),
        ("16 ounces flour", "453.59237"),
    ],
)
def test_flour_in_a_batch(said, flour):
    """flour = dough / (total % / 100) (W. Gisslen, Professional Baking)."""
    assert flour_in_batch(said, ROLL) == Decimal(flour)


@pytest.mark.parametrize("said", ["", "12 rolls", "600", "600 g", "a big one", "12 rolls of dough", "600 ml flour"])
def test_a_batch_that_is_not_said_is_not_guessed(said):
    """None, and never the batch of the page."""
    assert flour_in_batch(said, ROLL) is None
    assert dough_in_batch(said, ROLL) is None


@pytest.mark.parametrize("said", ["600 g flour", "12 rolls of 85 g", "1020 g dough"])
def test_dough_in_a_batch(said):
    """The other way round."""
    assert dough_in_batch(said, ROLL) == 1020
