"""Totals: what counts as water, fat, sugar, salt and yeast, and what does not."""

from __future__ import annotations

from decimal import Decimal

import pytest

from builders import sheet
from ovenleaf.domain.numbers import portion, rounded

EU_BUTTER = "butter 82:\n  kind: fat\n  water: 16\n  fat: 82\n  salt: 0\n"


def test_enriched_rolls():
    """Effective hydration 54.38 %, fat 10.69 % (from USDA SR28 rows; our own arithmetic)."""
    made = sheet(
        """
        ingredients:
          strong wheat flour: 1000 g
          whole milk: 500 g
          egg: 100 g
          unsalted butter: 100 g
          honey: 50 g
          sugar: 50 g
          salt: 18 g
          active dry yeast: 10 g
        """
    ).totals
    water = {item: rounded(portion(pct, Decimal(1000)), 2) for item, pct in made.all_water_from}

    assert water == {
        "whole milk": Decimal("440.65"),
        "egg": Decimal("76.15"),
        "unsalted butter": Decimal("17.94"),
        "honey": Decimal("8.55"),
        "active dry yeast": Decimal("0.51"),
        "sugar": Decimal("0.01"),
    }
    assert rounded(portion(made.all_water, Decimal(1000)), 2) == Decimal("543.81")
    assert rounded(made.all_water, 1) == Decimal("54.4")
    assert made.water_poured == 0
    assert {item: rounded(portion(pct, Decimal(1000)), 2) for item, pct in made.fat_from} == {
        "unsalted butter": Decimal("81.11"),
        "whole milk": Decimal("16.25"),
        "egg": Decimal("9.51"),
    }
    assert rounded(made.fat, 2) == Decimal("10.69")
    assert made.total == Decimal("182.8")
    assert made.salt == Decimal("1.8")


BRIOCHE = """
    ingredients:
      strong wheat flour: 1000 g
      egg: 500 g
      whole milk: 100 g
      {butter}: 500 g
      sugar: 100 g
      salt: 20 g
      fresh yeast: 30 g
    """


@pytest.mark.parametrize(
    ("butter", "grams", "percent"), [("butter 82", "569.60", "57.0"), ("unsalted butter", "579.30", "57.9")]
)
def test_brioche(butter, grams, percent):
    """57.0 % with EU butter (82/16/2, Reg. 1272/2009 Annex IV), 57.9 % with the SR28 figure (our own arithmetic)."""
    made = sheet(BRIOCHE.format(butter=butter), own=EU_BUTTER).totals

    assert abs(portion(made.all_water, Decimal(1000)) - Decimal(grams)) <= Decimal("0.05")
    assert rounded(made.all_water, 1) == Decimal(percent)


def test_salted_butter_brings_its_salt():
    """100 g on 1000 g of flour add 0.16 % (643 mg sodium x 2.5)."""
    made = sheet("ingredients:\n  wheat flour: 1000 g\n  salted butter: 100 g\n  salt: 18 g\n").totals

    assert rounded(made.salt, 2) == Decimal("1.96")


def test_flours_own_moisture_is_never_counted():
    """A dough of flour and water at 65 % has 65 % of water, and 65 % poured."""
    made = sheet("ingredients:\n  wheat flour: 90%\n  rye flour: 10%\n  water: 65%\n  salt: 2%\n").totals

    assert made.all_water == made.water_poured == 65
    assert made.all_water_from == (("water", 65),)
    assert made.dough_yield == 165
    assert (made.fat, made.added_sugar) == (0, 0)


def test_water_inside_inclusions_does_not_reach_the_dough():
    """Olives, raisins and seeds keep their water to themselves (common practice)."""
    own = "wet olives:\n  kind: fruit\n  water: 75\n  fat: 15\n  sugars: 1\n  reaches_dough: false\n"
    made = sheet("ingredients:\n  wheat flour: 100%\n  water: 65%\n  wet olives: 30%\n", own=own).totals

    assert (made.all_water, made.fat, made.added_sugar) == (65, 0, 0)
    assert made.total == 195


def test_milk_sugar_stands_apart_from_added_sugar():
    """Yeast does not eat it (common practice, no source)."""
    made = sheet("ingredients:\n  wheat flour: 100%\n  whole milk: 50%\n  sugar: 5%\n").totals

    assert made.added_sugar_from == (("sugar", Decimal("4.99")),)
    assert made.milk_sugar_from[0][0] == "whole milk"
    assert made.milk_sugar == Decimal("2.525")


