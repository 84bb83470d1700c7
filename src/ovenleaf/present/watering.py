"""The water's temperature with its arithmetic, so that a baker can follow and check it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain.numbers import plain, rounded
from ovenleaf.domain.temperature import KILLS
from ovenleaf.present.screen import count, join_words, wrap
from ovenleaf.present.weights import weight

if TYPE_CHECKING:
    from decimal import Decimal

    from ovenleaf.domain.temperature import WaterAnswer

COLD_TAP = 15  # degrees C; needed water colder than this may want ice


def water_block(told: WaterAnswer, unit: str = "g") -> str:
    """Pour the water at so many degrees, why, and what to mind. °F for who reads °F."""
    notes = (_sum(told), _warming(told), _left_out(told), _ice(told, unit), _leaven(told))
    return "\n".join((wrap(head(told)), *(wrap(note, 2) for note in notes if note)))


def head(told: WaterAnswer) -> str:
    """The answer in a sentence."""
    needed, target = told.answer.water, told.answer.target
    if needed < 0:
        return (
            f"The {told.liquid} would have to be at {_thermometer(needed, told)} for a dough of"
            f" {_thermometer(target, told)}, which only ice can do."
        )
    return f"Pour the {told.liquid} at {_thermometer(needed, told)}, for a dough of {_thermometer(target, told)}."


def _thermometer(celsius: Decimal, told: WaterAnswer) -> str:
    """As a kitchen thermometer shows it: to half a degree C or a whole degree F."""
    in_c = f"{plain(rounded(celsius * 2, 0) / 2)} °C"
    return f"{plain(rounded(celsius * 9 / 5 + 32, 0))} °F ({in_c})" if told.fahrenheit else in_c


def _degrees(celsius: Decimal, told: WaterAnswer) -> str:
    """A temperature in the arithmetic, to a tenth."""
    return plain(rounded(celsius * 9 / 5 + 32 if told.fahrenheit else celsius, 1))


def _rise(celsius: Decimal, told: WaterAnswer) -> str:
    """A difference in the arithmetic: no 32 in it."""
    return plain(rounded(celsius * 9 / 5 if told.fahrenheit else celsius, 1))


def _sum(told: WaterAnswer) -> str:
    answer, n = told.answer, told.answer.factors
    names = join_words([f"{name} {_degrees(value, told)}" for name, value in answer.others])
    target = answer.target * 9 / 5 + 32 if told.fahrenheit else answer.target
    others = [value * 9 / 5 + 32 if told.fahrenheit else value for _, value in answer.others]
    left = n * target - sum(others)
    warmed = f" The mixer warms the dough by about {_rise(answer.warming, told)} {_unit(told)}, and {n} times that is"
    return (
        f"{n} times {plain(rounded(target, 1))} is {plain(rounded(n * target, 1))}. Less {names}, leaves"
        f" {plain(rounded(left, 1))}.{warmed} {_rise(n * answer.warming, told)}."
        f" Leaves {_degrees(answer.water, told)}."
    )


def _unit(told: WaterAnswer) -> str:
    return "°F" if told.fahrenheit else "°C"


def _warming(told: WaterAnswer) -> str:
    warm = told.warming
    degrees = f"The {_rise(warm.degrees, told)} {_unit(told)}"
    if warm.source == "given":
        return ""
    if warm.source == "learned":
        of = f"with the {warm.mixer}" if warm.mixer else "of this formula"
        return f"{degrees} were learned from {count(warm.bakes, 'bake')} {of}."
    return (
        f"{degrees} are a guess for a stand mixer. Your own figure is learned from the first bake that records room,"
        f" flour, water and dough temperature."
    )


def _left_out(told: WaterAnswer) -> str:
    return (
        f"The {told.left_out} is too small a part of the dough for its temperature to count." if told.left_out else ""
    )


def _ice(told: WaterAnswer, unit: str) -> str:
    needed = told.answer.water
    if told.liquid != "water":
        cold = needed < COLD_TAP
        return f"Ice would thin the {told.liquid}: cool it, and the flour, beforehand." if cold else ""
    if told.tap is None:
        cold = needed < COLD_TAP
        return "Say how warm the tap is, as in --tap 15C, to hear how much of it should be ice." if cold else ""
    tap = f"The tap gives {_thermometer(told.tap, told)}"
    if not told.ice_g:
        return f"{tap}; warm the water to {_thermometer(needed, told)}." if needed > told.tap else f"{tap}, as wanted."
    ice = min(rounded(told.ice_g, 0), told.liquid_g)
    return (
        f"{tap}, which is too warm: take {weight(ice, unit)} of the {weight(told.liquid_g, unit)} of water as ice,"
        f" and {weight(told.liquid_g - ice, unit)} from the tap."
    )


def _leaven(told: WaterAnswer) -> str:
    if told.stands is None:
        return ""
    does = "kills" if told.answer.water >= KILLS else "harms"
    limit = _thermometer(told.stands, told)
    return f"Water this warm {does} {told.leaven}, which stands about {limit}. Warm the flour instead."
