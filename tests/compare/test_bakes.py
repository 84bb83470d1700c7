"""What was planned beside what was done, and two bakes side by side: not recorded is never as planned."""

from __future__ import annotations

from decimal import Decimal

import pytest

from builders import pantry, sheet, trial, worked
from ovenleaf.compare.bakes import BakeRow, against_plan, done, planned, two_bakes
from ovenleaf.compare.trial_view import trial_view
from ovenleaf.domain.losses import bake_loss, baked_loss
from ovenleaf.domain.numbers import rounded

ROLL = """
    ingredients:
      strong wheat flour: 100%
      water: 65%
      salt: 2%
      unsalted butter: 3%
    preferments:
      poolish:
        takes: 20% of the flour
        strong wheat flour: 100%
        water: 100%
    process:
      - second mix: 9 min, dough 25 C
      - bulk: 60 min at 26 C
      - final proof: 50 min at 28 C
      - bake: 18 min at 220 C
    """


def rows(page):
    made = done(trial(page), worked(ROLL), pantry())
    return {row.name: row for row in against_plan(planned(sheet(ROLL)), made)}


def test_a_culture_fed_for_the_dough_has_the_plan_of_its_line():
    """`ripe, 14 h at 26 C` behind its amount is how long it is to stand."""
    page = ROLL.replace("salt: 2%", "salt: 2%\n      rye sour: 10%, ripe, 14 h at 26 C").replace(
        "flour: 100%", "flour: 95%", 1
    )
    stood = done(trial("steps:\n  - rye sour ripening: 15 h at 24 C\n"), worked(page), pantry())
    row = next(row for row in against_plan(planned(sheet(page)), stood) if row.name == "rye sour ripening")
    assert (row.before, row.after) == ("14 h", "15 h")


def test_what_was_weighed_stands_beside_its_plan_in_percent():
    """396 g of water on 600 g of flour are 66 %, planned 65."""
    made = rows("batch: 600 g flour\nweighed:\n  water: 396 g\n")

    assert made == {"water": BakeRow(name="water", before="65.0 %", after="66.0 %", words="1.0 points more")}
    assert made["water"].differs


@pytest.mark.parametrize("batch", ["1020 g dough", "12 rolls of 85 g", "600 g flour", "0.6 kg flour"])
def test_a_batch_may_be_said_in_flour_dough_or_pieces(batch):
    """All are 600 g of flour in a dough of 170 %."""
    assert rows(f"batch: {batch}\nweighed:\n  water: 390 g\n")["water"].words == "same"


def test_without_a_batch_a_weight_stays_a_weight():
    """It is no share of a batch that nobody told; the share that was planned stands beside it, and no gap is told."""
    made = rows("weighed:\n  water: 396 g\n")["water weighed"]

    assert (made.before, made.after, made.words) == ("65.0 %", "396 g", "of an unknown batch")


def test_all_the_flour_that_was_weighed_is_the_batch_where_none_was_told():
    """Water weighed beside it is a share of that flour; a batch that was told goes before."""
    assert rows("weighed:\n  strong wheat flour: 800 g\n  water: 528 g\n")["water"].after == "66.0 %"
    told = rows("batch: 1000 g flour\nweighed:\n  strong wheat flour: 800 g\n  water: 528 g\n")
    assert told["water"].after == "52.8 %"


def test_what_was_not_recorded_has_no_row():
    """Silence is not a measurement."""
    assert rows("batch: 600 g flour\n") == {}


def test_a_bowls_own_weight_stands_beside_the_bowls_plan():
    """120 g of water in the poolish are 20 % of all the flour, as planned."""
    made = rows("batch: 600 g flour\nweighed:\n  poolish:\n    water: 126 g\n")

    assert made["water in poolish"] == BakeRow(
        name="water in poolish", before="20.0 %", after="21.0 %", words="1.0 points more"
    )


def test_measures_are_turned_into_weights():
    """Two tablespoons of butter are 28.4 g (USDA SR28)."""
    assert rows("batch: 600 g flour\nweighed:\n  unsalted butter: 2 tbsp\n")["unsalted butter"].after == "4.73 %"


