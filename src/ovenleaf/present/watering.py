"""The water's temperature with its arithmetic, so that a baker can follow and check it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain.numbers import plain, rounded
from ovenleaf.present.screen import count, join_words, wrap

if TYPE_CHECKING:
    from decimal import Decimal

    from ovenleaf.domain.temperature import WaterAnswer


def degrees(value: Decimal) -> str:
    """Degrees as a kitchen thermometer shows them: to half a degree."""
    return plain(rounded(value * 2, 0) / 2)


def water_block(told: WaterAnswer) -> str:
    """Pour the water at so many degrees, why, and what to mind."""
    answer = told.answer
    head = f"Pour the water at {degrees(answer.water)} °C, for a dough of {degrees(answer.target)} °C."
    lines = [
        wrap(_sum(told), 2),
        wrap(_warming(told), 2),
        wrap(f"The {told.left_out} is too small a part of the dough for its temperature to count.", 2)
        if told.left_out
        else "",
        wrap(_ice(told), 2),
        wrap(f"Water this warm harms {told.yeast}, which stands about {degrees(told.stands)} °C.", 2)
        if told.stands is not None
        else "",
    ]
    return "\n".join((head, *filter(None, lines)))


def _sum(told: WaterAnswer) -> str:
    answer = told.answer
    n = answer.factors
    names = join_words([f"{name} {degrees(value)}" for name, value in answer.others])
    product = n * answer.target
    left = product - sum(value for _, value in answer.others)
    warmed = n * answer.warming
    return (
        f"{n} times {degrees(answer.target)} is {degrees(product)}. Less {names}, leaves {degrees(left)}."
        f" The mixer warms the dough by about {degrees(answer.warming)} °C, and {n} times that is {degrees(warmed)}."
        f" Leaves {degrees(answer.water)}."
    )


def _warming(told: WaterAnswer) -> str:
    warm = told.warming
    if warm.source == "learned":
        return f"The {degrees(warm.degrees)} °C were learned from {count(warm.bakes, 'bake')} of this formula."
    if warm.source == "given":
        return ""
    return (
        f"The {degrees(warm.degrees)} °C are a guess for a stand mixer. Your own figure is learned from the first bake"
        f" that records room, flour, water and dough temperature."
    )


def _ice(told: WaterAnswer) -> str:
    if told.tap is None or told.ice_g is None or told.water_g is None:
        return ""
    if not told.ice_g:
        return f"The tap gives {degrees(told.tap)} °C; warm the water to {degrees(told.answer.water)} °C."
    ice = rounded(told.ice_g, 0)
    if ice >= told.water_g:
        return f"Even ice alone would not make it that cold; the tap gives {degrees(told.tap)} °C. Cool the flour too."
    return (
        f"The tap gives {degrees(told.tap)} °C, which is too warm: take {plain(ice)} g of the {plain(told.water_g)} g"
        f" of water as ice, and {plain(told.water_g - ice)} g from the tap."
    )
