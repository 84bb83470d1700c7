"""Baker's percentages against worked examples in print, in every form a page may have."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders import QUICK, formula, grams, pantry, refused, shares, sheet, told, worked
from ovenleaf.domain import faults
from ovenleaf.domain.dough import work_out
from ovenleaf.domain.numbers import portion, rounded, share_of
from ovenleaf.domain.percent import NOTHING, Share, expanded
from ovenleaf.domain.totals import totals

THOUSAND = Decimal(1000)


def in_grams(rows, flour, places=2):
    return {item: rounded(mass, places) for item, mass in grams(rows, Decimal(flour)).items()}


def decimals(**given):
    return {item.replace("_", " "): Decimal(str(value)) for item, value in given.items()}


STRAIGHT = """
    ingredients:
      wheat flour: 1000 g
      water: 680 g
      salt: 20 g
      instant yeast: 4 g
    """


def test_a_straight_dough_in_grams_comes_out_in_percent():
    """100 / 68 / 2 / 0.4 %, together 170.4 % (our own arithmetic)."""
    made = worked(STRAIGHT)

    assert shares(made.whole) == decimals(wheat_flour=100, water=68, salt=2, instant_yeast="0.4")
    assert made.total == Decimal("170.4")
    assert made.flour_g == 1000


def test_a_straight_dough_is_scaled_to_its_pieces():
    """12 pieces of 275 g want 1936.62 g of flour, and all four lines come to 3300.0 g (1.1, our own arithmetic)."""
    made = worked(STRAIGHT)
    flour = Decimal(12 * 275) * 100 / made.total

    at_hand = in_grams(made.whole, flour)
    assert at_hand == decimals(wheat_flour="1936.62", water="1316.90", salt="38.73", instant_yeast="7.75")
    assert sum(at_hand.values()) == 3300


def test_shares_of_the_whole_dough_are_another_thing():
    """True percent of the same dough: 58.69 / 39.91 / 1.17 / 0.23 (1.1, our own arithmetic)."""
    made = worked(STRAIGHT)

    of_dough = [rounded(share_of(share.pct, made.total), 2) for share in made.whole]
    assert of_dough == [Decimal(d) for d in ("58.69", "39.91", "1.17", "0.23")]


def test_a_printed_formula_is_within_its_rounding():
    """A trade bakery page scales 59.15 lb of flour to 100.50 lb of dough; exact is 100.47.

    Salt is printed to 0.01 lb and water to 0.05 lb, each within half of that; the yeast, 0.213 lb, is rounded up.
    """
    made = worked(
        """
        ingredients:
          wheat flour: 100%
          water: 67.50%
          salt: 2.00%
          active dry yeast: 0.36%
        """
    )
    exact = grams(made.whole, Decimal("59.15"))
    printed = decimals(wheat_flour="59.15", water="39.95", salt="1.18", active_dry_yeast="0.22")

    off = {item: abs(printed[item] - mass) for item, mass in exact.items()}
    assert made.total == Decimal("169.86")
    assert rounded(sum(exact.values()), 2) == Decimal("100.47")
    assert sum(printed.values()) == Decimal("100.50")
    assert off["wheat flour"] == 0
    assert off["salt"] <= Decimal("0.005")
    assert off["water"] <= Decimal("0.025")
    assert off["active dry yeast"] <= Decimal("0.01")


def test_a_poolish_of_a_third_as_a_book_has_it():
    """M. Philip, Breaking Bread (2017, title from memory): 33 % prefermented, 1000 g of dough.

    The book takes the rounded 194 g from the rounded 398 g and prints 204 g of water; exact is 205.28 (1.4).
    """
    made = worked(
        """
        ingredients:
          wheat flour: 100%
          water: 68%
          salt: 2%
          instant yeast: 0.5%
        preferments:
          poolish:
            takes: 33% of the flour
            wheat flour: 100%
            water: 100%
            instant yeast: 0.1%
        """
    )
    flour = THOUSAND * 100 / made.total
    poolish = made.part("poolish")

    assert made.total == Decimal("170.5")
    whole = decimals(wheat_flour="586.51", water="398.83", salt="11.73", instant_yeast="2.93")
    assert in_grams(made.whole, flour) == whole
    assert in_grams(poolish.lines, flour) == decimals(wheat_flour="193.55", water="193.55", instant_yeast="0.19")
    final = in_grams(made.final, flour)
    assert (final["wheat flour"], final["water"]) == (Decimal("392.96"), Decimal("205.28"))
    assert sum(line.own for line in poolish.lines) == Decimal("200.1")
    book = decimals(wheat_flour=393, water=204, salt=12, instant_yeast=3, poolish=388)
    assert all(abs(book[item] - mass) < Decimal("1.3") for item, mass in final.items())


BIGA = """
    ingredients:
      wheat flour: 20.00 lb
      water: 14.60 lb
      salt: 0.40 lb
      instant yeast: 0.24 lb
    preferments:
      biga:
        wheat flour: 4.00 lb
        water: 2.40 lb
    """
BIGA_BY_BOWL = """
    stages:
      biga:
        wheat flour: 4.00 lb
        water: 2.40 lb
        instant yeast: 0.001 lb
      dough:
        biga: all
        wheat flour: 16.00 lb
        water: 12.20 lb
        salt: 0.40 lb
        instant yeast: 0.239 lb
    """


@pytest.mark.parametrize("page", [BIGA, BIGA_BY_BOWL], ids=["whole", "bowl by bowl"])
def test_a_biga_of_a_fifth_as_a_mill_has_it(page):
    """King Arthur Flour, Bakery Formulas, Ciabatta with Biga: 20 % prefermented, 73 % water, total 176.2 % (1.5).

    The sheet gives no yeast to the biga. Bowl by bowl a trace stands in it, taken from the dough's, since a
    bowl of flour and water alone is a soaker.
    """
    made = sheet(page)
    of_flour = shares(made.worked.whole)

    assert of_flour == decimals(wheat_flour=100, water=73, salt=2, instant_yeast="1.2")
    assert made.worked.total == Decimal("176.2")
    assert made.totals.prefermented_flour == 20
    biga = made.worked.part("biga")
    assert share_of(biga.water, biga.flour) == 60
    final = grams(made.worked.final, Decimal(20))
    assert (final["wheat flour"], final["water"], final["salt"]) == (16, Decimal("12.2"), Decimal("0.4"))
    dough = portion(made.worked.total, Decimal(20))
    assert dough == Decimal("35.24")
    assert rounded(dough / Decimal("1.125"), 2) == Decimal("31.32")


LEVAIN = """
    ingredients:
      white flour: 900 g
      whole wheat flour: 100 g
      water: 780 g
      salt: 21 g
      instant yeast: 2 g
    preferments:
      levain:
        white flour: 160 g
        whole wheat flour: 40 g
        water: 160 g
    """
LEVAIN_BY_BOWL = """
    stages:
      levain:
        white flour: 160 g
        whole wheat flour: 40 g
        water: 160 g
      dough:
        white flour: 740 g
        whole wheat flour: 60 g
        water: 620 g
        salt: 21 g
        instant yeast: 2 g
    """


@pytest.mark.parametrize("page", [LEVAIN, LEVAIN_BY_BOWL], ids=["whole", "bowl by bowl"])
def test_a_levain_of_two_flours_as_a_book_has_it(page):
    """K. Forkish, Flour Water Salt Yeast (2012): levain flour 20 % of all, 1803 g of dough both ways (1.7)."""
    made = sheet(page)

    assert shares(made.worked.whole) == decimals(
        white_flour=90, whole_wheat_flour=10, water=78, salt="2.1", instant_yeast="0.2"
    )
    final = decimals(white_flour=740, whole_wheat_flour=60, water=620, levain=360, salt=21, instant_yeast=2)
    assert grams(made.worked.final, THOUSAND) == final
    assert sum(final.values()) == portion(made.worked.total, THOUSAND) == 1803
    assert made.totals.prefermented_flour == 20
    levain = made.worked.part("levain")
    assert share_of(levain.water, levain.flour) == 80


def preferment(k, name="poolish"):
    """F 1000, h 0.70, p 0.20, salt 2 %, in percent."""
    return f"""
    ingredients:
      wheat flour: 100%
      water: 70%
      salt: 2%
    preferments:
      {name}:
        takes: 20% of the flour
        wheat flour: 100%
        water: {k}%
    """


def by_bowl(k, name="levain"):
    """The same bowl by bowl in g; a levain by name, so that the bowl counts as leavened."""
    return f"""
    stages:
      {name}:
        wheat flour: 200 g
        water: {2 * k} g
      dough:
        wheat flour: 800 g
        water: {700 - 2 * k} g
        salt: 20 g
    """


@pytest.mark.parametrize(
    ("k", "total", "final_water"),
    [(60, 320, 580), (100, 400, 500), (125, 450, 450)],
    ids=["stiff 60 %", "liquid 100 %", "levain 125 %"],
)
@pytest.mark.parametrize("page", [preferment, by_bowl], ids=["whole", "bowl by bowl"])
def test_the_same_dough_with_three_preferments(page, k, total, final_water):
    """All come to 1720 g; only the split moves (our own arithmetic)."""
    made = worked(page(k, "levain"))
    final = grams(made.final, THOUSAND)

    assert portion(made.total, THOUSAND) == 1720
    assert shares(made.whole) == decimals(wheat_flour=100, water=70, salt=2)
    assert final == decimals(wheat_flour=800, water=final_water, levain=total, salt=20)
    assert totals(made, pantry()).prefermented_flour == 20


@pytest.mark.parametrize("k", [60, 100, 125])
def test_whole_and_bowl_by_bowl_are_one_dough(k):
    """The whole formula, the parts and the final dough are equal, whichever way the page is written."""
    one, other = worked(preferment(k, "levain")), worked(by_bowl(k))

    assert shares(one.whole) == shares(other.whole)
    assert shares(one.final) == shares(other.final)
    assert shares(one.part("levain").lines) == shares(other.part("levain").lines)


def test_water_that_is_not_there_is_refused_with_its_grams():
    """F 1000, h 0.60, p 0.60, k 1.25 leaves -150 g of water (our own arithmetic)."""
    page = """
        ingredients:
          wheat flour: 100%
          water: 60%
          salt: 2%
        preferments:
          levain:
            takes: 60% of the flour
            wheat flour: 100%
            water: 125%
        """
    fault = refused(page)
    finding = told(page)

    assert isinstance(fault, faults.NegativeDough)
    assert (fault.item, fault.whole, fault.taken) == ("water", 60, (("levain", 75),))
    assert fault.path == ("preferments", "levain", "water")
    assert (finding.line, finding.text) == (10, "water: 125%")
    assert "150 g of water to 1000 g of flour" in finding.message
    assert "15.0 %" in finding.message


SEEDED = """
    ingredients:
      wheat flour: 100%
      water: 70%
      salt: 2%
    preferments:
      leaven:
        takes: 30% of the flour
        wheat flour: 90%
        water: 90%
        levain: 20%
    """
SEEDED_BY_BOWL = """
    stages:
      leaven:
        wheat flour: 270 g
        water: 270 g
        levain: 60 g
      dough:
        wheat flour: 700 g
        water: 400 g
        salt: 20 g
    """


@pytest.mark.parametrize("page", [SEEDED, SEEDED_BY_BOWL], ids=["whole", "bowl by bowl"])
def test_ripe_seed_inside_the_levain_counts_as_its_flour_and_water(page):
    """F 1000, p 0.30, h 0.70: levain 600 g of which seed 60, final flour 700, water 400."""
    made = sheet(page)
    leaven = made.worked.part("leaven")

    assert shares(made.worked.whole) == decimals(wheat_flour=100, water=70, salt=2)
    assert grams(made.worked.final, THOUSAND) == decimals(wheat_flour=700, water=400, leaven=600, salt=20)
    assert grams(leaven.lines, THOUSAND) == decimals(wheat_flour=270, water=270, levain=60)
    assert (leaven.flour, leaven.water, leaven.leavened) == (30, 30, True)
    assert made.totals.prefermented_flour == 30


def test_a_preferment_may_be_called_what_its_seed_is_called():
    """A levain that is seeded with levain takes its seed out of the whole formula too."""
    made = worked(SEEDED.replace("leaven:", "levain:"))

    assert grams(made.final, THOUSAND) == decimals(wheat_flour=700, water=400, levain=600, salt=20)


def test_a_seed_is_fed_with_the_flour_of_its_part():
    """The list makes a levain of wheat flour; a baker who feeds it strong flour has no other flour in the dough."""
    made = worked(SEEDED.replace("wheat flour", "strong wheat flour"))

    assert shares(made.whole) == decimals(strong_wheat_flour=100, water=70, salt=2)
    assert grams(made.final, THOUSAND)["strong wheat flour"] == 700


def test_80_flour_and_40_levain_are_100_flour():
    """The levain brings the other 20 %."""
    made = sheet(
        """
        ingredients:
          strong wheat flour: 80%
          water: 50%
          levain: 40%
          salt: 2%
        """
    )

    assert made.worked.total == 172
    assert (made.totals.water_poured, made.totals.all_water) == (50, 70)
    assert made.totals.prefermented_flour == 20


def test_levain_on_top_of_100_flour_is_refused():
    """The flours come to 110 %; nothing is rescaled in silence."""
    fault = refused("ingredients:\n  strong wheat flour: 100%\n  water: 70%\n  levain: 20%\n")

    assert isinstance(fault, faults.FlourSum)
    assert (fault.total, fault.cultures) == (110, 10)


@pytest.mark.parametrize("flour", ["99.96%", "100.04%", "100.05%", "99.95%"])
def test_flours_within_a_twentieth_of_a_percent_are_100(flour):
    """Two flours typed with rounding are not refused."""
    assert worked(f"ingredients:\n  wheat flour: {flour}\n  water: 65%\n").flour_g is None


@pytest.mark.parametrize("flour", ["99.94%", "100.06%", "80%", "1%"])
def test_flours_that_are_not_100_are_refused(flour):
    """The sum is told, and the page stays as it is."""
    fault = refused(f"ingredients:\n  wheat flour: {flour}\n  water: 65%\n")

    assert isinstance(fault, faults.FlourSum)
    assert fault.total == Decimal(flour.rstrip("%"))


def test_in_measures_no_sum_is_asked():
    """All the flour is the flour that arrives, a levain's own included."""
    made = worked("ingredients:\n  wheat flour: 400 g\n  levain: 200 g\n  water: 250 g\n")

    assert made.flour_g == 500
    assert shares(made.whole) == decimals(wheat_flour=80, levain=40, water=50)


