"""What the oven takes, as bakes measured it."""

from __future__ import annotations

from decimal import Decimal as D

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders import QUICK, trial
from ovenleaf.domain.losses import bake_loss, baked_loss, measured_loss
from ovenleaf.domain.scaling import Wanted, batch

WEIGHED = "measured:\n  dough weight: {}\n  baked weight: {}\n"


def test_a_measured_loss():
    """A piece of 320 g that is 252 g baked and cooled has lost 21.25 % (computed, 6.3)."""
    assert baked_loss(D(320), D(252)) == D("21.25")


def test_two_phrasings_of_one_book():
    """50 to 65 g extra for 500 g baked are 9.1 to 11.5 % of the dough, not 10 to 13 (W. Gisslen, Professional Baking,
    2008, prints both)."""
    assert [round(baked_loss(D(500 + extra), D(500)), 1) for extra in (50, 65)] == [D("9.1"), D("11.5")]


@pytest.mark.parametrize(
    ("dough", "baked", "loss"),
    [("1020 g", "884 g", "13.3"), ("1.02 kg", "884", "13.3"), ("2 lb", "28 oz", "12.5")],
)
def test_a_trial_in_any_weight(dough, baked, loss):
    """1020 g of dough that come out as 884 g have lost 13.3 % (computed), whatever the unit."""
    assert round(bake_loss(trial(WEIGHED.format(dough, baked))), 1) == D(loss)


@pytest.mark.parametrize(
    "text", ["measured:\n  dough weight: 900 g\n", "measured:\n  baked weight: 800 g\n", "note: x\n"]
)
def test_a_trial_without_both_weights_measures_nothing(text):
    """Not recorded is not zero."""
    page = text if text.startswith("measured") else ""
    assert bake_loss(trial(page or "batch: 600 g flour\n")) is None


def test_the_mean_of_finished_bakes():
    """Bakes that were cut short, and loaves heavier than their dough, teach nothing."""
    trials = [
        trial(WEIGHED.format("1000 g", "880 g")),
        trial(WEIGHED.format("1000 g", "860 g")),
        trial("state: cut short\n" + WEIGHED.format("1000 g", "600 g")),
        trial(WEIGHED.format("880 g", "1000 g")),
        trial("batch: 600 g flour\n"),
    ]
    found = measured_loss(trials)
    assert (found.pct, found.bakes, found.source) == (13, 2, "trials")
    assert measured_loss(trials[2:]) is None


@given(baked=st.integers(20, 2000), loss=st.decimals("0.1", 40, places=1))
@QUICK
def test_a_loss_that_is_planned_for_is_the_one_that_is_measured(baked, loss):
    """The dough weighed up for a baked piece loses just that on its way to it."""
    piece = batch(Wanted(pieces=1, each=D(baked), baked=True, bake_loss=loss), D(170)).each
    assert abs(baked_loss(piece, D(baked)) - loss) < D("1e-20")
