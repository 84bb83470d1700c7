"""A card adopted at a real terminal: what it does not say is asked there; what is left open, in the draft."""

from __future__ import annotations

import pytest

from asking.test_questions import Terminal

pytestmark = pytest.mark.counted

PETRA = """Olive flatbread
from Petra, who had it from her aunt

3 cups bread flour
1 1/4 cups lukewarm water
1 packet dry yeast
1 1/2 tsp salt
3 tbsp olive oil, plus more for the tin

Knead 8 minutes. Bake at 425 for about 25 minutes.
"""


@pytest.fixture
def book(oven, tmp_path):
    """A book with one baker, and a card beside it."""
    assert oven("start stall --baker noor", cwd=tmp_path).code == 0
    (tmp_path / "petra.txt").write_text(PETRA, encoding="utf-8", newline="\n")
    return tmp_path / "stall"


def test_what_the_card_does_not_say_is_asked(book, oven):
    """Flour, yeast, salt and the oven's scale; a slip is told and asked again; then the draft can be kept."""
    asked = Terminal("adopt", "../petra.txt", "--name", "olive-flatbread", cwd=book)
    asked.answer("Bread flour, 3 cups: scooped or spooned or sifted: ", "spooned")
    asked.wait_for("Taken as bread flour 369 g.")
    asked.answer("Dry yeast, 1 packet: active dry yeast or instant yeast: ", "instant")
    asked.answer("Which of them: ", "kosher")
    asked.wait_for("kosher can be")
    asked.answer("Which of them: ", "table")
    asked.wait_for("Taken as table salt 9 g.")
    asked.answer("Bake, 425: Fahrenheit or Celsius: ", "F")
    assert asked.finish() == 0
    assert all(len(line) <= 80 for line in asked.screen.splitlines())
    assert "Still open" not in asked.screen
    page = (book / "formulas/olive-flatbread.yaml").read_text(encoding="utf-8")
    assert "bread flour: 369 g" in page
    assert "instant yeast: 7.2 g" in page
    assert "425 F" in page
    assert oven("save olive-flatbread --why card", cwd=book).code == 0


def test_what_is_left_open_stays_a_question(book, oven):
    """Enter alone leaves a thing open, stop leaves the rest; the draft holds both with a command for each."""
    asked = Terminal("adopt", "../petra.txt", "--name", "olive-flatbread", cwd=book)
    asked.answer("scooped or spooned or sifted: ", "")
    asked.answer("instant yeast: ", "")
    asked.answer("Which of them: ", "stop")
    assert asked.finish() == 0
    assert "411 g" in asked.screen  # the table's own cup stands where nothing was said
    assert 'ovenleaf settle olive-flatbread "dry yeast=active dry yeast"' in asked.screen
    assert "ovenleaf settle olive-flatbread bake=F" in asked.screen
    assert oven("save olive-flatbread --why card", cwd=book).code == 4


def test_a_terminal_that_closes_loses_nothing(book):
    """What was answered is kept, the rest is open."""
    asked = Terminal("adopt", "../petra.txt", "--name", "olive-flatbread", cwd=book)
    asked.answer("scooped or spooned or sifted: ", "spooned")
    asked.wait_for("Dry yeast, 1 packet")
    asked.hang_up()
    page = (book / "formulas/olive-flatbread.yaml").read_text(encoding="utf-8")
    assert "bread flour: 369 g" in page
    assert "open:" in page