NESTED = """
    ingredients:
      wheat flour: 100%
      water: 68%
      salt: 2%
    preferments:
      seed-build:
        takes: 5% of the flour
        wheat flour: 80%
        water: 80%
        levain: 40%
      leaven:
        takes: 25% of the flour
        seed build: all
        wheat flour: 80%
        water: 80%
    """
NESTED_BY_BOWL = """
    stages:
      seed-build:
        wheat flour: 40 g
        water: 40 g
        levain: 20 g
      leaven:
        seed build: all
        wheat flour: 200 g
        water: 200 g
      dough:
        wheat flour: 750 g
        water: 430 g
        salt: 20 g
    """


@pytest.mark.parametrize("page", [NESTED, NESTED_BY_BOWL], ids=["whole", "bowl by bowl"])
def test_a_preferment_inside_a_preferment(page):
    """The inner one goes whole into the outer, and its flour is counted once."""
    made = sheet(page)
    inner, outer = made.worked.part("seed-build"), made.worked.part("leaven")

    assert shares(made.worked.whole) == decimals(wheat_flour=100, water=68, salt=2)
    assert (inner.into, inner.flour, inner.pct) == ("leaven", 5, 10)
    assert (outer.into, outer.flour, outer.water, outer.pct) == ("", 25, 25, 50)
    assert shares(outer.lines) == {"seed-build": 10, "wheat flour": 20, "water": 20}
    assert grams(made.worked.final, THOUSAND) == decimals(wheat_flour=750, water=430, leaven=500, salt=20)
    assert made.totals.prefermented_flour == 25


