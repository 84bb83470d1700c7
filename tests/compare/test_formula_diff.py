"""Two formulas compared: the rows that are shown, and how many things differ that could each make a difference."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from builders import QUICK, pantry, sheet
from ovenleaf.compare.formula_diff import ItemRow, compare
from ovenleaf.compare.headline import headline

ROLL = """
    makes: 24 rolls of 85 g
    aims:
      crumb: soft and even
    ingredients:
      wheat flour: 90%
      rye flour: 10%
      water: 65%
      salt: 2%
      unsalted butter: 3%, soft
      instant yeast: 0.62%
    preferments:
      poolish:
        takes: 20% of the flour
        wheat flour: 100%
        water: 100%
        instant yeast: 0.1%
        rest: 12 h at 21 C
    process:
      - first mix: 3 min, low
      - bulk: 60 min at 26 C, covered
      - bake: 18 min at 220 C, steam
    outside:
      egg: as needed, for the wash
    """


def diff(before, after, own=""):
    return compare(sheet(before, own=own), sheet(after, own=own), pantry(own))


def changed(*pairs, page=ROLL):
    for old, new in pairs:
        assert page.count(old) == 1, old
        page = page.replace(old, new)
    return page


def test_the_same_page_has_no_difference():
    """All items stand in the rows, none of them changed."""
    same = diff(ROLL, ROLL)

    assert (same.changes, same.differing, same.process, same.said, same.independent) == ((), (), (), (), 0)
    assert [row.item for row in same.items] == [
        "wheat flour", "rye flour", "water", "salt", "unsalted butter", "instant yeast",
    ]  # fmt: skip
    assert all(row.change == 0 for row in (*same.items, *same.totals))
    assert headline(same) == "the same dough"


RULE = [
    ("one item up", [("water: 65%", "water: 68%")], ["water"]),
    ("one item gone", [("      unsalted butter: 3%, soft\n", "")], ["unsalted butter"]),
    ("one item new", [("salt: 2%", "salt: 2%\n      caraway seed: 1%")], ["caraway seed"]),
    ("two items", [("water: 65%", "water: 68%"), ("salt: 2%", "salt: 1.8%")], ["salt", "water"]),
    (
        "one flour for another, which cannot move alone",
        [("wheat flour: 90%", "wheat flour: 80%"), ("rye flour: 10%", "rye flour: 20%")],
        ["rye flour"],
    ),
    (
        "three flours, two of them free",
        [("wheat flour: 90%", "wheat flour: 80%\n      spelt flour: 15%"), ("rye flour: 10%", "rye flour: 5%")],
        ["rye flour", "spelt flour"],
    ),
    ("the preferment's share", [("takes: 20%", "takes: 30%")], ["share of poolish"]),
    ("the preferment's hydration", [("water: 100%", "water: 110%")], ["hydration of poolish"]),
    ("the preferment's leaven", [("yeast: 0.1%", "yeast: 0.2%")], ["leaven in poolish"]),
    (
        "share, hydration and leaven",
        [("takes: 20%", "takes: 30%"), ("water: 100%", "water: 110%"), ("yeast: 0.1%", "yeast: 0.2%")],
        ["share of poolish", "hydration of poolish", "leaven in poolish"],
    ),
    (
        "one flour for another in the preferment alone",
        [("        wheat flour: 100%", "        wheat flour: 50%\n        rye flour: 50%")],
        ["wheat flour in poolish"],
    ),
    ("how the preferment rests", [("rest: 12 h", "rest: 16 h")], ["rest of poolish"]),
    ("one field of a step", [("60 min at 26 C", "75 min at 26 C")], ["bulk time"]),
    ("two fields of a step", [("60 min at 26 C", "75 min at 28 C")], ["bulk temperature", "bulk time"]),
    ("a step that is new", [("- bake:", "- fold: once\n      - bake:")], ["fold"]),
    ("what stands outside", [("egg: as needed, for the wash", "egg: 1 pc, for the wash")], ["egg"]),
    ("a note", [("3%, soft", "3%, cold")], []),
    ("an aim", [("soft and even", "open and moist")], []),
    ("what it makes", [("24 rolls", "12 rolls")], []),
]


@pytest.mark.parametrize(("pairs", "differing"), [row[1:] for row in RULE], ids=[row[0] for row in RULE])
def test_independent_changes_are_counted(pairs, differing):
    """Changed items that are not flour, changed flours less one, each part's share, hydration and leaven, each field.

    Notes and aims change no dough.
    """
    made = diff(ROLL, changed(*pairs))

    assert sorted(made.differing) == sorted(differing)
    assert made.independent == len(differing)


@pytest.mark.parametrize(("pairs", "differing"), [row[1:] for row in RULE], ids=[row[0] for row in RULE])
def test_the_way_back_has_as_many(pairs, differing):
    """Which of the two is older makes no difference to the count."""
    assert diff(changed(*pairs), ROLL).independent == len(differing)


DIRECT = """
    ingredients:
      wheat flour: 100%
      water: 70%
      salt: 2%
      instant yeast: 0.5%
    """


def page(takes, k, more=""):
    """The direct dough with a part of its flour and water in a poolish."""
    part = f"takes: {takes}%\n        wheat flour: 100%\n        water: {k}%\n{more}"
    return f"{DIRECT.rstrip()}\n    preferments:\n      poolish:\n        {part}"


@pytest.mark.parametrize("k", [60, 100, 125])
def test_a_preferment_in_a_direct_dough_is_one_change(k):
    """At constant whole formula nothing else moves (20 % prefermented, three hydrations)."""
    made = diff(DIRECT, page(20, k))

    assert made.differing == ("poolish",)
    assert [row for row in made.items if row.stage is None and row.change] == []
    moved = {row.name for row in made.totals if row.change}
    assert moved == {"prefermented flour"}


def test_bowl_by_bowl_is_the_same_formula():
    """However the page is written, there is no difference between one dough and itself."""
    by_bowl = """
        stages:
          poolish:
            wheat flour: 200 g
            water: 200 g
            instant yeast: 1 g
          dough:
            wheat flour: 800 g
            water: 500 g
            salt: 20 g
            instant yeast: 4 g
        """
    whole = page(20, 100, "        instant yeast: 0.5%\n")

    assert diff(whole, by_bowl).changes == ()
    assert diff(DIRECT, by_bowl).differing == ("poolish",)


@QUICK
@given(st.integers(1, 50), st.integers(40, 130), st.integers(1, 50), st.integers(40, 130))
def test_a_preferment_rearranged_at_constant_whole_moves_its_own_lines_only(takes, k, takes_after, k_after):
    """Share and hydration, each counted once; the whole formula and its other totals stay."""
    assume(takes * k <= 7000)
    assume(takes_after * k_after <= 7000)
    made = diff(page(takes, k), page(takes_after, k_after))

    expected = ["share of poolish"] * (takes != takes_after) + ["hydration of poolish"] * (k != k_after)
    assert list(made.differing) == expected
    assert all(row.change == 0 for row in made.items if row.stage is None)
    assert {row.name for row in made.totals if row.change} <= {"prefermented flour"}


SOAKED = """
    ingredients:
      wheat flour: 100%
      water: 75%
      linseed: 8%
    soakers:
      soaker:
        linseed: 8%
        water: 12%
    """


@pytest.mark.parametrize(
    ("pairs", "differing"),
    [
        ([("8%\n    soakers", "10%\n    soakers"), ("8%\n        water", "10%\n        water")], ["linseed"]),
        ([("water: 12%", "water: 16%")], ["water in soaker"]),
        ([("water: 75%", "water: 80%")], ["water"]),
    ],
    ids=["more seeds, all of them soaked", "water moved into the soaker", "water in the dough"],
)
def test_a_soaker_without_flour_is_counted_once(pairs, differing):
    """What moved in the soaker as in the whole formula is one change."""
    assert list(diff(SOAKED, changed(*pairs, page=SOAKED)).differing) == differing


NESTED = """
    ingredients:
      wheat flour: 100%
      water: 70%
      salt: 2%
    preferments:
      seed:
        takes: 5%
        wheat flour: 80%
        water: 80%
        levain: 40%
      leaven:
        takes: 25%
        seed: all
        wheat flour: {flour}%
        water: {flour}%
    """


def test_a_larger_seed_in_a_levain_is_one_change():
    """The flour and water beside it give way."""
    larger = NESTED.replace("takes: 5%", "takes: 10%").format(flour=60)

    assert diff(NESTED.format(flour=80), larger).differing == ("share of seed",)


@pytest.mark.parametrize("name", ["leaven", "levain"])
def test_more_ripe_culture_in_a_levain_is_its_leaven_alone(name):
    """Seed from 20 to 40 % of the levain's flour, its own flour and water less by as much, whatever it is called."""
    before = "takes: 30%\n        wheat flour: 90%\n        water: 90%\n        levain: 20%"
    base = NESTED.split("preferments")[0] + f"preferments:\n      {name}:\n        "

    made = diff(base + before, base + before.replace("90%", "80%").replace("20%", "40%"))
    assert made.differing == (f"leaven in {name}",)