@pytest.mark.parametrize(
    ("page", "row"),
    [
        ("steps:\n  - bulk: 58 min at 26 C\n", ("bulk", "60 min", "58 min", "2 min shorter")),
        ("steps:\n  - final proof: 50 min at 30 C\n", ("final proof, temperature", "28 °C", "30 °C", "2 °C warmer")),
        ("steps:\n  - second mix: dough 25.5 C\n", ("dough temperature", "25 °C", "25.5 °C", "0.5 °C warmer")),
        ("measured:\n  dough temperature: 24 C\n", ("dough temperature", "25 °C", "24 °C", "1 °C cooler")),
        ("steps:\n  - bake: 19 min at 220 C\n", ("time in the oven", "18 min", "19 min", "1 min longer")),
        ("steps:\n  - bake: 18 min at 428 F\n", ("oven", "220 °C", "428 °F", "same")),
        ("kitchen:\n  room: 21 C\n", ("room", "", "21 °C", "")),
        ("flours:\n  strong wheat flour: lot B-114\n", ("strong wheat flour, which", "", "lot B-114", "")),
    ],
)
def test_a_condition_beside_its_plan(page, row):
    """Planned left, done right, the gap in words; nothing planned is an empty side and no gap."""
    made = rows(page)[row[0]]

    assert (made.name, made.before, made.after, made.words) == row


def test_how_the_bread_came_out_is_no_condition():
    """Pieces, weights and cooling are the outcome."""
    page = "measured:\n  pieces: 12\n  dough weight: 1020 g\n  baked weight: 884 g\n  cooled: 2 h\n"

    assert rows(page) == {}


def bakes(one, other):
    made = [done(trial(page), worked(ROLL), pantry()) for page in (one, other)]
    return {row.name: row for row in two_bakes(*made)}


def test_two_bakes_condition_by_condition():
    """What differs, what is the same, and what one page does not say."""
    made = bakes(
        "batch: 600 g flour\nweighed:\n  water: 396 g\nsteps:\n  - final proof: 47 min\n  - bake: 18 min at 220 C\n",
        "batch: 1 kg flour\nweighed:\n  water: 680 g\nsteps:\n  - final proof: 35 min\n  - bake: 220 C\n",
    )

    assert made["water"].words == "2.0 points more"
    assert made["final proof"].words == "12 min shorter"
    assert (made["oven"].words, made["oven"].differs) == ("same", False)
    assert (made["time in the oven"].after, made["time in the oven"].words) == ("", "")
    assert not made["time in the oven"].differs


def test_a_flour_of_another_lot_is_a_change_in_words():
    """There is no measure between two lots."""
    made = bakes("flours:\n  strong wheat flour: lot B-114\n", "flours:\n  strong wheat flour: lot B-120\n")

    assert made["strong wheat flour, which"].words == "changed"


def test_two_bakes_that_say_nothing_have_no_rows():
    """And so are not called the same."""
    assert bakes("", "") == {}


def test_bake_loss():
    """1020 g of dough that come out as 884 g have lost 13.3 % of the dough."""
    assert rounded(baked_loss(Decimal(1020), Decimal(884)), 1) == Decimal("13.3")


@pytest.mark.parametrize(
    ("measured", "loss"),
    [
        ("dough weight: 1020 g\n  baked weight: 884 g", "13.3"),
        ("dough weight: 1.02 kg\n  baked weight: 884", "13.3"),
        ("baked weight: 884 g", None),
        ("dough weight: 1020 g", None),
        ("dough weight: heavy\n  baked weight: 884 g", None),
        ("dough weight: 0 g\n  baked weight: 884 g", None),
        ("dough weight: 2 pc\n  baked weight: 884 g", None),
    ],
)
def test_a_loss_needs_both_weights(measured, loss):
    """What was not weighed is not reckoned."""
    found = bake_loss(trial(f"measured:\n  {measured}\n"))

    assert (None if found is None else str(rounded(found, 1))) == loss


def test_a_trial_beside_its_plan():
    """Rows, loss and what is missing, in one value."""
    view = trial_view(trial("batch: 600 g flour\nweighed:\n  water: 396 g\n"), sheet(ROLL), pantry())

    assert [row.name for row in view.rows] == ["water"]
    assert view.loss is None
    assert "which strong wheat flour" in view.missing
