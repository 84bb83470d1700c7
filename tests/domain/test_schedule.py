"""A bake in clock times."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from decimal import Decimal as D
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders import QUICK, formula, worked
from ovenleaf.domain.schedule import NoTimes, later, schedule

BERLIN = ZoneInfo("Europe/Berlin")
STEPS = """
    ingredients:
      wheat flour: 100%
    process:
      - mix: 9 min
      - bulk: 60 to 75 min at 26 C, until doubled
      - shape: round
      - final proof: 50 min at 28 C
      - bake: 18 min at 220 C
    """
NESTED = """
    ingredients:
      strong wheat flour: 100%
      water: 70%
      linseed: 5%
    preferments:
      first build:
        takes: 5% of the flour
        strong wheat flour: 90%
        water: 90%
        levain: 20%
        rest: 8 h at 26 C
      levain build:
        takes: 20% of the flour
        first build: all
        strong wheat flour: 75%
        water: 75%
        rest: 4 h at 28 C
    soakers:
      seeds:
        linseed: 5%
        water: 10%
        rest: 12 h
    process:
      - mix: 10 min
      - bake: 40 min at 230 C
    """


def at(text, zone=BERLIN):
    """A time on that zone's clock."""
    return datetime.fromisoformat(text).replace(tzinfo=zone)


def clock(slots):
    """Each step with the time on the clock at which it begins."""
    return [(slot.name, f"{slot.begins:%a %H:%M}") for slot in slots]


def test_backwards_and_forwards_agree():
    """Ready at 07:00 is begun at 04:28; begun then it is ready at 07:00; a range is planned to its longer end."""
    back = schedule(formula(STEPS), ready=at("2026-11-29T07:00"))
    assert clock(back) == [
        ("mix", "Sun 04:28"),
        ("bulk", "Sun 04:37"),
        ("final proof", "Sun 05:52"),
        ("bake", "Sun 06:42"),
    ]
    assert schedule(formula(STEPS), begin=back[0].begins) == back
    assert (back[1].low, back[1].high, back[1].sign) == (60, 75, "doubled")


@given(
    minutes=st.integers(0, 3 * 24 * 60),
    room=st.one_of(st.none(), st.integers(5, 38)),
    page=st.sampled_from([STEPS, NESTED]),
)
@QUICK
def test_any_day_any_room(minutes, room, page):
    """Begun when the way back says, it is ready when it should be, over the night in which the clocks change too; no
    step begins before the one ahead of it, and each lasts as long as it says."""
    ready = later(at("2026-10-24T00:00"), D(minutes))
    room = None if room is None else D(room)
    parts = worked(page).parts
    back = schedule(formula(page), ready=ready, room=room, parts=parts)
    there = schedule(formula(page), begin=back[0].begins, room=room, parts=parts)
    assert [slot.begins.astimezone(UTC) for slot in there] == [slot.begins.astimezone(UTC) for slot in back]
    assert max(slot.ends.astimezone(UTC) for slot in there) == ready.astimezone(UTC)
    for slot in back:
        lasted = slot.ends.astimezone(UTC) - slot.begins.astimezone(UTC)
        assert abs(lasted - timedelta(minutes=float(slot.high))) <= timedelta(minutes=1)
    begun = [slot.begins.astimezone(UTC) for slot in back]
    assert begun == sorted(begun)


def test_preferments_are_ready_when_they_are_wanted():
    """A build that goes into another is begun before it; what stands beside is begun on its own; all before mixing."""
    slots = schedule(formula(NESTED), ready=at("2026-11-29T07:00"), parts=worked(NESTED).parts)
    assert clock(slots) == [
        ("first build", "Sat 18:10"),
        ("seeds", "Sat 18:10"),
        ("levain build", "Sun 02:10"),
        ("mix", "Sun 06:10"),
        ("bake", "Sun 06:20"),
    ]
    first, seeds, second, mix, _ = slots
    assert (first.ends, seeds.ends, second.ends) == (second.begins, mix.begins, mix.begins)


def test_the_night_the_clocks_go_back_has_an_hour_more():
    """25 October 2026 in Berlin: 12 h before 07:00 is 20:00 in the evening, for 02:00 to 03:00 comes twice."""
    page = "ingredients:\n  wheat flour: 100%\nprocess:\n  - bulk: 12 h\n"
    (slot,) = schedule(formula(page), ready=at("2026-10-25T07:00"))
    assert (slot.begins.isoformat(), slot.ends.isoformat()) == (
        "2026-10-24T20:00:00+02:00",
        "2026-10-25T07:00:00+01:00",
    )


