"""From cups, spoons and pints to grams: the spread of a cup of flour, and the units of three countries."""

from __future__ import annotations

from decimal import Decimal

import pint
import pytest

from ovenleaf.book.steps.opening import built_in
from ovenleaf.domain.ingredients import Pantry
from ovenleaf.domain.recipe_items import meant
from ovenleaf.domain.recipe_lines import hear
from ovenleaf.domain.recipe_taking import take
from ovenleaf.domain.recipe_units import Measures, unit_named

PANTRY = Pantry(built_in())


@pytest.fixture(scope="module")
def units():
    """The referee, which takes a while to begin."""
    return pint.UnitRegistry(non_int_type=Decimal)


def taken(line, measures=Measures.US):
    """One line of a card as it is taken."""
    heard = hear(line)[0]
    return take(heard, line, "", meant(heard.item, PANTRY), PANTRY, measures)


@pytest.mark.parametrize(
    ("line", "weights"),
    [
        # USDA Home Economics Research Report 41 (sifted, spooned) and SR28 20081, 20083 (as it comes, dipped).
        ("3 cups all-purpose flour", {"not sifted": "375 g", "sifted": "348 g"}),
        ("3 cups spooned all-purpose flour", {"": "378 g"}),
        ("3 cups bread flour", {"scooped": "411 g", "spooned": "369 g", "sifted": "351 g"}),
    ],
)
def test_three_cups_of_flour_are_a_spread(line, weights):
    """Each way of filling is told with its weight; where the card says how, that one alone is taken."""
    found = taken(line)
    told = {one.said: one.amount for one in found.asked.choices} if found.asked else {"": found.amount}
    assert told == weights


def test_the_spread_of_the_flour_is_a_spread_of_the_water():
    """240 g of water on three cups: 68.4, 65.0 or 58.4 % of bread flour, 69.0 to 63.5 % of all-purpose flour."""
    bread = [Decimal(one.amount.removesuffix(" g")) for one in taken("3 cups bread flour").asked.choices]
    assert [round(24000 / grams, 1) for grams in sorted(bread)] == [Decimal("68.4"), Decimal("65.0"), Decimal("58.4")]
    plain = taken("3 cups all-purpose flour")
    assert (round(24000 / plain.low, 2), round(24000 / plain.high, 2)) == (Decimal("68.97"), Decimal("63.49"))


@pytest.mark.parametrize(
    ("name", "us", "imperial"),
    [
        ("pint", "pint", "imperial_pint"),
        ("quart", "quart", "imperial_quart"),
        ("gallon", "gallon", "imperial_gallon"),
        ("cup", "cup", "imperial_cup"),
        ("fl oz", "fluid_ounce", "imperial_fluid_ounce"),
        ("tablespoon", "tablespoon", ""),
        ("teaspoon", "teaspoon", ""),
    ],
)
def test_volumes_are_those_of_a_referee(name, us, imperial, units):
    """Package pint: the US gallon of 231 cubic inches, the imperial one of 4.54609 l."""
    unit = unit_named(name)
    for measures, called in ((Measures.US, us), (Measures.IMPERIAL, imperial)):
        if called:
            expected = units.Quantity(Decimal(1), called).to("milliliter").magnitude
            assert round(unit.millilitres(measures), 6) == round(expected, 6), (name, measures)


@pytest.mark.parametrize(
    ("line", "us", "metric"),
    [("1 cup whole milk", "244 g", "258 g"), ("1 tbsp honey", "21 g", "21.3 g"), ("1 cup water", "236 g", "250 g")],
)
def test_a_metric_cup_holds_more(line, us, metric):
    """250 ml to 236.6: milk by USDA SR28 01077, honey by 19296, water by its density."""
    assert (taken(line).amount, taken(line, Measures.METRIC).amount) == (us, metric)
