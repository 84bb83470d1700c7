"""The built-in ingredient list against the table it was taken from, row by row.

The oracle is `tests/data/sr28-extract.csv`: rows of the USDA National Nutrient Database for
Standard Reference, Release 28 (2015), public domain.
"""

from __future__ import annotations

import csv
import re
from decimal import Decimal
from pathlib import Path

import pytest
from ruamel.yaml import YAML

import ovenleaf

LIST = Path(ovenleaf.__file__).parent / "ingredients.yaml"
EXTRACT = Path(__file__).parents[1] / "data" / "sr28-extract.csv"

KINDS = {
    "flour", "water", "milk", "egg", "fat", "sugar", "salt", "yeast", "culture",
    "seed", "nut", "fruit", "malt", "spice", "other",
}  # fmt: skip
COLUMNS = {
    "water": "water", "fat": "fat", "protein": "prot", "carbohydrate": "carb", "sugars": "sugars", "ash": "ash",
}  # fmt: skip
SUMMED = ("water", "fat", "protein", "carbohydrate", "ash")  # sugars stand inside the carbohydrate
MEASURES = ("piece", "cup", "tablespoon", "teaspoon", "packet")
NUMBERS = {*COLUMNS, *MEASURES, "flour", "milk_sugar", "salt", "instant", "density"}
SOURCED = {"density", "allergens", "instant", "milk_sugar"}  # facts no USDA row here holds
KEYS = (
    NUMBERS
    | {"also", "kind", "made_of", "reaches_dough", "allergens", "source", "note", "salt_source"}
    | {f"{fact}_source" for fact in SOURCED}
)
US_WORDS = {"wheat", "milk", "egg", "sesame", "tree nuts", "soy"}
EU_WORDS = US_WORDS | {"gluten", "rye", "barley", "oats", "spelt"}
NO_SOURCE = "common practice, no source"

LABELS = {
    "1 cup": "cup",
    "1 cup unsifted, dipped": "cup",
    "1 cup packed": "cup",
    "1 cup, fluid (yields 2 cups whipped)": "cup",
    "1 cup (8 fl oz)": "cup",
    "1 cup (4.86 large eggs)": "cup",
    "1 tbsp": "tablespoon",
    "1 tablespoon": "tablespoon",
    "1 serving 1 tbsp": "tablespoon",
    "1 tsp": "teaspoon",
    "1 tsp packed": "teaspoon",
    "1 packet": "packet",
    "1 packet (0.5 oz)": "packet",
    "1 serving packet": "packet",
    "1 large": "piece",
}
LEFT_OUT = {("spelt flour", "cup")}  # the row's cup is of whole grains


def read_list() -> dict[str, dict]:
    """The items of the list by name."""
    page = YAML(typ="safe").load(LIST.read_text(encoding="utf-8"))
    assert page["format"] == "ingredients/1"
    return page["ingredients"]


def read_extract() -> dict[str, dict[str, str]]:
    """The rows of the extract by their number in SR28."""
    with EXTRACT.open(encoding="utf-8", newline="") as lines:
        return {row["ndb_no"]: row for row in csv.DictReader(lines)}


def exact(number: object) -> Decimal:
    """The number as printed in the page; the shortest text of a float is what was typed, less end zeros."""
    assert not isinstance(number, (bool, str)), number
    return Decimal(str(number))


def row_number(item: dict) -> str | None:
    """The SR28 number an item names as the source of its figures, if it names one."""
    match = re.fullmatch(r"USDA SR28 (\d{5})", item["source"])
    return match[1] if match else None


def household(row: dict[str, str]) -> dict[str, Decimal]:
    """The row's weights of measures the list knows, in g."""
    pairs = [part.rsplit(" = ", 1) for part in row["household_weights"].split("; ") if part]
    return {LABELS[label]: Decimal(grams.removesuffix(" g")) for label, grams in pairs if label in LABELS}


def folded(name: str) -> str:
    """A name as a baker may type it, hyphens and capitals aside."""
    return " ".join(name.casefold().replace("-", " ").split())