def test_flour_scalded_without_yeast_is_not_prefermented():
    """What counts is whether the part holds yeast or a culture (common practice, no source)."""
    made = sheet(
        """
        ingredients:
          wheat flour: 90%
          rye flour: 10%
          water: 70%
          salt: 2%
        preferments:
          poolish:
            takes: 20% of the flour
            wheat flour: 100%
            water: 100%
            instant yeast: 0.1%
        soakers:
          scald:
            takes: 10% of the flour
            rye flour: 100%
            water: 200%
        """.replace("salt: 2%", "salt: 2%\n          instant yeast: 0.5%")
    )

    assert made.totals.prefermented_flour == 20
    assert made.worked.part("scald").flour == 10
    assert not made.worked.part("scald").leavened
    assert shares(made.worked.final)["wheat flour"] == 70
    assert "rye flour" not in shares(made.worked.final)


def test_a_soaker_without_flour_is_in_shares_of_all_the_flour():
    """Seeds and water are taken out of the final dough as they stand."""
    made = worked(
        """
        ingredients:
          wheat flour: 100%
          water: 70%
          linseed: 8%
        soakers:
          soaker:
            linseed: 8%
            water: 12%
        """
    )

    assert shares(made.final) == decimals(wheat_flour=100, water=58, soaker=20)
    assert made.part("soaker").lines[0].own is None


