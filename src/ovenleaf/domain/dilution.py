"""What is too little for the scale: stirred into water, and a part of the mixture weighed instead."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.domain.ingredients import Kind
from ovenleaf.domain.numbers import ZERO
from ovenleaf.domain.scaling import DILUTED, FEW_STEPS

if TYPE_CHECKING:
    from decimal import Decimal

    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.scaling import Bowl, Scale, Weight


@dataclass(frozen=True, slots=True, kw_only=True)
class Dilution:
    """A weight too small for the scale, weighed as part of a stirred mixture with water. All in g.

    `again` is how often as much of the mixture as `stir` is stirred into fresh `water`, so that a coarse scale never
    needs a bucket of water.
    """

    bowl: str
    item: str
    exact: Decimal
    grams: Decimal  # as its line is printed
    stir: Decimal  # of the item
    water: Decimal  # into so much water
    take: Decimal  # so much of the mixture goes into the bowl
    less: Decimal  # and so much less water, so that the bowl stays as heavy
    again: int = 0


def dilutions(bowls: tuple[Bowl, ...], scale: Scale, pantry: Pantry) -> tuple[Dilution, ...]:
    """A dilution for each line under ten steps of the scale that dissolves in its bowl's water."""
    found = []
    for bowl in bowls:
        water = sum((line.grams for line in bowl.lines if pantry.get(line.item).kind is Kind.WATER), ZERO)
        for line in bowl.lines:
            if line.few and line.exact and pantry.get(line.item).kind in DILUTED:
                way = _way(line.exact, water, scale)
                if way is not None:
                    found.append(_dilution(bowl.name, line, *way, scale))
    return tuple(found)


_HANDY = 250  # g; a mixture larger than this is mostly poured away
# (parts, times): 1 part in so many, so many times over. One mixture is less work than two.
_WAYS = ((100, 1), (10, 1), (10, 2), (10, 3))


def _way(exact: Decimal, water: Decimal, scale: Scale) -> tuple[int, int] | None:
    """How to dilute so that each mixture stays small, what is taken can be weighed well, and the bowl has the water
    for it; None where there is no such way. Where no way weighs well, the one that comes nearest."""
    fits = [
        (parts, times)
        for parts, times in _WAYS
        if scale.rounded(exact * parts**times) < water and _stir(exact, scale) * parts <= _HANDY
    ]
    for parts, times in fits:
        if exact * parts**times >= FEW_STEPS * scale.step_at(exact * parts**times):
            return parts, times
    return max(fits, key=lambda way: way[0] ** way[1], default=None)


def _stir(exact: Decimal, scale: Scale) -> Decimal:
    """So much of the item that it can be weighed itself, and that there is enough of it to take from."""
    return max(FEW_STEPS * scale.fine, scale.rounded(exact))


def _dilution(bowl: str, line: Weight, parts: int, times: int, scale: Scale) -> Dilution:
    stir = _stir(line.exact, scale)
    take = scale.rounded(line.exact * parts**times)
    return Dilution(
        bowl=bowl,
        item=line.item,
        exact=line.exact,
        grams=line.grams,
        stir=stir,
        water=stir * (parts - 1),
        take=take,
        less=scale.rounded(take - line.exact),
        again=times - 1,
    )