ITEMS = read_list()
ROWS = read_extract()
FROM_USDA = {name: ROWS.get(number) for name, item in ITEMS.items() if (number := row_number(item))}


def test_extract_is_the_table_it_claims_to_be() -> None:
    """Rows known from elsewhere stand in the extract (SR28 files FOOD_DES, NUT_DATA and WEIGHT)."""
    known = {
        "01077": ("88.13", "3.25", "3.15", "43"),
        "01001": ("15.87", "81.11", "0.85", "643"),
        "01123": ("76.15", "9.51", "12.56", "142"),
        "19335": ("0.02", "0.00", "0.00", "1"),
        "20083": ("13.36", "1.66", "11.98", "2"),
    }
    found = {n: tuple(ROWS[n][column] for column in ("water", "fat", "prot", "Na_mg")) for n in known}
    assert found == known
    assert household(ROWS["19296"])["cup"] == 339


@pytest.mark.parametrize("name", FROM_USDA)
def test_composition_is_that_of_the_row(name: str) -> None:
    """Every figure of an item from USDA is its row's figure, digit for digit, and none is missing."""
    row = FROM_USDA[name]
    assert row is not None, f"{name} names a row that is not in the extract"
    assert {key: exact(ITEMS[name][key]) for key in COLUMNS} == {
        key: Decimal(row[column]) for key, column in COLUMNS.items()
    }


@pytest.mark.parametrize("name", FROM_USDA)
def test_household_weights_are_those_of_the_row(name: str) -> None:
    """Cups, spoons, packets and pieces are the row's, all of them and no others."""
    wanted = {m: grams for m, grams in household(FROM_USDA[name]).items() if (name, m) not in LEFT_OUT}
    assert {m: exact(ITEMS[name][m]) for m in MEASURES if m in ITEMS[name]} == wanted


@pytest.mark.parametrize("name", [n for n, item in ITEMS.items() if set(SUMMED) <= set(item)])
def test_composition_comes_to_a_hundred(name: str) -> None:
    """Water, fat, protein, carbohydrate and ash are the whole of an ingredient, within 1 g."""
    assert abs(sum(exact(ITEMS[name][key]) for key in SUMMED) - 100) <= 1


def test_every_item_names_a_source() -> None:
    """A source is a USDA row or says in so many words that there is none."""
    sources = {name: item["source"] for name, item in ITEMS.items() if name not in FROM_USDA}
    assert {name: source for name, source in sources.items() if NO_SOURCE not in source} == {}
    assert len(FROM_USDA) > len(sources)


def test_figures_without_a_source_are_definitions() -> None:
    """An item without a USDA row is all water, all fat or has no figures; instant yeast alone has a guess."""
    bare = {name: item for name, item in ITEMS.items() if name not in FROM_USDA and set(COLUMNS) & set(item)}
    figures = {name: {key: item[key] for key in COLUMNS if item.get(key)} for name, item in bare.items()}
    assert figures == {
        "water": {"water": 100},
        "ice": {"water": 100},
        "sunflower oil": {"fat": 100},
        "vegetable oil": {"fat": 100},
        "instant yeast": {"water": 5},
    }


@pytest.mark.parametrize("fact", sorted(SOURCED))
def test_facts_from_elsewhere_name_their_source(fact: str) -> None:
    """A density, an allergen, a yeast factor and a figure of milk sugar say where they come from."""
    having = {name for name, item in ITEMS.items() if fact in item}
    assert having
    assert having == {name for name, item in ITEMS.items() if item.get(f"{fact}_source")}


def test_keys_and_kinds_are_from_the_fixed_lists() -> None:
    """No item holds a key or a kind that the format does not know."""
    assert {name: set(item) - KEYS for name, item in ITEMS.items() if set(item) - KEYS} == {}
    assert {name: item.get("kind") for name, item in ITEMS.items() if item.get("kind") not in KINDS} == {}


def test_no_number_is_negative_or_over_its_whole() -> None:
    """Shares lie between 0 and 100; measures, densities and factors are above 0."""
    for name, item in ITEMS.items():
        for key in NUMBERS & set(item):
            number = exact(item[key])
            if key in MEASURES or key in ("density", "instant"):
                assert number > 0, (name, key)
            else:
                assert 0 <= number <= 100, (name, key)