@pytest.mark.parametrize(
    ("yeast", "instant"), [("instant yeast", "1"), ("active dry yeast", "0.825"), ("fresh yeast", "0.33")]
)
def test_yeast_is_told_as_the_instant_that_does_its_work(yeast, instant):
    """Fresh 1, active dry 0.40, instant 0.33 (J. Hamelman, Bread, 2004, Yeast Conversions)."""
    made = sheet(f"ingredients:\n  wheat flour: 100%\n  water: 65%\n  {yeast}: 2%\n").totals

    assert made.yeast_as_instant == 2 * Decimal(instant)


def test_the_bun_of_the_screens():
    """A honey milk bun in g, one egg by the piece: all water 58.3, fat 10.8, sugars 6.6 and 2.6."""
    made = sheet(
        """
        ingredients:
          strong wheat flour: 500 g
          whole milk: 260 g
          egg: 1 pc
          unsalted butter: 50 g, soft
          honey: 40 g
          salt: 9 g
          fresh yeast: 12 g
        """
    )
    water = {item: rounded(pct, 1) for item, pct in made.totals.all_water_from}

    assert water == {
        "whole milk": Decimal("45.8"),
        "egg": Decimal("7.6"),
        "unsalted butter": Decimal("1.8"),
        "fresh yeast": Decimal("1.7"),
        "honey": Decimal("1.4"),
    }
    assert rounded(made.totals.fat, 1) == Decimal("10.8")
    assert rounded(made.totals.added_sugar, 1) == Decimal("6.6")
    assert rounded(made.totals.milk_sugar, 1) == Decimal("2.6")
    assert rounded(made.totals.yeast_as_instant, 2) == Decimal("0.79")
    assert made.worked.total == Decimal("184.2")
    assert made.pieces == (("egg", 50),)


def test_rows_come_largest_first_and_add_up():
    """A sum is the sum of its rows."""
    made = sheet(BRIOCHE.format(butter="unsalted butter")).totals

    for rows, total in ((made.all_water_from, made.all_water), (made.fat_from, made.fat)):
        assert [pct for _, pct in rows] == sorted((pct for _, pct in rows), reverse=True)
        assert sum(pct for _, pct in rows) == total


def test_prefermented_flour_counts_once():
    """A culture that the whole formula lists and a preferment besides: 20 and 10 %."""
    made = sheet(
        """
        ingredients:
          wheat flour: 90%
          water: 55%
          levain: 20%
          salt: 2%
        preferments:
          poolish:
            takes: 20% of the flour
            wheat flour: 100%
            water: 100%
        """
    ).totals

    assert made.prefermented_flour == 30


def test_a_listed_culture_that_seeds_a_preferment_counts_there():
    """2 % of levain all goes into the levain build, which holds 20 % of the flour: no more than that."""
    made = sheet(
        """
        ingredients:
          wheat flour: 99%
          water: 69%
          levain: 2%
          salt: 2%
        preferments:
          build:
            takes: 20% of the flour
            wheat flour: 95%
            water: 95%
            levain: 10%
        """
    )

    assert made.totals.prefermented_flour == 20
    assert "levain" not in {share.item for share in made.worked.final}
    assert made.totals.all_water == 70


def test_what_no_list_knows_is_named():
    """It counts as neither flour nor water."""
    made = sheet("ingredients:\n  wheat flour: 100%\n  water: 60%\n  nigella: 1%\n")

    assert made.new_items == ("nigella",)
    assert made.totals.all_water == 60


def test_what_no_figure_is_known_of_is_named_and_not_counted():
    """A quark without figures adds nothing to the totals, and the sheet says so; a zero says nothing."""
    page = (
        "ingredients:\n  wheat flour: 100%\n  water: 50%\n  quark: 20%\n  european butter: 10%\n  olive oil: 2%\n"
        "  salt: 2%\n"
    )
    made = sheet(page).totals

    assert made.not_known == (("quark", ("water", "fat", "sugars", "salt")), ("european butter", ("sugars",)))
    assert made.all_water == Decimal("51.6")
    assert made.fat == Decimal("10.2")


def test_flours_types_without_figures_and_new_items_are_not_named():
    """Of a flour nothing inside is counted, so nothing is missed; what no list knows is told of elsewhere."""
    assert sheet("ingredients:\n  T65 flour: 100%\n  water: 65%\n  nigella: 1%\n  salt: 2%\n").totals.not_known == ()


def test_inclusions_keep_their_salt():
    """Olives hold 1.84 g of salt in 100 g (USDA SR28 09193: sodium 735 mg x 2.5), and keep it; butter's is counted."""
    page = "ingredients:\n  wheat flour: 100%\n  water: 60%\n  olives: 30%\n  salted butter: 10%\n  salt: 2%\n"

    assert sheet(page).totals.salt == Decimal("2.16075")
