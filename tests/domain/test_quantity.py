"""Amounts and temperatures as typed, unit factors against pint, and measures through the ingredient list."""

from __future__ import annotations

from decimal import Decimal

import pint
import pytest

from builders import faults, pantry, worked
from ovenleaf.domain.measures import grams, in_grams
from ovenleaf.domain.quantity import (
    GRAMS_PER,
    MILLILITRES_PER,
    Amount,
    AmountFault,
    Scale,
    Unit,
    amount,
    split_note,
    temperature,
)

PINT_NAMES = {
    Unit.G: "gram",
    Unit.KG: "kilogram",
    Unit.OZ: "ounce",
    Unit.LB: "pound",
    Unit.ML: "milliliter",
    Unit.L: "liter",
    Unit.TSP: "teaspoon",
    Unit.TBSP: "tablespoon",
    Unit.CUP: "cup",
}


@pytest.fixture(scope="module")
def units():
    """pint's definitions, in exact decimals."""
    return pint.UnitRegistry(non_int_type=Decimal)


@pytest.mark.parametrize("unit", GRAMS_PER)
def test_weights_agree_with_pint_to_the_last_digit(units, unit):
    """The international pound and its ounce (package pint 0.25.3)."""
    assert (1 * units(PINT_NAMES[unit])).to("gram").magnitude == GRAMS_PER[unit]


@pytest.mark.parametrize("unit", MILLILITRES_PER)
def test_volumes_agree_with_pint_to_the_last_digit(units, unit):
    """The US cup and spoons from a gallon of 231 cubic inches (package pint 0.25.3).

    pint goes by way of cubic inches and rounds in the 28th digit, hence the comparison to 24.
    """
    theirs = (1 * units(PINT_NAMES[unit])).to("milliliter").magnitude

    assert round(theirs, 24) == MILLILITRES_PER[unit]


def test_every_unit_has_a_factor():
    """All units but a share and a piece are a weight or a volume."""
    assert {*GRAMS_PER, *MILLILITRES_PER} == set(Unit) - {Unit.SHARE, Unit.PIECE} == set(PINT_NAMES)


@pytest.mark.parametrize(
    ("typed", "shown"),
    [
        ("65%", "65%"),
        ("65 %", "65%"),
        ("62,5%", "62.5%"),
        ("68 percent", "68%"),
        ("68 per cent", "68%"),
        ("500 g", "500 g"),
        ("500g", "500 g"),
        ("500 Grams", "500 g"),
        ("1.5 kg", "1.5 kg"),
        ("2 lbs", "2 lb"),
        ("1/2 cup", "0.5 cup"),
        ("1 1/2 tsp", "1.5 tsp"),
        ("3 tablespoons", "3 tbsp"),
        ("2 pc", "2 pc"),
        ("0 g", "0 g"),
    ],
)
def test_an_amount_is_read_with_its_unit(typed, shown):
    """Spelled out or short, with a space or without."""
    assert str(amount(typed)) == shown


@pytest.mark.parametrize(
    ("typed", "kind", "unit"),
    [
        ("65", "no unit", ""),
        ("500 gg", "unknown unit", "gg"),
        ("3 pinches", "unknown unit", "pinches"),
        ("-3%", "negative", ""),
        ("-1 g", "negative", ""),
        ("nan g", "not finite", ""),
        ("inf%", "not finite", ""),
        ("1e400 g", "too large", ""),
        ("9999999999 g", "too large", ""),
        ("1/0 cup", "divided by zero", ""),
        ("some", "not a number", ""),
        ("", "not a number", ""),
        ("3 4 g", "not a number", ""),
    ],
)
def test_what_is_no_amount_is_told_by_its_kind(typed, kind, unit):
    """The kind leads to the baker's words for it."""
    with pytest.raises(AmountFault) as caught:
        amount(typed)
    assert (caught.value.text, caught.value.kind, caught.value.unit) == (typed, kind, unit)


def test_a_unit_may_be_left_off_where_only_one_is_possible():
    """`water=68` can only mean a share."""
    assert amount("68", bare=Unit.SHARE) == Amount(Decimal(68), Unit.SHARE)
    assert amount("68 g", bare=Unit.SHARE) == Amount(Decimal(68), Unit.G)


@pytest.mark.parametrize(
    ("typed", "parts"),
    [
        ("3%, soft", ("3%", "soft")),
        ("62,5%", ("62,5%", "")),
        ("62,5%, cold, from the tap", ("62,5%", "cold, from the tap")),
        ("as needed, for the wash", ("as needed", "for the wash")),
    ],
)
def test_a_note_stands_behind_a_comma_and_a_space(typed, parts):
    """A decimal comma has a digit behind it, never a space."""
    assert split_note(typed) == parts


