"""A trial only gains: what was lost or changed without a correction is named."""

from __future__ import annotations

import pytest

from builders import trial
from ovenleaf.domain.trial_facts import lost, trial_facts

KEPT = """
    baker: noor
    state: in hand
    bake_date: 2026-11-12
    batch: 600 g flour
    weighed:
      water: 369 g
      poolish:
        water: 120 g
    flours:
      strong wheat flour: lot B-114
    kitchen:
      room: 21 C
    steps:
      - bulk: 58 min at 26 C
    measured:
      pieces: 12
    scale: 0 to 10
    scores:
      noor:
        crumb: 7
        crust: 0
        faults: [too pale]
        note: tight
    log:
      - 2026-11-12T07:39:00+01:00 +6 g water
    left_out: power failed
    """
CORRECTION = """
    corrections:
      - field: {}
        was: a
        now: b
        by: noor
        at: 2026-11-19T18:02:00+01:00
        why: digits swapped
    """


def changed(old, new, more=""):
    assert KEPT.count(old) == 1
    return trial(KEPT.replace(old, new) + more)


def test_the_same_page_has_lost_nothing():
    """Nor does anything count that was never there."""
    assert lost(trial(KEPT), trial(KEPT)) == ()


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("state: in hand", "state: done"),
        ("    log:", "      tomas:\n        crust: 6\n    log:"),
        ("faults: [too pale]", "faults: [too pale, flat]"),
        ("room: 21 C", "room: 21 C\n      oven: stall oven"),
        ("58 min at 26 C", "58 min at 26 C\n      - bake: 19 min at 220 C"),
        ("left_out", "question: does water soften the crumb?\n    left_out"),
        ("+6 g water", "+6 g water\n      - 2026-11-12T08:39:00+01:00 folded"),
        ("- bulk: 58", "- second mix: 9 min\n      - bulk: 58"),
        ("- 2026-11-12T07:39", "- 2026-11-12T07:10:00+01:00 fed\n      - 2026-11-12T07:39"),
    ],
)
def test_what_is_added_is_a_gain(old, new):
    """A trial goes on, and more is told of it."""
    assert lost(trial(KEPT), changed(old, new)) == ()


LOSSES = [
    ("water: 369 g", "water: 396 g", "weighed.water"),
    ("        water: 120 g", "        flour: 120 g", "weighed.poolish:water"),
    ("batch: 600 g flour", "batch: 700 g flour", "batch"),
    ("      strong wheat flour: lot B-114", "      rye flour: lot B-114", "flours.strong wheat flour"),
    ("room: 21 C", "room: 22 C", "kitchen.room"),
    ("bulk: 58 min", "bulk: 68 min", "steps.bulk"),
    ("pieces: 12", "pieces: 11", "measured.pieces"),
    ("crumb: 7", "crumb: 8", "scores.noor.crumb"),
    ("        crust: 0\n", "", "scores.noor.crust"),
    ("[too pale]", "[flat]", "scores.noor.faults.too pale"),
    ("scale: 0 to 10", "scale: 0 to 20", "scale"),
    ("+6 g water", "+9 g water", "log.1"),
    ("    left_out: power failed\n", "", "left_out"),
    ("baker: noor", "baker: tomas", "baker"),
]


@pytest.mark.parametrize(("old", "new", "field"), LOSSES, ids=[row[2] for row in LOSSES])
def test_what_was_changed_or_dropped_is_named(old, new, field):
    """Under the name that a correction gives it."""
    assert lost(trial(KEPT), changed(old, new)) == (field,)


@pytest.mark.parametrize(("old", "new", "field"), LOSSES, ids=[row[2] for row in LOSSES])
def test_a_correction_that_names_it_makes_it_good(old, new, field):
    """A correction of something else does not."""
    assert lost(trial(KEPT), changed(old, new, CORRECTION.format(field))) == ()
    assert lost(trial(KEPT), changed(old, new, CORRECTION.format("question"))) == (field,)


def test_an_old_correction_is_no_excuse_for_a_new_change():
    """Each change is named once, when it is made."""
    before = trial(KEPT + CORRECTION.format("weighed.water"))
    after = changed("water: 369 g", "water: 396 g", CORRECTION.format("weighed.water"))

    assert lost(before, after) == ("weighed.water",)


def test_a_correction_may_not_go_away():
    """It is part of the page like any other value."""
    before = trial(KEPT + CORRECTION.format("batch"))

    assert lost(before, trial(KEPT)) == ("corrections.1",)


def test_blank_is_no_value_and_zero_is_one():
    """A crust of 0 was given; a flavour that was not is no fact."""
    facts = trial_facts(trial(KEPT))

    assert facts["scores.noor.crust"] == "0"
    assert "scores.noor.flavour" not in facts