@pytest.mark.parametrize(
    ("page", "kind", "path"),
    [
        ("ingredients:\n  wheat flour: 100%\n  water: 340 g\n", faults.MixedAmounts, ("ingredients", "water")),
        ("ingredients:\n  water: 65%\n", faults.NoFlour, ("ingredients",)),
        ("ingredients:\n  wheat flour: as needed\n", faults.NoLines, ("ingredients",)),
        ("ingredients:\n  wheat flour: 100 g\n  walnut: 3 pc\n", faults.NoWeight, ("ingredients", "walnut")),
        ("ingredients:\n  wheat flour: 100%\n  biga: all\n", faults.NoSuchPart, ("ingredients", "biga")),
        ("title: Empty\n", faults.BothForms, ("ingredients",)),
        (
            "ingredients:\n  wheat flour: 100%\nstages:\n  dough:\n    wheat flour: 100%\n",
            faults.BothForms,
            ("stages",),
        ),
        (
            preferment(100).replace("water: 100%", "rye: all"),
            faults.NoSuchPart,
            ("preferments", "poolish", "rye"),
        ),
        (
            preferment(100).replace("wheat flour: 100%\n        water: 100%", "water: 100%"),
            faults.NoFlour,
            ("preferments", "poolish"),
        ),
        (
            preferment(100)
            .replace("takes: 20% of the flour", "rest: 12 h")
            .replace("100%\n        water: 100%", "20 g"),
            faults.MixedAmounts,
            ("preferments", "poolish", "wheat flour"),
        ),
        (
            preferment(100).replace("salt: 2%", "salt: 2%\n      poolish: 40%"),
            faults.PartListed,
            ("ingredients", "poolish"),
        ),
        (
            preferment(100).replace("salt: 2%", "salt: 2%\n      poolish: all"),
            faults.PartListed,
            ("ingredients", "poolish"),
        ),
        (
            NESTED.replace("seed build: all", "seed build: 10%"),
            faults.PartListed,
            ("preferments", "leaven", "seed build"),
        ),
    ],
)
def test_what_does_not_come_out_is_refused_with_its_place(page, kind, path):
    """The kind of fault, and the keys of the page that lead to its line."""
    fault = refused(page)

    assert type(fault) is kind
    assert fault.path == path