def test_a_comma_gone_astray_is_told_with_the_line_put_right():
    """`62, 5%` is 62 and a note; the baker is told so, and what to write."""
    (finding,) = faults("ingredients:\n  wheat flour: 100%\n  water: 62, 5%\n")

    assert (finding.line, finding.code) == (3, "amount")
    assert "water: 62,5%" in finding.fix


@pytest.mark.parametrize(
    ("typed", "celsius"),
    [("24C", "24"), ("24 °C", "24"), ("25,5 C", "25.5"), ("77F", "25"), ("-18 C", "-18"), ("212 fahrenheit", "100")],
)
def test_a_temperature_has_a_scale(typed, celsius):
    """(F - 32) / 1.8, by definition of the scale."""
    assert temperature(typed).celsius == Decimal(celsius)


@pytest.mark.parametrize(
    ("typed", "kind"),
    [("24", "no scale"), ("24 °", "no scale"), ("warm", "not a temperature"), ("24K", "not a temperature")],
)
def test_a_temperature_without_a_scale_is_not_guessed(typed, kind):
    """24 may be a warm dough or a cold freezer."""
    with pytest.raises(AmountFault) as caught:
        temperature(typed)
    assert caught.value.kind == kind


def test_a_temperature_stays_on_the_scale_it_was_read_on():
    """75 F is written back as 75 F."""
    assert str(temperature("75F")) == "75 F"
    assert temperature("75F").scale is Scale.F


OWN = """
    table milk:
      kind: milk
      density: 1.03
    flake salt:
      kind: salt
      teaspoon: 3
    bench malt:
      kind: malt
      cup: 162
    """


@pytest.mark.parametrize(
    ("typed", "item", "weight"),
    [
        ("1 tbsp", "unsalted butter", "14.2"),  # USDA SR28 WEIGHT, butter tablespoon
        ("1 tbsp", "honey", "21"),  # USDA SR28 WEIGHT, honey tablespoon
        ("1 1/2 tsp", "salt", "9"),  # USDA SR28 WEIGHT, salt teaspoon 6.0
        ("3 cups", "strong wheat flour", "411"),  # USDA SR28 WEIGHT, bread flour cup 137, dipped
        ("2 pc", "egg", "100"),  # USDA SR28 WEIGHT, egg large 50
        ("1/2 pc", "egg", "25"),
        ("50 ml", "whole milk", "51.5"),  # FAO/INFOODS Density Database v2.0 (2012): 1.03 g/ml
        ("0.05 l", "whole milk", "51.5"),
        ("1 tsp", "flake salt", "3"),  # the book's own list
        ("2 oz", "water", "56.69904625"),
        ("1 lb", "water", "453.59237"),
    ],
)
def test_a_measure_comes_to_grams_through_the_list(typed, item, weight):
    """A household weight of the list goes before a volume times a density."""
    assert grams(amount(typed), pantry(OWN).get(item)) == Decimal(weight)


def test_a_volume_without_a_density_is_worked_back_from_the_cup():
    """162 g to the cup are 0.685 g to the ml, and so 3.38 g to the teaspoon of 4.93 ml."""
    malt = pantry(OWN).get("bench malt")

    assert round(grams(amount("100 ml"), malt), 4) == Decimal("68.4734")
    assert round(grams(amount("1 tsp"), malt), 10) == Decimal("3.375")  # 48 teaspoons to the cup


@pytest.mark.parametrize(("typed", "item"), [("1 pc", "wheat flour"), ("1 cup", "table moss"), ("3 ml", "table moss")])
def test_what_no_list_knows_is_not_guessed(typed, item):
    """None, and never zero."""
    assert grams(amount(typed), pantry().get(item)) is None


def test_a_recipe_in_household_measures_comes_out():
    """A page in cups, spoons, ml and eggs: the sum of its weights, and all of them shares of the flour."""
    made = worked(
        """
        ingredients:
          strong wheat flour: 2 cups
          whole milk: 50 ml
          egg: 2 pc
          honey: 1 tbsp
          salt: 1 tsp
        """
    )

    assert made.flour_g == 274
    weights = [share.pct * made.flour_g / 100 for share in made.whole]
    assert [round(weight, 10) for weight in weights] == [274, Decimal("51.5"), 100, 21, 6]


def test_a_weight_in_grams_is_exact():
    """16 oz are a pound."""
    assert in_grams(Decimal(16), Unit.OZ) == in_grams(Decimal(1), Unit.LB)
