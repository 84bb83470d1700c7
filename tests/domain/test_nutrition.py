"""What a bread holds, by energy factors and rounding of two laws."""

from __future__ import annotations

import csv
from decimal import Decimal
from pathlib import Path

import pytest

from ovenleaf.book.steps.opening import built_in
from ovenleaf.domain.ingredients import Pantry
from ovenleaf.domain.numbers import rounded
from ovenleaf.domain.nutrition import (
    NUTRIENTS,
    Nutrition,
    eu_rounded,
    nutrition,
    us_calories,
    us_fat,
    us_grams,
    us_sodium,
    within,
)
from ovenleaf.domain.percent import Share, Worked

PANTRY = Pantry(built_in())
# USDA SR28 18069, white bread: g in 100 g; carbohydrate 49.42 by difference, of which 2.7 fibre; sodium 490 mg.
WHITE = {
    "fat": "3.33",
    "saturates": "0.7",
    "carbohydrate": "46.72",
    "sugars": "5.67",
    "fibre": "2.7",
    "protein": "8.85",
}


def told(grams):
    """Nutrition from figures."""
    return Nutrition(grams=tuple((name, Decimal(grams.get(name, "0"))) for name in NUTRIENTS))


def test_energy_by_the_factors_of_the_eu():
    """Regulation (EU) 1169/2011, Annex XIV, on the white bread of SR28; SR28's own 266 kcal is by other factors."""
    white = told(WHITE)
    assert rounded(white.kilojoules, 1) == Decimal("1089.5")
    assert rounded(white.kilocalories, 1) == Decimal("257.7")


def test_calories_by_the_general_factors():
    """21 CFR 101.9(c)(1)(i)(B): 4, 4 and 9, fibre within the carbohydrate."""
    assert told(WHITE).calories == 4 * Decimal("8.85") + 4 * Decimal("49.42") + 9 * Decimal("3.33")


@pytest.mark.parametrize(
    ("as_label", "value", "label"),
    [
        # 21 CFR 101.9(c); FDA, Nutrition Labeling Manual (NLEA guide), attachment 7. Halves go up.
        (us_calories, "4.9", "0"),
        (us_calories, "47", "45"),
        (us_calories, "48", "50"),
        (us_calories, "54", "50"),
        (us_calories, "55", "60"),
        (us_calories, "56", "60"),
        (us_fat, "0.49", "0 g"),
        (us_fat, "0.7", "0.5 g"),
        (us_fat, "0.75", "1 g"),
        (us_fat, "4.8", "5 g"),
        (us_fat, "5.4", "5 g"),
        (us_sodium, "4", "0 mg"),
        (us_sodium, "138", "140 mg"),
        (us_sodium, "143", "140 mg"),
        (us_sodium, "146", "150 mg"),
        (us_grams, "0.4", "0 g"),
        (us_grams, "0.7", "less than 1 g"),
        (us_grams, "1.5", "2 g"),
    ],
)
def test_us_rounding(as_label, value, label):
    """Each nutrient as its paragraph has it."""
    assert as_label(Decimal(value)) == label


@pytest.mark.parametrize(
    ("name", "value", "label"),
    [
        # EU guidance on tolerances and rounding, December 2012, from memory.
        ("fat", "3.33", "3.3 g"),
        ("fat", "0.5", "under 0.5 g"),
        ("protein", "10.4", "10 g"),
        ("saturates", "0.1", "under 0.1 g"),
        ("saturates", "0.16", "0.2 g"),
        ("salt", "1.225", "1.2 g"),
        ("salt", "0.983", "0.98 g"),
        ("salt", "0.01", "under 0.01 g"),
        ("sugars", "0", "0 g"),
    ],
)
def test_eu_rounding(name, value, label):
    """To a gram from ten up, to a tenth below; salt finer."""
    assert eu_rounded(name, Decimal(value)) == label


def lean(**more):
    """A lean dough in percent of the flour."""
    rows = {"strong wheat flour": "100", "water": "65", "salt": "2", "instant yeast": "0.6"} | more
    whole = tuple(Share(item=item, pct=Decimal(pct)) for item, pct in rows.items())
    return Worked(flour_g=None, whole=whole, parts=(), final=whole)


def test_salt_in_bread_by_its_formula():
    """100 x salt / total / (1 - loss), and what sodium flour has by nature; by hand from USDA SR28 20083."""
    found = nutrition(lean(), Decimal(15), PANTRY)
    bread = Decimal("167.6") * Decimal("0.85")
    salt = Decimal(2) + Decimal("0.002") * Decimal("2.5") + Decimal("0.006") * Decimal("0.051") * Decimal("2.5")
    assert round(found.of("salt"), 4) == round(100 * salt / bread, 4)
    assert round(found.of("protein"), 2) == round(
        (Decimal("11.98") + Decimal("0.006") * Decimal("40.44")) * 100 / bread, 2
    )
    assert found.not_known == ()


def test_what_is_not_known_is_not_nothing():
    """A nutrient that the list does not know of a heavy ingredient is not worked out; a trace of it is passed over."""
    heavy = nutrition(lean(quark="20"), Decimal(15), PANTRY)
    light = nutrition(lean(quark="0.5"), Decimal(15), PANTRY)
    assert heavy.of("fibre") is None
    assert heavy.kilojoules is None
    assert ("fibre", ("quark",)) in heavy.not_known
    assert light.of("fibre") is not None
    assert light.passed_over == ("quark",)


def test_a_culture_holds_what_it_is_made_of():
    """Half flour and half water hold half of what flour holds."""
    levain, flour = PANTRY.get("levain"), PANTRY.get("wheat flour")
    assert within(levain, "protein", PANTRY) == flour.protein / 2


LABELS = Path(__file__).parents[1] / "data/sr28-label.csv"


def test_saturates_fibre_and_sodium_are_those_of_the_table():
    """USDA SR28, NUT_DATA: nutrients 606, 291 and 307 of the row that the list names as its source."""
    with LABELS.open(encoding="utf-8") as file:
        rows = {row["ndb_no"]: row for row in csv.DictReader(file)}
    seen = 0
    for name in PANTRY.names:
        one = PANTRY.get(name)
        row = rows.get(one.source.partition("USDA SR28 ")[2][:5])
        if row is None or one.kind.value == "salt" or one.protein is None:
            continue
        seen += 1
        assert one.saturates == (Decimal(row["saturates"]) if row["saturates"] else None), name
        assert one.fibre == (Decimal(row["fibre"]) if row["fibre"] else None), name
        assert one.sodium == (Decimal(row["sodium_mg"]) / 1000 if row["sodium_mg"] else None), name
    assert seen > 90
