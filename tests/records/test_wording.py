"""What does not come out in a formula, in the baker's words: what is wrong, where, and what to do."""

from __future__ import annotations

import pytest

from builders import told

POOLISH = """\
preferments:
  poolish:
    takes: 20% of the flour
    wheat flour: 100%
    water: 100%
"""
STAGES = """\
stages:
  rye-sour:
    rye flour: 100 g
    water: 100 g
  dough:
    wheat flour: 900 g
    {}
"""


def ingredients(*lines):
    return "ingredients:\n" + "".join(f"  {line}\n" for line in lines)


WORDS = [
    (
        ingredients("wheat flour: 100%", "water: 340 g"),
        "water: 340 g",
        "Percent and weights do not mix: wheat flour is in percent, water is not.",
        "Write all of them in percent, or all of them in weights.",
    ),
    (
        ingredients("water: 65%"),
        "ingredients:",
        "There is no flour in the formula.",
        "All percentages are of the flour, so there must be some, such as strong wheat flour: 100%",
    ),
    (
        ingredients("wheat flour: as needed"),
        "ingredients:",
        "In the formula no ingredient has an amount.",
        "Write its ingredients, one to a line, each with its amount, as in water: 65%",
    ),
    (
        ingredients("wheat flour: 500 g", "banana: 1 pc"),
        "banana: 1 pc",
        "What one piece of banana weighs is not known.",
        "Weigh it and write it in g, or give it a line piece:, in g, in ingredients.yaml.",
    ),
    (
        ingredients("wheat flour: 500 g", "date syrup: 50 ml"),
        "date syrup: 50 ml",
        "What one ml of date syrup weighs is not known.",
        "Weigh it and write it in g, or give it a line density:, in g to the ml, in ingredients.yaml.",
    ),
    (
        ingredients("wheat flour: 100%", "biga: all"),
        "biga: all",
        "biga: all means the whole of another part, and no part is called biga.",
        "Write how much goes in, as in biga: 2%",
    ),
    (
        ingredients("wheat flour: 100%", "water: 70%", "poolish: 40%") + POOLISH,
        "poolish: 40%",
        "poolish is a part of this formula, so it is no line among the ingredients.",
        "They are the whole formula: count what is in the poolish there, and take this line out.",
    ),
    (
        ingredients("wheat flour: 100%", "water: 15%") + POOLISH,
        "water: 100%",
        "The final dough would have less than no water: the poolish takes 20.0 %, and the whole formula has 15.0 %."
        " So 5.0 % is missing, which is 50 g of water to 1000 g of flour.",
        "The whole formula counts what the poolish takes: give it more water, or give the poolish less.",
    ),
    (
        ingredients("wheat flour: 100%") + POOLISH,
        "water: 100%",
        "The final dough would have less than no water: the poolish takes 20.0 %, and the whole formula has none."
        " So 20.0 % is missing, which is 200 g of water to 1000 g of flour.",
        "The whole formula counts what the poolish takes: write water: 20% among its ingredients, or give the poolish"
        " less.",
    ),
    (
        ingredients("wheat flour: 95%", "rye flour: 10%", "water: 65%"),
        "wheat flour: 95%",
        "The flours come to 105.0 %, and together they must be 100 %.",
        "5.0 % is too much. Take it off a flour line.",
    ),
    (
        ingredients("wheat flour: 500%", "water: 65%"),
        "wheat flour: 500%",
        "The flours come to 500.0 %, and together they must be 100 %.",
        "If wheat flour is all the flour, write it as wheat flour: 100%",
    ),
    (
        ingredients("wheat flour: 85%", "rye flour: 10%", "water: 65%"),
        "wheat flour: 85%",
        "The flours come to 95.0 %, and together they must be 100 %.",
        "5.0 % is missing. Add the flour that was left out, or give a flour line more.",
    ),
    (
        STAGES.format("rye sour: 200 g"),
        "rye sour: 200 g",
        "rye sour is mixed as a part of its own above, and would be counted twice.",
        "It goes in whole: write rye sour: all",
    ),
    (
        STAGES.format("salt: 2%"),
        "salt: 2%",
        "Percent and weights do not mix: salt is in percent, rye flour is not.",
        "Write all of them in percent, or all of them in weights.",
    ),
    (
        STAGES.format("dough: all"),
        "dough: all",
        "dough: all cannot be had here; it stands further down, or has gone into another part already.",
        "A part goes whole into one other, and that stands below it.",
    ),
    (
        STAGES.format("water: 500 g\nkept_for_next_time:\n  rye sour: 250 g"),
        "rye sour: 250 g",
        "No rye sour would reach the dough: as much as is made, or more, is kept for next time.",
        "Keep less, or make more.",
    ),
    (
        STAGES.format("water: 500 g\nkept_for_next_time:\n  sponge: 20 g"),
        "sponge: 20 g",
        "sponge is kept for next time, and no bowl before the dough is called that.",
        "Bowls before the dough: rye-sour.",
    ),
    (
        "title: Empty\n",
        "title: Empty",
        "This page has no ingredients.",
        "Write ingredients: and under it one line for each, such as water: 65%",
    ),
    (
        "ingredients:\n  wheat flour: 100%\nstages:\n  dough:\n    wheat flour: 100%\n",
        "stages:",
        "This page has both ingredients: and stages:.",
        "Keep one of the two, ingredients for the whole formula or stages for bowl by bowl.",
    ),
]


@pytest.mark.parametrize(("page", "text", "message", "fix"), WORDS)
def test_each_fault_has_its_sentence_and_what_to_do(page, text, message, fix):
    """One sentence, the line of the page, one thing to do."""
    finding = told(page)

    assert (finding.message, finding.fix) == (message, fix)
    assert finding.text == text


def test_a_preferment_in_weights_beside_percent_is_told_what_to_write():
    """What it takes, and its lines in shares of its own flour."""
    page = ingredients("wheat flour: 100%", "water: 70%") + "preferments:\n  poolish:\n    wheat flour: 200 g\n"
    finding = told(page)

    assert finding.message == "The poolish is in weights, and the ingredients are in percent."
    assert "20% of the flour" in finding.fix


def test_two_truths_of_what_a_preferment_takes():
    """Both figures are told."""
    page = ingredients("wheat flour: 1000 g", "water: 700 g")
    page += "preferments:\n  poolish:\n    takes: 30%\n    wheat flour: 200 g\n    water: 200 g\n"

    assert told(page).message == "The poolish says that it takes 30.0 % of the flour, but the flour in it is 20.0 %."


def test_two_cultures_are_named_together():
    """Neither is singled out."""
    finding = told(ingredients("wheat flour: 100%", "water: 70%", "levain: 10%", "rye sour: 10%"))

    assert finding.fix.splitlines()[0] == "The levain and rye sour are part flour. What was meant?"