def test_the_night_the_clocks_go_forward_has_an_hour_less():
    """29 March 2026 in Berlin: 12 h before 07:00 is 18:00."""
    page = "ingredients:\n  wheat flour: 100%\nprocess:\n  - bulk: 12 h\n"
    (slot,) = schedule(formula(page), ready=at("2026-03-29T07:00"))
    assert (slot.begins.isoformat(), slot.ends.isoformat()) == (
        "2026-03-28T18:00:00+01:00",
        "2026-03-29T07:00:00+02:00",
    )


def test_a_step_inside_the_hour_that_comes_twice():
    """Half past two is told with the offset it is in, the first time and the second."""
    page = "ingredients:\n  wheat flour: 100%\nprocess:\n  - fold: 60 min\n  - bulk: 60 min\n"
    slots = schedule(formula(page), begin=at("2026-10-25T02:30"))
    assert [slot.begins.isoformat()[11:] for slot in slots] == ["02:30:00+02:00", "02:30:00+01:00"]


def test_a_cold_room_moves_what_waits():
    """At 20 instead of 26 °C the bulk takes longer by a range, and it is said why; the oven takes what it takes."""
    _, bulk, proof, bake = schedule(formula(STEPS), begin=at("2026-11-29T07:00"), room=D(20))
    assert 60 * D("1.4") < bulk.low < bulk.high < 75 * D("1.8")
    assert bulk.adjusted == "moved from 26 to 20 °C by rule of thumb"
    assert proof.low > 50
    assert (bake.low, bake.high, bake.adjusted) == (18, 18, "")


def test_the_published_rules_in_a_schedule():
    """120 min at 24 °C are 160.9 to 175.7 min at 20 (two trade rules: twice as fast per 17 °F, and 10 % a degree)."""
    page = "ingredients:\n  wheat flour: 100%\nprocess:\n  - bulk: 120 min at 24 C\n"
    (slot,) = schedule(formula(page), begin=at("2026-11-29T07:00"), room=D(20))
    assert (round(slot.low, 1), round(slot.high, 1)) == (D("160.9"), D("175.7"))


def test_a_preferment_that_stands_in_the_room_is_moved_too():
    """12 h at 21 °C are 16.1 to 17.6 h at 17 by the same two rules; the soaker beside it stands as long as it did."""
    page = """
    ingredients:
      strong wheat flour: 100%
      water: 70%
      instant yeast: 0.5%
      linseed: 5%
    preferments:
      poolish:
        takes: 20% of the flour
        strong wheat flour: 100%
        water: 100%
        instant yeast: 0.1%
        rest: 12 h at 21 C, until it domes
    soakers:
      seeds:
        linseed: 5%
        water: 10%
        rest: 12 h at 21 C
    """
    slots = schedule(formula(page), begin=at("2026-11-29T07:00"), room=D(17), parts=worked(page).parts)
    poolish, seeds = slots
    assert (round(poolish.low / 60, 1), round(poolish.high / 60, 1)) == (D("16.1"), D("17.6"))
    assert (poolish.sign, poolish.adjusted) == ("it domes", "moved from 21 to 17 °C by rule of thumb")
    assert (seeds.low, seeds.high, seeds.adjusted) == (720, 720, "")


@pytest.mark.parametrize(
    ("step", "room", "yeasted", "adjusted"),
    [
        ("bulk: 60 min at 26 C", 10, True, "not moved to 10 °C: no rule of thumb holds there"),
        ("bulk: 60 min at 26 C", 20, False, "not moved to 20 °C: the rule of thumb is for yeast alone"),
        ("bulk: 16 h at 4 C", 20, True, ""),  # in the fridge the room does not matter
        ("bulk: 60 min at 26 C", 26, True, ""),
        ("bulk: 60 min", 20, True, ""),  # the page does not say for which warmth
        ("mix: 9 min at 26 C", 20, True, ""),  # does not wait
        ("bulk: 60 min at 24 to 28 C", 20, True, "moved from 26 to 20 °C by rule of thumb"),  # the middle of a span
    ],
)
def test_where_the_rule_of_thumb_is_used(step, room, yeasted, adjusted):
    """In yeast doughs, where they wait, between 15 and 32 °C; where it would be expected and is not, it is said."""
    page = f"ingredients:\n  wheat flour: 100%\nprocess:\n  - {step}\n"
    (slot,) = schedule(formula(page), begin=at("2026-11-29T07:00"), room=D(room), yeasted=yeasted)
    assert slot.adjusted == adjusted
    if not adjusted.startswith("moved"):
        assert slot.low == slot.high == schedule(formula(page), begin=at("2026-11-29T07:00"))[0].high


def test_a_formula_without_times_has_no_schedule():
    """Nothing can be laid out where no step says how long."""
    with pytest.raises(NoTimes):
        schedule(formula("ingredients:\n  wheat flour: 100%\n"), ready=at("2026-11-29T07:00"))
