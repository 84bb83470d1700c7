"""Batches, losses, scales, water temperature, ice, yeast and time, against the sources named beside each check."""

from __future__ import annotations

from datetime import datetime, timedelta
from decimal import Decimal as D

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders import formula, pantry, worked
from ovenleaf.domain.household import household
from ovenleaf.domain.ingredients import Kind
from ovenleaf.domain.losses import baked_loss
from ovenleaf.domain.scaling import BadBatch, Scale, Wanted, as_weighed, batch, dilutions, weigh_up
from ovenleaf.domain.schedule import NoTimes, schedule
from ovenleaf.domain.temperature import ice, warming, water_temperature
from ovenleaf.domain.yeast import swap, time_at

STRAIGHT = "ingredients:\n  wheat flour: 100%\n  water: 68%\n  salt: 2%\n  instant yeast: 0.4%\n"
POOLISH = (
    "ingredients:\n  strong wheat flour: 100%\n  water: 62%\n  salt: 2%\n  instant yeast: 0.62%\npreferments:\n"
    "  poolish:\n    takes: 20% of the flour\n    strong wheat flour: 100%\n    water: 100%\n    instant yeast: 0.1%\n"
)


def close(value, expected, places=2):
    """Equal to so many decimals."""
    assert round(float(value), places) == expected


def celsius(fahrenheit):
    """Degrees Celsius."""
    return (D(fahrenheit) - 32) / D("1.8")


def test_a_batch_by_pieces():
    """12 x 275 g of the straight dough (total 170.4 %): flour 1936.62 g (computed; W. Gisslen, Professional Baking)."""
    made = batch(Wanted(pieces=12, each=D(275)), worked(STRAIGHT).total)
    close(made.flour, 1936.62)
    close(made.flour * D("0.68"), 1316.90)
    close(made.dough, 3300)


def test_pieces_as_baked():
    """A roll of 60 g baked at 15 % loss is 70.6 g of dough; a baguette of 250 g at 22 %, 320.5 g (computed)."""
    close(batch(Wanted(pieces=1, each=D(60), baked=True, bake_loss=D(15)), D(170)).each, 70.6, 1)
    close(batch(Wanted(pieces=1, each=D(250), baked=True, bake_loss=D(22)), D(170)).each, 320.5, 1)


def test_losses_multiply():
    """10 % on the bench and 20 % in the oven leave 72 % of the dough, not 70 (computed)."""
    made = batch(Wanted(pieces=10, each=D(72), baked=True, bench_loss=D(10), bake_loss=D(20)), D(170))
    close(made.dough, 1000)


def test_a_measured_loss():
    """320 g of dough that come out as 252 g have lost 21.25 % (computed)."""
    close(baked_loss(D(320), D(252)), 21.25)


@pytest.mark.parametrize(
    "wanted",
    [
        Wanted(pieces=0, each=D(85)),
        Wanted(pieces=12, each=D(85), bench_loss=D(100)),
        Wanted(pieces=12, each=D(85), bake_loss=D(-1)),
        Wanted(flour=D(0)),
    ],
)
def test_a_batch_that_cannot_be(wanted):
    """Nothing to make, or a loss that leaves nothing."""
    with pytest.raises(BadBatch):
        batch(wanted, D(170))


@given(flour=st.integers(200, 20000), step=st.sampled_from(["0.1", "1", "5"]))
def test_water_takes_up_the_rounding(flour, step):
    """Salt and yeast are the nearest the scale can show; the dough is off by no more than water's own step."""
    known, scale = pantry(), Scale(step=D(step), fine=D("0.1"))
    bowls = weigh_up(worked(POOLISH), D(flour), scale, known)
    for bowl in bowls:
        assert bowl.total == sum(line.grams for line in bowl.lines)
        for line in bowl.lines:
            if known.get(line.item).kind in (Kind.SALT, Kind.YEAST) and not line.few:
                assert abs(line.grams - line.exact) <= scale.step_at(line.exact) / 2
    exact = D(flour) * worked(POOLISH).total / 100
    assert abs(bowls[-1].total - exact) <= D(step) + D("0.5")


def test_what_is_too_little_for_the_scale_is_diluted():
    """0.24 g of yeast on a scale of 0.1 g: 1 g into 99 g of water, and 24 g of that."""
    known, scale = pantry(), Scale()
    bowls = weigh_up(worked(POOLISH), D(1200), scale, known)
    (one,) = dilutions(bowls, scale, known)
    assert (one.bowl, one.item, one.stir, one.water, one.take) == ("poolish", "instant yeast", D(1), D(99), D(24))


def test_the_rounding_is_worked_back():
    """The printed weights come to the formula again, to a tenth of a point."""
    known = pantry()
    shares = dict(as_weighed(weigh_up(worked(POOLISH), D(1000), Scale(), known), known))
    assert abs(shares["water"] - 62) < D("0.2")
    assert abs(shares["salt"] - 2) < D("0.02")


@pytest.mark.parametrize(
    ("target", "others", "friction", "water"),
    [
        (75, (65, 65), 8, 87),  # San Francisco Baking Institute, Artisan I handout 2009
        (75, (71, 71, 71), 20, 67),  # Cook's Illustrated how-to
        (78, (85, 67), 0, 82),  # A Treatise on Baking (J. E. Wihlfahrt, author from memory)
        (78, (72, 62), 0, 100),  # the same
    ],
)
def test_water_temperature_in_fahrenheit(target, others, friction, water):
    """Published cases in °F, worked in °C: the rise is the friction shared by all factors."""
    n = len(others) + 1
    named = tuple((str(place), celsius(degrees)) for place, degrees in enumerate(others))
    answer = water_temperature(celsius(target), named, D(friction) / D("1.8") / n)
    close(answer.water * D("1.8") + 32, water, 1)


