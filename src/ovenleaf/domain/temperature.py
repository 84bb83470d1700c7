"""The water's temperature for a dough of a wished temperature, and the ice that brings it there.

water = n x dough - (sum of the others) - n x warming, with n = 3 (flour, room, water) or 4 (and a
preferment). The mixer's warming is kept in degrees, so that it holds for either n.
Source: San Francisco Baking Institute, Artisan I handout, 2009; ice: heat balance with the heat of
melting, 80 = 334.6 / 4.186, checked against a published bakery ice table.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from ovenleaf.domain.numbers import CONTEXT, ZERO

GUESSED_WARMING = Decimal(4)  # a stand mixer, common practice, no source
LARGE_PREFERMENT = Decimal(30)  # percent of the dough, from which its temperature counts as much as the flour's
MELTING = Decimal(80)

# How warm water may be on the yeast itself, in degrees Celsius. Active dry 41 to 46: Gardiner and Wilson, The
# Inquisitive Cook, 1998. Fresh, and instant mixed into the flour: common practice, no source.
STANDS = {
    "fresh": Decimal(40),
    "active": Decimal(46),
    "instant": Decimal(50),
}
KILLS = Decimal(55)  # 55 to 60: Gardiner and Wilson, 1998; killed at 60: Gisslen, Professional Cooking, 2014


@dataclass(frozen=True, slots=True, kw_only=True)
class WaterTemperature:
    """All in degrees Celsius: the water, and what it was worked out from as (name, degrees)."""

    water: Decimal
    target: Decimal
    others: tuple[tuple[str, Decimal], ...]
    warming: Decimal

    @property
    def factors(self) -> int:
        """3 or 4."""
        return len(self.others) + 1


def water_temperature(target: Decimal, others: tuple[tuple[str, Decimal], ...], warming: Decimal) -> WaterTemperature:
    """The water for a dough of `target` degrees; `others` are room, flour and perhaps a preferment.

    Dough 24, room 21, flour 20, a rise of 2/3 in the mixer: 72 - 41 - 2 = 29.
    """
    factors = len(others) + 1
    water = factors * (target - warming) - sum((degrees for _, degrees in others), ZERO)
    return WaterTemperature(water=water, target=target, others=others, warming=warming)


def warming(dough: Decimal, temperatures: tuple[Decimal, ...]) -> Decimal:
    """What the mixer warmed a dough by: its temperature less the mean of what went in.

    Dough 26; flour 20, room 22, water 18: 26 - 20 = 6.
    """
    return dough - CONTEXT.divide(sum(temperatures, ZERO), Decimal(len(temperatures)))


def ice(water: Decimal, tap: Decimal, needed: Decimal) -> Decimal:
    """The ice, in g, that replaces part of `water` g from the tap: water x (tap - needed) / (tap + 80).

    40 kg, tap 20, needed 10: 4 kg of ice. `needed` may lie below freezing: it is a heat balance.
    """
    if tap <= needed:
        return ZERO
    return CONTEXT.divide(water * (tap - needed), tap + MELTING)


@dataclass(frozen=True, slots=True, kw_only=True)
class Warming:
    """What the mixer warms a dough by, in degrees C: `given`, `learned` from so many bakes, or a `guess`.

    `mixer` is the one it was learned of, "" where bakes of this formula taught it.
    """

    degrees: Decimal
    source: str
    bakes: int = 0
    mixer: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class WaterAnswer:
    """The temperature of what is poured, what to warn of, and the ice where the tap is too warm (g).

    `liquid` is what is poured into the final dough, and only water can be ice. `fahrenheit` says on which
    thermometer the baker reads.
    """

    answer: WaterTemperature
    warming: Warming
    liquid: str
    liquid_g: Decimal
    fahrenheit: bool = False
    left_out: str = ""  # a preferment too small for its temperature to count
    tap: Decimal | None = None
    ice_g: Decimal | None = None
    leaven: str = ""  # the yeast or culture that does not stand water this warm
    stands: Decimal | None = None
