"""A formula bowl by bowl: where each bowl goes, what is kept, and what all the flour is."""

from __future__ import annotations

from decimal import Decimal

import pytest

from builders import grams, refused, shares, sheet, told, worked
from ovenleaf.domain import faults


def decimals(**given):
    return {item.replace("_", " "): Decimal(str(value)) for item, value in given.items()}


THREE_BOWLS = """
    stages:
      scald:
        rye flour: 100 g
        water: 200 g
      poolish:
        wheat flour: 200 g
        water: 200 g
        instant yeast: 0.2 g
      dough:
        wheat flour: 700 g
        water: 300 g
        salt: 20 g
    """


def test_each_bowl_goes_into_the_last_unless_another_names_it():
    """The last bowl is the dough; all the flour is the flour of all of them."""
    made = sheet(THREE_BOWLS)

    assert made.worked.flour_g == 1000
    assert [(part.name, part.into, part.flour) for part in made.worked.parts] == [
        ("scald", "", 10),
        ("poolish", "", 20),
    ]
    assert grams(made.worked.final, Decimal(1000)) == decimals(
        wheat_flour=700, water=300, scald=300, poolish=Decimal("400.2"), salt=20
    )
    assert shares(made.worked.whole) == decimals(
        rye_flour=10, wheat_flour=90, water=70, instant_yeast=Decimal("0.02"), salt=2
    )


def test_flours_come_first_in_the_whole_formula_and_then_the_water():
    """As a whole formula is read, whatever the order of the bowls."""
    made = worked(
        """
        stages:
          soaker:
            linseed: 50 g
            water: 100 g
          dough:
            salt: 10 g
            wheat flour: 500 g
        """
    )

    assert list(shares(made.whole)) == ["wheat flour", "water", "linseed", "salt"]


def test_only_bowls_with_yeast_or_a_culture_are_prefermented():
    """A scald is not; a bowl called by the name of a culture is, though its seed is not written."""
    assert sheet(THREE_BOWLS).totals.prefermented_flour == 20
    assert sheet(THREE_BOWLS.replace("scald", "rye-sour")).totals.prefermented_flour == 30


def test_a_culture_straight_into_the_dough_is_prefermented_flour():
    """800 g of flour and 400 g of levain 1:1, in one bowl or as a whole formula: 20 %."""
    lines = "wheat flour: 800 g\n{0}water: 500 g\n{0}levain: 400 g\n"
    by_bowl = sheet("stages:\n  dough:\n    " + lines.format("    "))
    whole = sheet("ingredients:\n  " + lines.format("  "))

    assert by_bowl.totals.prefermented_flour == whole.totals.prefermented_flour == 20
    assert by_bowl.totals.all_water == whole.totals.all_water == 70
    assert by_bowl.worked.total == whole.worked.total == 170


def test_a_bowl_fed_with_no_flour_of_its_own_takes_the_pages_main_flour():
    """A seed stirred into water is of the flour that the baker keeps."""
    made = worked(
        """
        stages:
          seed:
            levain: 60 g
            water: 40 g
          dough:
            strong wheat flour: 970 g
            water: 600 g
        """
    )

    assert shares(made.whole) == decimals(strong_wheat_flour=100, water=67)


KEPT = """
    stages:
      rye-sour:
        rye flour: 250 g
        water: 250 g
        rye sour: 50 g
      dough:
        rye flour: 400 g
        wheat flour: 350 g
        water: 450 g
        salt: 20 g
    kept_for_next_time:
      rye sour: 50 g
    """


def test_what_is_kept_for_next_time_does_not_reach_the_dough():
    """550 g of sour are made with a seed of 50 g and 50 g are kept: 500 g reach the dough, half of it flour."""
    made = sheet(KEPT)
    sour = made.worked.part("rye-sour")

    assert made.worked.flour_g == 1000
    assert shares(made.worked.whole) == decimals(rye_flour=65, wheat_flour=35, water=70, salt=2)
    assert (sour.flour, sour.water, sour.kept, sour.pct) == (25, 25, 5, 55)
    assert grams(made.worked.final, Decimal(1000))["rye-sour"] == 500
    assert made.totals.prefermented_flour == 25
    assert sum(share.pct for share in made.worked.final) == made.worked.total


def test_kept_in_shares_of_all_the_flour():
    """The same in percent: 5 % of all the flour is kept."""
    page = KEPT.replace("0 g\n", "%\n")

    assert shares(worked(page).whole) == shares(worked(KEPT).whole)
    assert worked(page).part("rye-sour").kept == 5


