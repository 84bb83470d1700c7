"""How a value of a trial is named when it is put right, and what is meant where the name is not quite it."""

from __future__ import annotations

import pytest

from ovenleaf.domain.putting_right import ChangeFault, Names, change, field_meant, nearest

NAMES = Names(
    recorded=(
        "state",
        "batch",
        "weighed.water",
        "weighed.poolish:water",
        "flours.strong wheat flour",
        "measured.dough weight",
        "scores.noor.crumb",
        "scores.noor.faults.too pale",
        "log.1",
    ),
    possible=("bake_date", "weighed.salt", "kitchen.room", "measured.pieces", "scores.noor.bake_again"),
    steps=("second mix", "bulk", "fold", "fold 2"),
)


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ("weighed.water", "weighed.water"),
        ("Weighed.Water", "weighed.water"),
        ("weighed.poolish:water", "weighed.poolish:water"),
        ("weighed.poolish.water", "weighed.poolish:water"),
        ("weighed.salt", "weighed.salt"),
        ("bake_date", "bake_date"),
        ("bake-date", "bake_date"),
        ("bake date", "bake_date"),
        ("measured.dough-weight", "measured.dough weight"),
        ("measured.height", "measured.height"),
        ("kitchen.draught", "kitchen.draught"),
        ("plan.yeast", "plan.yeast"),
        ("steps.bulk", "steps.bulk"),
        ("steps.bulk.time", "steps.bulk.time"),
        ("steps.second-mix.dough", "steps.second mix.dough temperature"),
        ("steps.fold 2.time", "steps.fold 2.time"),
        ("steps.fold.temp", "steps.fold.temperature"),
        ("scores.noor.faults.too pale", "scores.noor.faults.too pale"),
        ("scores.noor.bake-again", "scores.noor.bake_again"),
        ("log.1", "log.1"),
        ("log.2", None),
        ("water", None),
        ("weighed.honey", None),
        ("flours.rye", None),
        ("measured.peices", None),
        ("kitchen.rom", None),
        ("kitchen", None),
        ("steps.kneading", None),
        ("steps.bulk.colour", None),
        ("scores.lena.crumb", None),
    ],
)
def test_a_name_means_one_value_or_none(typed, field):
    """Capitals, hyphens and points do not matter; a slip is never taken for a value of its own."""
    assert field_meant(typed, NAMES) == field


@pytest.mark.parametrize(
    ("typed", "near"),
    [
        ("salt", "weighed.salt"),
        ("water", "weighed.water"),
        ("wieghed.water", "weighed.water"),
        ("crumb", "scores.noor.crumb"),
        ("weighed.watr", "weighed.water"),
        ("measured.peices", "measured.pieces"),
        ("kitchen.rom", "kitchen.room"),
        ("flours.wheat", "flours.strong wheat flour"),
        ("bulk", "steps.bulk"),
        ("bake_dat", "bake_date"),
        ("dough weight", "measured.dough weight"),
        ("pieces", "measured.pieces"),
    ],
)
def test_what_is_nearly_a_name_is_offered(typed, near):
    """By its end, by a word of it, or by its letters."""
    assert nearest(typed, NAMES)[0] == near


@pytest.mark.parametrize("typed", ["colour", "weighed.honey", "measured.height", "scores.lena.crumb", "xyz.abc"])
def test_what_is_far_from_every_name_is_offered_nothing(typed):
    """A wild guess would be worse than none."""
    assert [name for name in nearest(typed, NAMES) if name != "scores.noor.crumb"] == []


def test_a_change_is_read_at_its_first_sign():
    """What is right of it may hold another; `none` takes a value away."""
    one = change('flours.rye = Mill Lane, lot "B=1"')
    assert (one.field, one.value) == ("flours.rye", 'Mill Lane, lot "B=1"')
    assert change("left_out=None").value == ""
    assert (one.block, one.rest) == ("flours", "rye")


@pytest.mark.parametrize("typed", ["weighed.water", "=390g", "weighed.water=", " = "])
def test_words_that_change_nothing_are_no_change(typed):
    """Both sides must be said."""
    with pytest.raises(ChangeFault):
        change(typed)
