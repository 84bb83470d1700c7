"""Ingredient lines from old cookery books and from kitchens: right, or asked about; never wrong without a question."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from ovenleaf.domain.ingredients import Pantry, folded
from ovenleaf.domain.recipe_items import meant
from ovenleaf.domain.recipe_lines import hear
from ovenleaf.domain.recipe_taking import take
from ovenleaf.domain.recipe_weights import best_amounts
from ovenleaf.records.assets import ingredients_text
from ovenleaf.records.codec.ingredients import list_ingredients

DATA = Path(__file__).parent.parent / "data"
# At least so many of each file are read right: what was measured when this was written.
LEAST = {"ingredient-lines.txt": 99, "ingredient-lines-unseen.txt": 47, "ingredient-lines-second.txt": 40}


def lines_of(name):
    """Pairs of a line and what it means."""
    for line in (DATA / name).read_text(encoding="utf-8").splitlines():
        if line and not line.startswith(("#", "==")):
            said, _, means = line.rpartition(" => ")
            yield said, means


@pytest.fixture(scope="module")
def pantry():
    """The built-in ingredient list."""
    return Pantry(list_ingredients(ingredients_text()))


def as_read(heard, pantry):
    """A line in the words of the file: `3-3.5 cup strong wheat flour`."""
    name = meant(heard.item, pantry).ingredient.name
    if heard.purpose:
        return f"for {heard.purpose} {name}"
    if not heard.amounts:
        return f"? {name}"
    said = ""
    for one in best_amounts(heard):
        low, high = (f"{value.normalize():f}" for value in (one.low, one.high))
        sign = "" if not said else " + " if one.part > 0 else " - "
        said += f"{sign}{low if low == high else f'{low}-{high}'} {one.name}"
    return f"{said} {name}"


def verdict(line, means, pantry):
    """`right`, `asked` or `wrong`: asked is whatever wants an answer before it has grams."""
    heard = hear(line)
    if any(take(one, line, "", meant(one.item, pantry), pantry, None).asked is not None
           and not take(one, line, "", meant(one.item, pantry), pantry, None).asked.soft for one in heard):  # fmt: skip
        return "asked"
    told = " & ".join(as_read(one, pantry) for one in heard)
    return "right" if folded(told) == folded(means) else f"wrong: {told}"


@pytest.mark.parametrize("name", LEAST)
def test_no_line_is_wrong_without_a_question(name, pantry, capsys):
    """Right, asked, wrong: the counts are printed with -s, and wrong without a question is none."""
    found = {line: verdict(line, means, pantry) for line, means in lines_of(name)}
    counts = Counter(one.partition(":")[0] for one in found.values())
    with capsys.disabled():
        print(
            f"\n{name}: {len(found)} lines, {counts['right']} right, {counts['asked']} asked, {counts['wrong']} wrong"
        )
    assert not {line: one for line, one in found.items() if one.startswith("wrong")}
    assert counts["right"] >= LEAST[name]