@pytest.mark.parametrize(
    ("target", "others", "friction", "water"),
    [
        (24, (21, 20), 2, 29),  # a French vocational lesson
        (24, (20, 22, 21), 8, 25),  # computed
        (25, (19, 18, 20), 16, 27),  # computed
    ],
)
def test_water_temperature_in_celsius(target, others, friction, water):
    """Published and computed cases in °C."""
    named = tuple((str(place), D(degrees)) for place, degrees in enumerate(others))
    close(water_temperature(D(target), named, D(friction) / (len(others) + 1)).water, water)


def test_the_mixer_s_warming_is_learned_in_degrees():
    """Dough 26; flour 20, room 22, water 18: a friction of 18 over three factors, a rise of 6 °C (computed)."""
    assert warming(D(26), (D(20), D(22), D(18))) == 6


@pytest.mark.parametrize(
    ("tap", "needed", "printed"),
    [
        (70, 50, 0.109),
        (60, 40, 0.115),
        (80, 60, 0.103),
        (40, 20, 0.130),
        (32, 20, 0.083),
        (32, 0, 0.222),
        (32, -30, 0.430),
        (80, -30, 0.573),
    ],
)
def test_ice_against_a_published_table(tap, needed, printed):
    """A published bakery ice table, lb of ice to the lb of water, within 0.002 (but for a slip at 50/35, 0.087)."""
    assert abs(float(ice(D(1), celsius(tap), celsius(needed))) - printed) < 0.002


def test_ice_for_forty_kilograms():
    """40 kg, tap 20 °C, needed 10 °C: 4.0 kg of ice (computed); a tap that is cold enough needs none."""
    close(ice(D(40), D(20), D(10)), 4.0)
    assert ice(D(40), D(8), D(10)) == 0


def test_yeast_for_yeast():
    """30 g fresh are 12.0 active dry or 9.9 instant (J. Hamelman, Bread, 2004); water keeps the dough as heavy."""
    known = pantry()
    fresh, dry, instant = (known.get(f"{kind} yeast") for kind in ("fresh", "active dry", "instant"))
    close(swap(fresh, dry, D(30)).new, 12.0)
    close(swap(fresh, instant, D(30)).new, 9.9)
    close(swap(fresh, instant, D(1)).water, 0.67)
    there = swap(fresh, instant, D(30))
    close(swap(instant, fresh, there.new).new, 30.0)


def test_time_against_temperature():
    """120 min at 24 °C moved to 20 °C: 175.7 min by 10 % a degree, 160.9 by doubling per 17 °F (two trade rules)."""
    low, high = time_at(D(120), D(24), D(20))
    close(low, 160.9, 1)
    close(high, 175.7, 1)
    assert time_at(D(120), D(24), D(4)) is None
    assert time_at(D(120), D(24), D(24)) == (D(120), D(120))


STEPS = (
    "ingredients:\n  wheat flour: 100%\nprocess:\n  - mix: 9 min\n  - bulk: 60 to 75 min at 26 C, until doubled\n"
    "  - shape: round\n  - bake: 18 min at 220 C\n"
)


def test_a_schedule_runs_backwards_and_forwards():
    """Ready at seven is begun at 05:18; begun then it is ready at seven; the longer end of a range is planned for."""
    ready = datetime.fromisoformat("2026-11-29T07:00:00+01:00")
    back = schedule(formula(STEPS), ready=ready)
    assert back[0].begins == ready - timedelta(minutes=102)
    assert [slot.name for slot in back] == ["mix", "bulk", "bake"]
    assert schedule(formula(STEPS), begin=back[0].begins) == back
    assert back[1].sign == "doubled"


def test_a_cold_room_moves_what_waits():
    """At 20 instead of 26 °C the bulk takes longer, the oven does not, and it is said why."""
    slots = schedule(formula(STEPS), begin=datetime.fromisoformat("2026-11-29T07:00:00+01:00"), room=D(20))
    bulk, bake = slots[1], slots[2]
    assert bulk.low > 60
    assert bulk.high > 75
    assert "26 to 20" in bulk.adjusted
    assert (bake.low, bake.adjusted) == (18, "")


def test_a_formula_without_times_has_no_schedule():
    """Nothing can be laid out where no step says how long."""
    with pytest.raises(NoTimes):
        schedule(formula(STRAIGHT), ready=datetime.fromisoformat("2026-11-29T07:00:00+01:00"))


@pytest.mark.parametrize(
    ("grams", "item", "told"),
    [
        ("50", "egg", "1 egg"),
        ("411", "strong wheat flour", "3 cups"),  # USDA SR28 20083: 137 g the cup, dipped
        ("6", "salt", "1 teaspoon"),  # USDA SR28 02047: 6.0 g
        ("14.2", "unsalted butter", "1 tablespoon"),  # USDA SR28 01145
        ("0.2", "instant yeast", "a small pinch"),
    ],
)
def test_cups_and_spoons(grams, item, told):
    """Household weights of USDA SR28, to the parts that people can measure."""
    assert household(D(grams), pantry().get(item)) == told