def test_a_preferment_in_weights_must_take_what_it_says():
    """`takes` beside weights that say something else would be one of two truths."""
    page = BIGA.replace("biga:\n", "biga:\n        takes: {}\n")

    assert shares(worked(page.format("20%")).final) == shares(worked(BIGA).final)
    fault = refused(page.format("25%"))
    assert isinstance(fault, faults.TakesOther)
    assert (fault.path, fault.takes, fault.flour) == (("preferments", "biga", "takes"), 25, 20)


def test_what_is_added_as_needed_stays_out_of_the_sum():
    """Flour for the bench is no share of anything."""
    made = worked("ingredients:\n  wheat flour: 100%\n  water: 60%\n  rye flour: as needed, for the bench\n")

    assert shares(made.whole) == decimals(wheat_flour=100, water=60)


@pytest.mark.parametrize(
    ("takes", "flour", "says"),
    [
        ("20% of the flour", "80%", ["strong wheat flour: 100%"]),
        ("20% of the flour", "70%", None),
    ],
)
def test_flour_that_forgot_the_preferment_is_told_what_to_write(takes, flour, says):
    """80 % beside a poolish that takes 20 % is what goes in the bowl; the whole of it is 100 %."""
    finding = told(
        f"""
        ingredients:
          strong wheat flour: {flour}
          water: 62%
        preferments:
          poolish:
            takes: {takes}
            strong wheat flour: 100%
            water: 100%
        """
    )

    assert (finding.line, finding.text) == (3, f"strong wheat flour: {flour}")
    found = [line.strip() for line in finding.fix.splitlines()[1:]]
    assert (found or None) == says


