"""Changes as typed on a command line."""

from __future__ import annotations

from decimal import Decimal

import pytest

from ovenleaf.domain.edits import Edit, EditFault, edit, meant
from ovenleaf.domain.quantity import Amount, Unit


def share(value):
    return Amount(Decimal(value), Unit.SHARE)


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ("water=68%", {"item": "water", "text": "68%", "amount": share(68)}),
        ("water=68", {"item": "water", "text": "68", "amount": share(68)}),
        (" water = 68,5 % ", {"item": "water", "text": "68,5 %", "amount": share("68.5")}),
        ("water=340 g", {"item": "water", "text": "340 g", "amount": Amount(Decimal(340), Unit.G)}),
        ("egg=2pc", {"item": "egg", "text": "2pc", "amount": Amount(Decimal(2), Unit.PIECE)}),
        ("water=+3points", {"item": "water", "text": "+3points", "points": Decimal(3)}),
        ("water=-1.5 points", {"item": "water", "text": "-1.5 points", "points": Decimal("-1.5")}),
        ("water=+1point", {"item": "water", "text": "+1point", "points": Decimal(1)}),
        ("salt=-0,2%", {"item": "salt", "text": "-0,2%", "points": Decimal("-0.2")}),
        ("butter=none", {"item": "butter", "text": "none", "word": "none"}),
        ("wheat=Rest", {"item": "wheat", "text": "Rest", "word": "rest"}),
        ("poolish:water=110%", {"part": "poolish", "item": "water", "text": "110%", "amount": share(110)}),
        ("rye-sour: rye sour = none", {"part": "rye-sour", "item": "rye sour", "text": "none", "word": "none"}),
        ("bulk.time=60min", {"item": "bulk.time", "text": "60min"}),
        ("final proof=50 min at 28 C, covered", {"item": "final proof", "text": "50 min at 28 C, covered"}),
        ("bulk.clock=07:40", {"item": "bulk.clock", "text": "07:40"}),
        ("bake=a=b", {"item": "bake", "text": "a=b"}),
    ],
)
def test_a_change_is_read(typed, expected):
    """An amount, points, `none`, `rest`, or else text that may be meant for a step."""
    assert edit(typed) == Edit(typed=typed, **({"part": ""} | expected))


@pytest.mark.parametrize("typed", ["", "water", "water=", "=68%", "water 68%", "  =  "])
def test_a_change_needs_both_sides(typed):
    """Something that becomes something."""
    with pytest.raises(EditFault) as caught:
        edit(typed)
    assert (caught.value.typed, caught.value.kind, caught.value.fault) == (typed, "form", None)


@pytest.mark.parametrize(
    ("typed", "kind"),
    [("water=1e400", "too large"), ("water=nan", "not finite"), ("salt=1/0%", "divided by zero")],
)
def test_an_amount_that_cannot_be_is_told_by_its_kind(typed, kind):
    """With the fault of the amount, so that its words can be used."""
    with pytest.raises(EditFault) as caught:
        edit(typed)
    assert caught.value.kind == kind
    assert caught.value.fault is not None


NAMES = ("strong wheat flour", "rye flour", "caraway seed", "water", "wheat malt")


@pytest.mark.parametrize(
    ("typed", "names"),
    [
        ("water", ("water",)),
        ("Caraway", ("caraway seed",)),
        ("caraway-seed", ("caraway seed",)),
        ("seed", ("caraway seed",)),
        ("wheat", ("strong wheat flour", "wheat malt")),
        ("flour", ("strong wheat flour", "rye flour")),
        ("at", ()),
        ("oil", ()),
    ],
)
def test_a_short_name_may_mean(typed, names):
    """Names one of whose words begins so; more than one is asked about."""
    assert meant(typed, NAMES) == names


def test_a_whole_name_means_itself_alone():
    """`rye flour` is not asked about because of `rye flour, coarse`."""
    assert meant("rye flour", ("rye flour", "rye flour coarse")) == ("rye flour",)
