"""An ingredient asked for at a real terminal, question by question."""

from __future__ import annotations

import pytest

from asking.test_questions import Terminal

pytestmark = pytest.mark.counted


@pytest.fixture
def book(oven, tmp_path):
    """An empty book with one baker."""
    assert oven("start stall --baker noor", cwd=tmp_path).code == 0
    return tmp_path / "stall"


def test_an_ingredient_is_asked_for(book):
    """A slip is told at once, back asks again, Enter leaves a thing not known."""
    asked = Terminal("ingredient", "rye", "malt", cwd=book)
    asked.wait_for("Rye malt, for this book's own list.")
    asked.answer("or other: ", "stone")
    asked.wait_for("stone is not a kind of ingredient.")
    asked.answer("or other: ", "malt")
    asked.answer("none if left open: ", "")
    asked.answer("Water in 100 g, in g: ", "60")
    asked.answer("Fat in 100 g, in g: ", "50")
    asked.wait_for("It would hold 110 g in 100 g")
    asked.answer("Fat in 100 g, in g: ", "back")
    asked.answer("Water in 100 g, in g: ", "6")
    asked.answer("Fat in 100 g, in g: ", "")
    asked.answer("Sugars in 100 g, in g: ", "60,5")
    asked.answer("Salt in 100 g, in g: ", "0")
    asked.answer("or none: ", "rye")
    asked.answer("such as the label: ", "the bag")
    assert asked.finish() == 0
    assert "Added to this book's own ingredients: rye malt." in asked.seen
    page = (book / "ingredients.yaml").read_text()
    assert "water: 6\n    sugars: 60.5\n    salt: 0\n" in page
    assert "fat" not in page


def test_stop_keeps_what_was_told(book):
    """The rest is not known."""
    asked = Terminal("ingredient", "nigella", cwd=book)
    asked.answer("or other: ", "spice")
    asked.answer("none if left open: ", "")
    asked.answer("Water in 100 g, in g: ", "5")
    asked.answer("Fat in 100 g, in g: ", "stop")
    assert asked.finish() == 0
    assert (book / "ingredients.yaml").read_text().endswith("  nigella:\n    kind: spice\n    water: 5\n")


def test_three_meaningless_kinds_add_nothing(book):
    """Without a kind there is nothing to add."""
    asked = Terminal("ingredient", "odd", cwd=book)
    for _ in range(3):
        asked.answer("or other: ", "stone")
    assert asked.finish() == 3
    assert "Not added" in asked.seen
    assert not (book / "ingredients.yaml").exists()


def test_a_name_that_is_taken_is_told_before_anything_is_asked(book, oven):
    """No question is asked in vain."""
    assert oven("ingredient odd --kind seed", cwd=book).code == 0
    asked = Terminal("ingredient", "odd", cwd=book)
    assert asked.finish() == 3
    assert "own list already" in asked.seen
    assert "or other:" not in asked.seen


def test_a_terminal_that_closes_keeps_what_was_told(book):
    """As if stop had been said."""
    asked = Terminal("ingredient", "nigella", cwd=book)
    asked.answer("or other: ", "spice")
    asked.wait_for("none if left open: ")
    asked.hang_up()
    assert "kind: spice" in (book / "ingredients.yaml").read_text()