@pytest.mark.parametrize(
    ("kept", "kind"),
    [
        ("rye sour: 550 g", faults.KeptTooMuch),
        ("rye sour: 600 g", faults.KeptTooMuch),
        ("rye sour: 5%", faults.MixedAmounts),
        ("rye sour: 1 pc", faults.NoWeight),
        ("poolish: 50 g", faults.NoSuchPart),
        ("dough: 50 g", faults.NoSuchPart),
    ],
)
def test_what_cannot_be_kept_is_refused(kept, kind):
    """No more than is made, in the measure of the page, from a bowl that goes into the dough."""
    page = KEPT.replace("kept_for_next_time:\n      rye sour: 50 g", f"kept_for_next_time:\n      {kept}")
    fault = refused(page)

    assert type(fault) is kind
    assert fault.path == ("kept_for_next_time", kept.partition(":")[0])


@pytest.mark.parametrize(
    ("before", "after", "kind", "path"),
    [
        ("wheat flour: 700 g", "wheat flour: 70%", faults.MixedAmounts, ("stages", "dough", "wheat flour")),
        ("salt: 20 g", "poolish: 400.2 g", faults.PartListed, ("stages", "dough", "poolish")),
        ("salt: 20 g", "biga: all", faults.NoSuchPart, ("stages", "dough", "biga")),
        ("water: 200 g\n      poolish", "dough: all\n      poolish", faults.NoSuchPart, ("stages", "scald", "dough")),
        (
            "instant yeast: 0.2 g\n      dough:\n",
            "scald: all\n      dough:\n        scald: all\n",
            faults.NoSuchPart,
            ("stages", "dough", "scald"),
        ),
        ("rye flour: 100 g\n        water: 200 g", "rest: 1 h", faults.NoLines, ("stages", "scald")),
        ("salt: 20 g", "salt: 2 pc", faults.NoWeight, ("stages", "dough", "salt")),
    ],
)
def test_bowls_that_do_not_come_out_are_refused_with_their_place(before, after, kind, path):
    """A bowl goes whole into one other that stands below it, and a page keeps to one kind of measure."""
    assert before in THREE_BOWLS
    fault = refused(THREE_BOWLS.replace(before, after))

    assert type(fault) is kind
    assert fault.path == path


def test_bowls_in_shares_must_have_100_percent_of_flour():
    """In shares of all the flour, whichever bowl a flour stands in."""
    page = THREE_BOWLS.replace("0 g\n", "%\n").replace("0.2 g", "0.02%")

    assert shares(worked(page).whole) == shares(worked(THREE_BOWLS).whole)
    assert worked(page).flour_g is None
    fault = refused(page.replace("wheat flour: 70%", "wheat flour: 60%"))
    assert isinstance(fault, faults.FlourSum)
    assert fault.total == 90


def test_bowls_without_flour_are_no_dough():
    """There is nothing to reckon percentages of."""
    fault = refused("stages:\n  dough:\n    water: 100 g\n")

    assert isinstance(fault, faults.NoFlour)


def test_a_bowl_may_be_mixed_of_other_bowls_alone():
    """Two builds poured together, and then into the dough."""
    made = worked(
        """
        stages:
          one:
            wheat flour: 100 g
            water: 100 g
          two:
            one: all
          dough:
            wheat flour: 900 g
            water: 600 g
        """
    )

    assert made.part("one").into == "two"
    assert (made.part("two").pct, made.part("two").flour) == (20, 10)
    assert shares(made.whole) == decimals(wheat_flour=100, water=70)


def test_notes_stay_with_their_bowl():
    """Soft butter in the dough is soft there; the whole formula shows the first note there is."""
    made = worked(
        """
        stages:
          poolish:
            wheat flour: 200 g, sifted
            water: 200 g
          dough:
            wheat flour: 800 g
            water: 400 g, cold
            unsalted butter: 30 g, soft
        """
    )

    assert {share.item: share.note for share in made.part("poolish").lines} == {"wheat flour": "sifted", "water": ""}
    assert {share.item: share.note for share in made.final}["water"] == "cold"
    notes = {share.item: share.note for share in made.whole}
    assert notes == {"wheat flour": "sifted", "water": "cold", "unsalted butter": "soft"}


def test_a_bowl_with_an_amount_of_its_own_below_is_told_to_go_in_whole():
    """Counted twice it would spoil the percentages silently."""
    finding = told(THREE_BOWLS.replace("salt: 20 g", "poolish: 400 g"))

    assert (finding.line, finding.text) == (13, "poolish: 400 g")
    assert finding.fix == "It goes in whole: write poolish: all"