def test_only_flours_are_flour() -> None:
    """A flour is all flour, and nothing else on the list claims to be any."""
    assert {n: i["flour"] for n, i in ITEMS.items() if "flour" in i} == {
        n: 100 for n, i in ITEMS.items() if i["kind"] == "flour"
    }


def test_names_are_unique() -> None:
    """A name or other name leads to one ingredient, however it is hyphenated or capitalised."""
    names = [folded(n) for name, item in ITEMS.items() for n in (name, *item.get("also", []))]
    assert sorted(n for n in set(names) if names.count(n) > 1) == []


def test_cultures_are_made_of_known_flour_and_water() -> None:
    """A culture's parts are on the list, its flours come to 100, and it repeats no fact of theirs."""
    cultures = {name: item for name, item in ITEMS.items() if item["kind"] == "culture"}
    assert set(cultures) == {"levain", "stiff levain", "rye sour"}
    assert {name for name, item in ITEMS.items() if "made_of" in item} == set(cultures)
    for name, item in cultures.items():
        parts = item["made_of"]
        assert set(parts) <= set(ITEMS), name
        assert {ITEMS[part]["kind"] for part in parts} == {"flour", "water"}, name
        assert sum(share for part, share in parts.items() if ITEMS[part]["kind"] == "flour") == 100, name
        assert not {"flour", "allergens", *COLUMNS} & set(item), name


def test_an_egg_is_fifty_grams() -> None:
    """A piece of egg is a US large without its shell, a European medium (50 g: SR28; medium: common practice)."""
    assert [ITEMS[name]["piece"] for name in ("egg", "egg white", "egg yolk")] == [50, 33, 17]


def test_yeast_swaps_as_published() -> None:
    """30 g fresh is 12.0 g active dry is 9.9 g instant (Hamelman, Bread, 2004, Yeast Conversions)."""
    work = {name: exact(item["instant"]) for name, item in ITEMS.items() if item["kind"] == "yeast"}
    assert set(work) == {"fresh yeast", "active dry yeast", "instant yeast"}
    instant = 30 * work["fresh yeast"] / work["instant yeast"]
    assert instant == Decimal("9.9")
    assert instant / work["active dry yeast"] == 12


def test_instant_yeast_spoon_is_reckoned_from_the_packet() -> None:
    """A packet of 7.2 g (SR28 18375) is called 2 1/4 teaspoons (common practice, no source)."""
    assert exact(ITEMS["instant yeast"]["teaspoon"]) * Decimal("2.25") == household(ROWS["18375"])["packet"]


def test_salt_is_only_what_was_put_in() -> None:
    """Salted butter's salt is its sodium by the EU factor 2.5, salt is all its ash, and the rest has none."""
    salted = {name: exact(item["salt"]) for name, item in ITEMS.items() if item.get("salt")}
    sodium = Decimal(ROWS["01001"]["Na_mg"])
    assert salted == {
        "salted butter": sodium * Decimal("2.5") / 1000,
        "salt": Decimal(ROWS["02047"]["ash"]),
    }
    assert {name for name in salted if ITEMS[name].get("salt_source")} == set(salted)


def test_milk_sugar_is_told_for_all_that_is_milk() -> None:
    """Whatever brings milk and any sugars has all of them as milk sugar (common practice), and nothing else any."""
    milky = {n for n, item in ITEMS.items() if "milk" in item.get("allergens", []) and item["sugars"]}
    assert {n: i["milk_sugar"] for n, i in ITEMS.items() if "milk_sugar" in i} == {n: ITEMS[n]["sugars"] for n in milky}


def test_densities_are_those_printed() -> None:
    """Densities in g per ml are the printed ones (FAO/INFOODS Density Database v2.0, 2012)."""
    assert {name: str(item["density"]) for name, item in ITEMS.items() if "density" in item} == {
        "water": "0.998",
        "whole milk": "1.03",
        "skimmed milk": "1.033",
        "whipping cream": "0.994",
        "yogurt": "1.031",
        "olive oil": "0.918",
    }