def test_flour_that_forgot_two_preferments_is_told_each_flour():
    """A rye sour's flour is rye, its seed's included, and the lines together are 100 %."""
    page = """
        ingredients:
          strong wheat flour: {}
          rye flour: {}
          water: 62%
          instant yeast: 0.5%
        preferments:
          poolish:
            takes: 20% of the flour
            strong wheat flour: 100%
            water: 100%
            instant yeast: 0.1%
          rye-sour:
            takes: 10% of the flour
            rye flour: 90%
            water: 90%
            rye sour: 20%
        """
    finding = told(page.replace("          rye flour: {}\n", "").format("70%"))

    assert [line.strip() for line in finding.fix.splitlines()[1:]] == ["strong wheat flour: 90%", "rye flour: 10%"]
    mended = worked(page.format("90%", "10%"))
    assert shares(mended.final)["strong wheat flour"] == 70
    assert "rye flour" not in shares(mended.final)


def test_a_culture_may_be_fed_with_another():
    """A young levain made of a ripe one comes down to flour and water, and knows its own hydration."""
    own = """
        young levain:
          kind: culture
          made_of:
            levain: 20
            wheat flour: 90
            water: 90
        """
    known = pantry(own)
    raw = expanded([Share(item="young levain", pct=Decimal(100))], known, frozenset(), "")

    assert raw == decimals(wheat_flour=50, water=50)
    assert (known.get("young levain").flour, known.get("young levain").water) == (50, 50)


masses = st.integers(1, 5_000_000).map(lambda thousandths: Decimal(thousandths) / 1000)
doughs = st.fixed_dictionaries(
    {"wheat flour": masses, "rye flour": masses, "water": masses, "salt": masses, "linseed": masses}
)


