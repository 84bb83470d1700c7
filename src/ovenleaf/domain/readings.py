"""A formula with 100 % flour and a culture besides can be meant in two ways; both are worked out here."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.domain.ingredients import Kind, Pantry
from ovenleaf.domain.numbers import CONTEXT, HUNDRED, ZERO, portion

if TYPE_CHECKING:
    from collections.abc import Mapping
    from decimal import Decimal

ON_TOP = "on-top"
COUNTED_IN = "counted-in"


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One way to read the page: its lines in percent of all the flour, and what the cultures bring."""

    name: str
    lines: tuple[tuple[str, Decimal], ...]
    culture_flour: Decimal
    culture_water: Decimal


def two_readings(masses: Mapping[str, Decimal], pantry: Pantry) -> tuple[Reading, ...]:
    """Both readings of lines whose flours are 100 % without the cultures; () where they are not that.

    On top: the cultures come to the 100 % of flour, so all shares shrink by 100 / all the flour.
    Counted in: the 100 % and the water already hold what the cultures bring.

    100 flour, 70 water, 20 levain: 90.9 / 63.6 / 18.2 on top (all water 72.7), or 90 / 60 / 20 counted in.
    """
    cultures = {item: mass for item, mass in masses.items() if pantry.get(item).kind is Kind.CULTURE}
    flour = sum((portion(pantry.get(item).flour, mass) for item, mass in cultures.items()), ZERO)
    water = sum((portion(pantry.get(item).water_told, mass) for item, mass in cultures.items()), ZERO)
    others = {item: mass for item, mass in masses.items() if pantry.get(item).kind is Kind.FLOUR}
    if not flour or abs(sum(others.values(), ZERO) - HUNDRED) > 1:
        return ()
    factor = CONTEXT.divide(HUNDRED, HUNDRED + flour)
    on_top = Reading(
        name=ON_TOP,
        lines=tuple((item, mass * factor) for item, mass in masses.items()),
        culture_flour=flour * factor,
        culture_water=water * factor,
    )
    return (on_top, *_counted_in(masses, others, flour, water, pantry))


def _counted_in(
    masses: Mapping[str, Decimal], flours: Mapping[str, Decimal], flour: Decimal, water: Decimal, pantry: Pantry
) -> tuple[Reading, ...]:
    """The second reading, unless it would leave less than no flour or water."""
    main = max(flours, key=lambda item: flours[item])
    poured = next((item for item in masses if pantry.get(item).kind is Kind.WATER), None)
    less = {main: flour} | ({poured: water} if poured else {})
    lines = tuple((item, mass - less.get(item, ZERO)) for item, mass in masses.items())
    if any(mass <= 0 for _, mass in lines):
        return ()
    return (Reading(name=COUNTED_IN, lines=lines, culture_flour=flour, culture_water=water),)
