"""National flour types by ash in dry flour, against the tables as they are printed."""

from __future__ import annotations

from decimal import Decimal as D

import pytest

from builders import pantry
from ovenleaf.domain.flour_types import AUSTRIA, FRANCE, GERMANY, ITALY, dry_ash, flour_types, types_by_ash


@pytest.mark.parametrize(
    ("ash", "german", "french", "italian"),
    [
        ("0.55", ("550",), ("T55",), ("00",)),  # the oracle of 8.1, limits included
        ("0.62", ("550",), ("T65",), ("0",)),
        ("0.605", ("550",), (), ("0",)),  # a gap between two French types
    ],
)
def test_one_ash_by_three_tables(ash, german, french, italian):
    """DIN 10355; French decree 63-720 and order of 13 July 1963; Italian DPR 187/2001 (8.1)."""
    found = dict(types_by_ash(D(ash)))
    assert (found[GERMANY], found[FRANCE], found[ITALY]) == (german, french, italian)


def test_usda_bread_flour():
    """0.47 g at 13.36 % water is 0.542 g dry: 550, T55, 00 (USDA SR28 20083; 8.1)."""
    flour = pantry().get("bread flour")
    assert round(dry_ash(flour), 3) == D("0.542")
    found = dict(flour_types("bread flour", flour).types)
    assert (found[GERMANY], found[FRANCE], found[ITALY]) == (("550",), ("T55",), ("00",))


def test_us_flour_at_14_percent_moisture():
    """0.50 g at 14 % is 0.581 g dry (computed, 8.1): DIN 550 and French T55."""
    dry = D("0.50") / (1 - D("0.14"))
    assert round(dry, 3) == D("0.581")
    assert dict(types_by_ash(dry))[GERMANY] == ("550",)
    assert dict(types_by_ash(dry))[FRANCE] == ("T55",)


@pytest.mark.parametrize(
    ("table", "grain", "ash", "types"),
    [
        (GERMANY, "wheat", "0.50", ("405",)),
        (GERMANY, "wheat", "0.51", ("550",)),
        (GERMANY, "wheat", "0.90", ("812",)),
        (GERMANY, "wheat", "1.05", ("1050",)),
        (GERMANY, "wheat", "1.60", ("1600",)),
        (GERMANY, "wheat", "2.10", ("1700 (meal)",)),
        (GERMANY, "wheat", "2.11", ()),
        (FRANCE, "wheat", "0.49", ("T45",)),
        (FRANCE, "wheat", "0.75", ("T65", "T80")),  # both print it as a bound
        (FRANCE, "wheat", "0.95", ()),
        (FRANCE, "wheat", "1.10", ("T110",)),
        (FRANCE, "wheat", "1.60", ("T150",)),
        (FRANCE, "rye", "0.90", ("T70", "T85")),  # the French rye types overlap
        (FRANCE, "rye", "1.60", ("T170",)),
        (ITALY, "wheat", "0.80", ("1",)),
        (ITALY, "wheat", "0.95", ("2",)),
        (ITALY, "wheat", "1.50", ("wholemeal",)),
        (AUSTRIA, "wheat", "0.48", ("W480",)),
        (AUSTRIA, "wheat", "0.60", ()),
        (AUSTRIA, "wheat", "1.60", ("W1600",)),
        (AUSTRIA, "rye", "0.96", ("R960",)),
        (AUSTRIA, "spelt", "0.70", ("spelt 700",)),
    ],
)
def test_the_bounds_of_the_tables(table, grain, ash, types):
    """DIN 10355, the French order of 1963, the Italian DPR 187/2001, the Austrian Codex B 20, bound by bound."""
    assert dict(types_by_ash(D(ash), grain))[table] == types


def test_a_flour_whose_ash_no_list_knows():
    """Not known is said; no type is guessed."""
    own = "stone flour:\n  kind: flour\n  flour: 100\n  allergens:\n    - wheat\n"
    found = flour_types("stone flour", pantry(own).get("stone flour"))
    assert (found.dry_ash, found.types) == (None, ())


@pytest.mark.parametrize("item", ["water", "salt", "rice flour", "levain"])
def test_what_has_no_type(item):
    """No flour, or of a grain that no table is for."""
    assert flour_types(item, pantry().get(item)) is None