def test_allergens_cite_the_law_that_counts_them() -> None:
    """Every allergen is on the EU list, and those of the US nine cite US law as well.

    Regulation (EU) 1169/2011 Annex II; FALCPA 2004; FASTER Act 2021 for sesame.
    """
    for name, item in ITEMS.items():
        words = set(item.get("allergens", []))
        assert words <= EU_WORDS, name
        if words:
            cited = item["allergens_source"]
            assert "Regulation (EU) 1169/2011 Annex II" in cited, name
            assert ("FALCPA 2004" in cited) == bool(words & US_WORDS - {"sesame"}), name
            assert ("FASTER Act 2021" in cited) == ("sesame" in words), name


def test_allergens_of_a_mixed_dough() -> None:
    """Wheat, rye, milk, egg, butter and sesame bring just these; rye and barley bring gluten (same laws)."""
    dough = ("wheat flour", "rye flour", "whole milk", "egg", "unsalted butter", "sesame seed")
    assert {word for name in dough for word in ITEMS[name]["allergens"]} == {
        "wheat", "gluten", "rye", "milk", "egg", "sesame",
    }  # fmt: skip
    assert set(ITEMS["rye flour"]["allergens"]) == {"rye", "gluten"}
    assert set(ITEMS["barley malt flour"]["allergens"]) == {"barley", "gluten"}


def test_every_flour_milk_and_egg_names_its_allergens() -> None:
    """A flour brings gluten, milk brings milk, egg brings egg; an item that forgot would be dangerous."""
    brings = {"flour": "gluten", "milk": "milk", "egg": "egg"}
    assert [n for n, i in ITEMS.items() if (word := brings.get(i["kind"])) and word not in i["allergens"]] == []


def test_gluten_goes_with_its_grains() -> None:
    """Gluten is named where wheat, rye, barley, oats or spelt is, and only there (Reg. (EU) 1169/2011 Annex II)."""
    grains = {"wheat", "rye", "barley", "oats", "spelt"}
    named = {n: set(i["allergens"]) for n, i in ITEMS.items() if "allergens" in i}
    assert [n for n, words in named.items() if ("gluten" in words) != bool(words & grains)] == []


def test_inclusions_keep_their_water() -> None:
    """Seeds, oats, olives and raisins keep what water they hold (common practice, no source)."""
    assert {name for name, item in ITEMS.items() if item.get("reaches_dough") is False} == {
        "sesame seed", "poppy seed", "linseed", "sunflower seed", "pumpkin seed", "caraway seed",
        "rolled oats", "olives", "raisins",
    }  # fmt: skip
    assert [name for name, item in ITEMS.items() if item.get("reaches_dough") is True] == []


def test_enriched_rolls_hold_the_water_and_fat_worked_out_by_hand() -> None:
    """500 g milk, 100 egg, 100 butter, 50 honey, 50 sugar, 10 yeast bring 543.81 g water (own arithmetic)."""
    grams = {
        "whole milk": 500, "egg": 100, "unsalted butter": 100, "honey": 50, "sugar": 50, "active dry yeast": 10,
    }  # fmt: skip
    water = sum(exact(ITEMS[name]["water"]) * mass / 100 for name, mass in grams.items())
    fat = sum(exact(ITEMS[name]["fat"]) * grams[name] / 100 for name in ("whole milk", "egg", "unsalted butter"))
    assert round(water, 2) == Decimal("543.81")
    assert round(fat, 2) == Decimal("106.87")


def test_page_is_plain() -> None:
    """The list is plain block style: one fact a line, two spaces a step, no braces, anchors or tabs."""
    data = LIST.read_bytes()
    assert b"\r" not in data
    assert not data.startswith(b"\xef\xbb\xbf")
    lines = data.decode("utf-8").splitlines()
    assert lines[0] == "format: ingredients/1"
    assert data.endswith(b"\n")
    facts = [line for line in lines if line.strip() and not line.lstrip().startswith("#")]
    shape = re.compile(r"(  ){0,3}(- )?[\w0-9][^\t{}\[\]&*|>\"#]*")
    assert [line for line in facts if not shape.fullmatch(line)] == []
