"""One bake in figures: what was weighed goes before the plan, and what was not measured has no figure."""

from __future__ import annotations

from decimal import Decimal

import pytest

from builders import pantry, trial, worked
from ovenleaf.compare.figures import Source, figures, named
from ovenleaf.domain.numbers import rounded

ROLL = """
    ingredients:
      strong wheat flour: 100%
      water: 65%
      salt: 2%
      unsalted butter: 3%
      instant yeast: 0.6%
    preferments:
      poolish:
        takes: 20% of the flour
        strong wheat flour: 100%
        water: 100%
    process:
      - bulk: 60 min at 26 C
    """


def found(page):
    return figures(trial(page), worked(ROLL), pantry())


def test_what_was_weighed_is_the_figure():
    """396 g on 600 g of flour are 66 %, in the water and in the totals that hold it."""
    made = found("batch: 600 g flour\nweighed:\n  water: 396 g\nas_planned: all the rest\n")

    assert (made["water"].value, made["water"].source) == (66, Source.RECORDED)
    assert (made["water as poured"].value, made["water as poured"].source) == (66, Source.RECORDED)
    assert rounded(made["all water"].value, 2) == Decimal("66.57")  # with that in butter and yeast
    assert (made["salt"].value, made["salt"].source) == (2, Source.CONFIRMED)


def test_what_was_not_weighed_is_the_plan_and_says_so():
    """Unconfirmed, and without a batch grams say nothing in percent."""
    assert found("bake_date: 2026-11-12\n")["water as poured"].source is Source.PLANNED
    made = found("weighed:\n  water: 396 g\n")["water"]
    assert (made.value, made.source) == (65, Source.PLANNED)


def test_what_was_weighed_into_one_bowl_counts_with_the_rest():
    """15 g more in the poolish than its 120 g are 2.5 points more in the whole."""
    made = found("batch: 600 g flour\nweighed:\n  poolish:\n    water: 135 g\n")

    assert made["water"].value == Decimal("67.5")


def test_more_flour_makes_all_shares_smaller():
    """660 g of flour instead of 600 g: 390 g of water are 59.1 % of it."""
    made = found("batch: 600 g flour\nweighed:\n  strong wheat flour: 660 g\n")

    assert rounded(made["water"].value, 1) == Decimal("59.1")
    assert made["strong wheat flour"].value == 100


@pytest.mark.parametrize(
    ("line", "name", "value", "unit"),
    [
        ("steps:\n  - bulk: 1 h 10 min at 77 F\n", "bulk", 70, "min"),
        ("steps:\n  - bulk: 70 min at 77 F\n", "bulk, temperature", 25, "°C"),
        ("measured:\n  dough temperature: 25.5 C\n", "dough temperature", Decimal("25.5"), "°C"),
        ("kitchen:\n  room: 21 C\n", "room", 21, "°C"),
        ("measured:\n  dough weight: 1000 g\n  baked weight: 870 g\n", "bake loss", 13, "%"),
    ],
)
def test_what_was_measured_has_a_figure_in_one_unit(line, name, value, unit):
    """Minutes, degrees Celsius, percent."""
    made = found(line)[name]

    assert (made.value, made.unit, made.source) == (value, unit, Source.RECORDED)


def test_a_plan_for_a_step_is_no_measurement():
    """The formula plans a bulk; this bake recorded none."""
    assert "bulk" not in found("bake_date: 2026-11-12\n")


@pytest.mark.parametrize(
    "line", ["bulk: 60 to 75 min", "bake: 20 min at 240 C falling to 220 C", "bulk: until doubled"]
)
def test_what_is_not_one_figure_has_none(line):
    """A range, an oven that falls, words."""
    step = line.partition(":")[0]
    made = found(f"steps:\n  - {line}\n")

    assert not {"bulk", "oven"} & set(made) or (step == "bake" and "oven" not in made)


@pytest.mark.parametrize(
    ("typed", "names"),
    [
        ("hydration", ("water as poured",)),
        ("Water", ("water",)),
        ("dough temp", ("dough temperature",)),
        ("wheat", ("strong wheat flour", "wheat malt")),
        ("nonsense", ()),
    ],
)
def test_a_figure_is_named_as_a_baker_would(typed, names):
    """Its name, one of its words, or hydration."""
    known = ("water as poured", "all water", "water", "dough temperature", "strong wheat flour", "wheat malt")

    assert named(typed, known) == names
    assert named("hydration", ("all water",)) == ("all water",)
