"""A household recipe taken in: the card kept word for word, every weight shown, nothing guessed silently."""

from __future__ import annotations

import pytest

PETRA = """Olive flatbread
from Petra, who had it from her aunt

3 cups bread flour
1 1/4 cups lukewarm water
1 packet dry yeast
1 1/2 tsp salt
3 tbsp olive oil, plus more for the tin
1 cup green olives, stoned and halved

Knead 8 minutes. Let rise until doubled. Press into an oiled tin and dot
with the olives. Bake at 425 F for about 25 minutes.
"""


@pytest.fixture
def book(oven, tmp_path):
    """A book with one baker and no formula."""
    assert oven("start stall --baker noor", cwd=tmp_path).code == 0
    return tmp_path / "stall"


def test_a_card_in_cups_becomes_a_formula(book, oven, golden):
    """Adopted with its questions, refused by save while they are open, settled, kept: 71.8 % water, 218.2 % dough."""
    (book.parent / "petra.txt").write_text(PETRA, encoding="utf-8", newline="\n")
    adopted = oven("adopt ../petra.txt --name olive-flatbread", cwd=book)
    assert adopted.code == 0, adopted.err
    golden("adopting/adopted", adopted.out)
    kept = (book / "formulas/olive-flatbread/card.yaml").read_text(encoding="utf-8")
    assert all(line in kept for line in PETRA.splitlines())
    refused = oven("save olive-flatbread --why x", cwd=book)
    assert refused.code == 4
    golden("adopting/still-open", refused.err)
    settled = oven("settle", "olive-flatbread", "dry yeast=active dry", "salt=table", cwd=book)
    assert settled.code == 0, settled.err
    golden("adopting/settled", settled.out)
    assert oven("save olive-flatbread --why card", cwd=book).code == 0
    shown = oven("show olive-flatbread", cwd=book).out
    assert "71.8 %" in shown
    assert "218.19 %" in shown
    assert oven("check", cwd=book).code == 0


def test_metric_and_us_in_one_line(book, oven):
    """The oven without a scale and the kind of salt are asked; the weights are exact."""
    adopted = oven("adopt - --name vic", cwd=book, typed="1 lb flour, 340 g water, 2 tsp salt, oven 475\n")
    assert adopted.code == 0, adopted.err
    assert "453.6 g" in adopted.out
    assert "bake=F" in adopted.out
    assert oven("settle", "vic", "bake=F", "salt=table", cwd=book).code == 0
    assert "475 F" in (book / "formulas/vic.yaml").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("", "is empty"),
        ("butter 50 g\nsugar 20 g\n", "no flour"),
        ("Flour -3 cups\n", "less than nothing"),
        ("5000 kg flour\n", "more than a tonne"),
        ("<html><body>hello</body></html>", "no recipe data"),
        ("[]", "there is no recipe in it"),
        ("500 g fl\u043eur\n300 g water\n", "two alphabets"),
        ("[" * 5000 + "]" * 5000, "cannot be read"),
    ],
)
def test_what_is_no_recipe_is_refused(typed, said, book, oven):
    """Clear words, and nothing written."""
    before = sorted(book.rglob("*.yaml"))
    ran = oven("adopt - --name loaf", cwd=book, typed=typed)
    assert ran.code == 3
    assert said in " ".join(ran.err.split())
    assert sorted(book.rglob("*.yaml")) == before
