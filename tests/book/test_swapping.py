"""Another yeast, flour or preferment for one bake: the whole stays what it was."""

from __future__ import annotations

from decimal import Decimal as D

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders import QUICK, pantry, sheet
from ovenleaf.book.steps.swapping import swapped
from ovenleaf.book.steps.weighing import CannotWeigh

POOLISH = """
    ingredients:
      strong wheat flour: 100%
      water: 65%
      salt: 2%
      instant yeast: 0.62%
    preferments:
      poolish:
        takes: 20% of the flour
        strong wheat flour: 100%
        water: 100%
        instant yeast: 0.1%
    """
WEIGHED = """
    ingredients:
      strong wheat flour: 1 kg
      water: 0.65 kg
      salt: 20 g
      instant yeast: 2 tsp
    """
BOWLS = """
    stages:
      sponge:
        strong wheat flour: 300 g
        water: 300 g
        instant yeast: 1 g
      dough:
        strong wheat flour: 700 g
        water: 350 g
        salt: 20 g
        instant yeast: 3 g
    """
MILK = "ingredients:\n  strong wheat flour: 500 g\n  whole milk: 300 g\n  fresh yeast: 12 g\n"
PAGES = {"poolish": POOLISH, "weighed": WEIGHED, "bowls": BOWLS}


def shares(on):
    """The whole, item by item."""
    return {share.item: share.pct for share in on.worked.whole}


def test_fresh_yeast_for_instant():
    """0.62 % instant are 1.879 % fresh (1 : 0.33, J. Hamelman, Bread, 2004), and 1.26 points less water."""
    on, (one,), others = swapped(sheet(POOLISH), ("fresh yeast",), pantry())
    got = shares(on)
    assert round(got["fresh yeast"], 3) == D("1.879")
    assert "instant yeast" not in got
    assert round(65 - got["water"], 3) == round(-one.water, 3) == D("1.259")
    assert others == ()
    assert abs(on.worked.total - sheet(POOLISH).worked.total) < D("1e-20")


@given(page=st.sampled_from(sorted(PAGES)), other=st.sampled_from(["fresh yeast", "active dry yeast"]))
@QUICK
def test_there_and_back_is_the_same_formula(page, other):
    """In shares, in weights, in bowls: the same amounts in every bowl, and on the way the dough stays as heavy."""
    before = sheet(PAGES[page])
    there, _, _ = swapped(before, (other,), pantry())
    back, _, _ = swapped(there, ("instant yeast",), pantry())
    assert abs(there.worked.total - before.worked.total) < D("1e-18")
    for one, two in zip((before, before), (back, back), strict=True):
        bowls = zip((*one.worked.parts, one.worked), (*two.worked.parts, two.worked), strict=True)
        for left, right in bowls:
            lines = (left.lines, right.lines) if hasattr(left, "lines") else (left.final, right.final)
            assert [line.item for line in lines[0]] == [line.item for line in lines[1]]
            assert all(abs(a.pct - b.pct) < D("1e-18") for a, b in zip(*lines, strict=True))


def test_units_of_all_sorts():
    """Yeast by the spoon and water by the kilogram: grams all through, and no water is lost."""
    on, _, _ = swapped(sheet(WEIGHED), ("fresh yeast",), pantry())
    got = shares(on)
    assert abs(sum(got.values()) - sheet(WEIGHED).worked.total) < D("1e-18")
    assert 60 < got["water"] < 65


def test_a_dough_that_pours_no_water_gets_a_line_of_it_and_loses_it_again():
    """12 g fresh are 3.96 g instant and 8.04 g water; swapped back, the line is gone."""
    there, _, _ = swapped(sheet(MILK), ("instant yeast",), pantry())
    assert round(shares(there)["water"] * 5, 2) == D("8.04")
    back, _, _ = swapped(there, ("fresh yeast",), pantry())
    assert shares(back) == shares(sheet(MILK))


def test_two_yeasts_become_one():
    """Fresh yeast beside instant: all of it as one kind, added up."""
    page = POOLISH.replace("      instant yeast: 0.62%", "      instant yeast: 0.62%\n      fresh yeast: 1%")
    on, swaps, _ = swapped(sheet(page), ("fresh yeast",), pantry())
    assert [one.old_item for one in swaps] == ["instant yeast"]
    assert round(shares(on)["fresh yeast"], 3) == D("2.879")


def test_a_flour_for_a_flour():
    """Weight for weight everywhere, and added to what there is of it already; the rest stays."""
    page = POOLISH.replace("      strong wheat flour: 100%\n      water: 65%", _TWO_FLOURS)
    on, swaps, (words,) = swapped(sheet(page), ("wheat=spelt flour",), pantry())
    assert shares(on)["spelt flour"] == 100
    assert {item: pct for item, pct in shares(on).items() if "flour" not in item} == {
        item: pct for item, pct in shares(sheet(page)).items() if "flour" not in item
    }
    assert swaps == ()
    assert words == "spelt flour stands in for wheat, weight for weight"


_TWO_FLOURS = "      strong wheat flour: 80%\n      spelt flour: 20%\n      water: 65%"


@given(percent=st.integers(45, 125))
@QUICK
def test_a_preferment_of_any_hydration_leaves_the_whole_alone(percent):
    """The final dough gives what water the preferment takes (1.9: all total the same, computed)."""
    on, _, _ = swapped(sheet(POOLISH), (f"poolish={percent}%",), pantry())
    assert shares(on) == shares(sheet(POOLISH))
    poolish, final = on.worked.parts[0], {share.item: share.pct for share in on.worked.final}
    assert poolish.water == D(percent) / 5
    assert final["water"] == 65 - D(percent) / 5


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ("butter", "butter is not a yeast"),
        ("salt=fresh yeast", "salt is not a yeast"),
        ("instant yeast=butter", "butter is not a yeast"),
        ("levain", "levain is not a yeast"),
        ("instant yeast", "made with instant yeast as it is"),
        ("fresh yeast=instant yeast", "has no fresh yeast to swap"),
        ("strong wheat flour=butter", "butter is neither a flour nor a yeast"),
        ("butter=lard", "lard is neither a flour nor a yeast"),
        ("rye flour=spelt flour", "has no flour rye flour"),
        ("poolish=much", "much is no hydration"),
        ("poolish=400%", "the dough does not come out"),
        ("poolish=0%", "0% is no hydration"),
    ],
)
def test_what_cannot_be_swapped(typed, told):
    """Refused in words that name it."""
    with pytest.raises(CannotWeigh) as caught:
        swapped(sheet(POOLISH), (typed,), pantry())
    assert told in caught.value.what