def ingredients(amounts, unit):
    return "ingredients:\n" + "".join(f"  {item}: {mass:f}{unit}\n" for item, mass in amounts.items())


@QUICK
@given(doughs)
def test_grams_to_percent_to_grams(amounts):
    """Whatever was weighed comes back from its percentages, to a millionth of a gram."""
    made = worked(ingredients(amounts, " g"))
    back = grams(made.whole, made.flour_g)

    assert all(abs(back[item] - mass) < Decimal("1e-6") for item, mass in amounts.items())
    assert made.flour_g == amounts["wheat flour"] + amounts["rye flour"]
    assert abs(sum(pct for item, pct in shares(made.whole).items() if item.endswith("flour")) - 100) < Decimal("1e-20")


percent = st.integers(1, 20_000).map(lambda hundredths: Decimal(hundredths) / 100)


@QUICK
@given(st.integers(1, 9_999), percent, percent, st.integers(1, 10**6))
def test_percent_to_grams_to_percent(rye, water, salt, flour):
    """A page in percent says the same when it is written out in grams for any amount of flour."""
    page = {"wheat flour": 100 - Decimal(rye) / 100, "rye flour": Decimal(rye) / 100, "water": water, "salt": salt}
    weighed = {item: portion(pct, Decimal(flour)) for item, pct in page.items()}
    made = worked(ingredients(weighed, " g"))

    assert {item: rounded(pct, 15) for item, pct in shares(made.whole).items()} == page


@QUICK
@given(
    st.integers(1, 60),
    st.integers(40, 150),
    st.integers(0, 60),
    st.integers(1, 40),
    st.integers(0, 30),
)
def test_the_final_dough_and_the_parts_are_the_whole(takes, k, rye, salt, soaked):
    """Item by item: what is in the final dough and in the parts comes to the whole formula."""
    made = worked(
        f"""
        ingredients:
          wheat flour: {100 - rye}%
          {f"rye flour: {rye}%" if rye else "sugar: 1%"}
          water: {100 + soaked}%
          linseed: 10%
          salt: {Decimal(salt) / 10}%
          instant yeast: 1%
        preferments:
          sponge:
            takes: {min(takes, 100 - rye)}%
            wheat flour: 100%
            water: {min(k, 100)}%
            salt: 0.1%
            instant yeast: 0.1%
        soakers:
          soaker:
            linseed: 9%
            water: {1 + soaked}%
        """
    )
    parts = {part.name for part in made.parts}
    found = {share.item: share.pct for share in made.final if share.item not in parts}
    for part in made.parts:
        for line in part.lines:
            found[line.item] = found.get(line.item, Decimal(0)) + line.pct

    for item, pct in shares(made.whole).items():
        assert abs(found.get(item, Decimal(0)) - pct) <= NOTHING
    assert sum(share.pct for share in made.final) == made.total


@QUICK
@given(
    st.sampled_from([LEVAIN, BIGA, LEVAIN_BY_BOWL, SEEDED_BY_BOWL, NESTED_BY_BOWL]),
    st.integers(1, 10**5).map(lambda n: Decimal(n) / 100),
)
def test_scaling_a_page_in_weights_changes_no_share(page, factor):
    """Twice or a seventh of everything is the same formula."""
    lines = [_scaled(line, factor) for line in page.splitlines()]
    one, other = worked(page), work_out(formula("\n".join(lines)), pantry())

    for before, after in ((one.whole, other.whole), (one.final, other.final)):
        assert {s.item: rounded(s.pct, 18) for s in before} == {s.item: rounded(s.pct, 18) for s in after}
    assert abs(other.flour_g - one.flour_g * factor) < Decimal("1e-15")


def _scaled(line, factor):
    head, colon, amount = line.partition(": ")
    value, _, unit = amount.partition(" ")
    return f"{head}: {Decimal(value) * factor:f} {unit}" if colon and unit else line
