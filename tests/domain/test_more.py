"""Numbers for the sceptic, against their definitions."""

from __future__ import annotations

from decimal import Decimal as D

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders import QUICK, pantry, sheet, trial
from ovenleaf.domain.losses import NO_LOSS, Loss
from ovenleaf.domain.more import baked, enough_loss, numbers, volume

STRAIGHT = "ingredients:\n  strong wheat flour: 100%\n  water: 68%\n  salt: 2%\n  instant yeast: 0.4%\n"


def told(page, loss=NO_LOSS, trials=(), own=""):
    """The numbers of a page."""
    return numbers(sheet(page, own=own), loss, trials, pantry(own))


def given_loss(pct):
    """A loss that the baker said."""
    return Loss(pct=D(pct), source="given")


@pytest.mark.parametrize(("water", "yields"), [("50%", 150), ("75%", 175), ("68%", 168)])
def test_dough_yield(water, yields):
    """Flour 10, water 5: 150 (IREKS-Kompendium, printed); flour 600, water 450: 175; formula 1.1: 168 (computed, 6)."""
    assert told(f"ingredients:\n  strong wheat flour: 100%\n  water: {water}\n").poured == yields


def test_gross_and_bread_yield():
    """Formula 1.1: gross 170.4, bread yield at 15 % loss 144.84 (computed, 6)."""
    found = told(STRAIGHT, given_loss(15))
    assert found.gross == D("170.4")
    assert found.baked[0].bread_yield == D("144.84")


def test_milk_is_all_water_and_not_poured():
    """Whole milk at 88.13 % water (USDA SR28 01077) counts in one yield and not in the other."""
    found = told("ingredients:\n  strong wheat flour: 100%\n  whole milk: 50%\n")
    assert (found.poured, found.all_water) == (100, D("144.065"))


def test_salt_in_the_bread():
    """100 x 2 / 170.4 / 0.85 is 1.381 g in 100 g; sodium by 2.5 is 552 mg (formulas of 12; figures computed)."""
    (one,) = told(STRAIGHT, given_loss(15)).baked
    assert round(one.salt, 3) == D("1.381")
    assert round(one.sodium_mg) == 552


@pytest.mark.parametrize(("mg", "salt"), [("490", "1.23"), ("602", "1.51")])
def test_sodium_of_bread_in_the_usda_table(mg, salt):
    """White bread 490 mg is 1.23 g, French 602 mg 1.51 g of salt (USDA SR28 18069, 18029; 12)."""
    one = baked(D(100), D(salt), None, D(0))
    assert abs(one.sodium_mg - D(mg)) < 3


def test_solids_against_the_law():
    """Flour at 13.36 % water (USDA SR28 20083) and 68 % water: 86.64 + 2 x 0.998 + 0.4 x 0.95 of 170.4; 62 %
    (21 CFR 136.110) is reached from a loss of 15.74 % (computed)."""
    found = told(STRAIGHT, given_loss(20))
    solids = D("86.64") + 2 * D("0.998") + D("0.4") * D("0.95")
    assert abs(found.baked[0].solids - solids / D("1.704") / D("0.8")) < D("1e-18")
    assert round(found.enough_loss, 2) == D("15.74")


def test_a_dry_dough_has_enough_solids_as_it_is():
    """No loss is needed, and never one below nothing."""
    assert told("ingredients:\n  strong wheat flour: 100%\n  water: 30%\n").enough_loss == 0


@given(total=st.integers(140, 260), solids=st.integers(60, 130))
@QUICK
def test_at_the_loss_that_is_enough_the_bread_is_lawful_and_no_more(total, solids):
    """62 % of it are solids, unless the dough held more already."""
    loss = enough_loss(D(total), D(solids))
    found = baked(D(total), D(2), D(solids), loss).solids
    assert abs(found - 62) < D("1e-18") if loss else found >= 62


def test_water_that_is_not_known_makes_no_solids():
    """It is named, and nothing is made up."""
    own = "stone flour:\n  kind: flour\n  flour: 100\n"
    found = told(STRAIGHT.replace("strong wheat flour", "stone flour"), given_loss(15), own=own)
    assert found.water_not_known == ("stone flour",)
    assert (found.baked[0].solids, found.enough_loss) == (None, None)


def test_without_a_loss_three_usual_ones_are_told():
    """10 to 20 % is a typical German range (6)."""
    assert [one.loss for one in told(STRAIGHT).baked] == [10, 15, 20]


def test_a_levain_holds_the_moisture_of_its_flour():
    """Half wheat flour at 11.92 % (USDA SR28 20081), half water: 55.96 of 100."""
    page = "ingredients:\n  strong wheat flour: 80%\n  levain: 40%\n  water: 45%\n"
    (one,) = told(page, given_loss(10)).baked
    solids = D("86.64") * D("0.8") + 40 * (1 - D("0.5596"))
    assert abs(one.solids - solids / D("1.65") / D("0.9")) < D("1e-18")


@pytest.mark.parametrize(
    ("measured", "specific"),
    [
        ("volume: 2100 ml\n  baked weight: 500 g", "4.2"),
        ("volume: 2.1 l\n  baked weight: 0.5 kg", "4.2"),
        ("volume: 2100 ml", None),
        ("baked weight: 500 g", None),
        ("volume: big\n  baked weight: 500 g", None),
        ("volume: 2100 g\n  baked weight: 500 g", None),
    ],
)
def test_specific_volume(measured, specific):
    """ml to the g, where both were measured of one bread (computed)."""
    found = volume(trial(f"measured:\n  {measured}\n"))
    assert (found and found.specific) == (specific and D(specific))