def test_rows_of_a_part_stand_only_where_its_split_moved():
    """Its flour of all the flour first, then its own lines in shares of its own flour."""
    made = diff(ROLL, changed(("takes: 20%", "takes: 30%"), ("water: 100%", "water: 110%")))

    assert [row for row in made.items if row.stage] == [
        ItemRow(item="takes", stage="poolish", before=Decimal(20), after=Decimal(30)),
        ItemRow(item="water", stage="poolish", before=Decimal(100), after=Decimal(110)),
    ]


def test_an_item_on_one_side_only_is_not_zero():
    """None is not in the formula; its change is counted from nothing."""
    made = diff(ROLL, changed(("      unsalted butter: 3%, soft\n", "")))
    butter = next(row for row in made.items if row.item == "unsalted butter")

    assert (butter.before, butter.after, butter.change) == (3, None, -3)


@pytest.mark.parametrize(
    ("old", "new", "row"),
    [
        ("60 min at 26 C", "75 min at 26 C", ("bulk", "time", "60 min", "75 min", "15 min longer")),
        ("18 min at 220 C", "18 min at 230 C", ("bake", "temperature", "220 °C", "230 °C", "10 °C warmer")),
        ("60 min at 26 C", "60 min", ("bulk", "temperature", "26 °C", "", "no longer said")),
        ("3 min, low", "3 min, medium", ("first mix", "speed", "low", "medium", "changed")),
        (", covered", "", ("bulk", "words", "covered", "", "no longer said")),
        ("- bake: 18 min at 220 C, steam", "", ("bake", "", "18 min at 220 C, steam", "", "left out")),
    ],
)
def test_steps_are_compared_field_by_field(old, new, row):
    """With the gap in words."""
    (made,) = diff(ROLL, changed((old, new))).process

    assert (made.step, made.field, made.before, made.after, made.words) == row


def test_the_same_time_in_other_words_is_the_same():
    """60 min and 1 h, 26 C and 78.8 F: no row and no change to count."""
    for typed in (("60 min", "1 h"), ("26 C", "78.8 F")):
        made = diff(ROLL, changed(typed))
        assert (made.independent, made.process) == (0, ())


def test_steps_in_another_order_are_one_change():
    """Nothing else is said of them."""
    mix, bulk = "- first mix: 3 min, low", "- bulk: 60 min at 26 C, covered"
    made = diff(ROLL, changed((mix, "- first"), (bulk, mix), ("- first\n", f"{bulk}\n")))

    assert made.differing == ("order of the steps",)


def test_a_comparison_in_one_line():
    """The first three things, and how many more."""
    few = diff(ROLL, changed(("water: 65%", "water: 68%"), ("salt: 2%", "salt: 1.8%")))
    more = (("water: 65%", "water: 68%"), ("salt: 2%", "salt: 1.8%"), ("3%, soft", "4%, soft"), ("60 min", "75 min"))
    many = diff(ROLL, changed(*more))

    assert headline(few) == "water 65 to 68 %, salt 2 to 1.8 %"
    assert headline(many).endswith(", and 1 more")
