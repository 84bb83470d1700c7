"""Baker's arithmetic: the whole formula in shares of all the flour, its parts, and the final dough.

Definition: ingredient % = 100 x ingredient mass / total flour mass; all flours together are
100 % (W. Gisslen, Professional Baking). The formula on the page is the whole; the final dough
is the whole less the preferments (layout of the Bread Bakers Guild of America, 2009).
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain import faults
from ovenleaf.domain.ingredients import Kind, Pantry
from ovenleaf.domain.measures import grams
from ovenleaf.domain.numbers import CONTEXT, HUNDRED, ZERO, portion

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from ovenleaf.domain.formula import Line

TOLERANCE = Decimal("0.05")  # how far the flours may be from 100 %, in points
NOTHING = Decimal("0.005")  # less than this share of all the flour is rounding, not dough


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """One item in percent of all the flour; `own` in percent of its part's flour, where it has any."""

    item: str
    pct: Decimal
    own: Decimal | None = None
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkedPart:
    """A preferment, soaker or bowl worked out. `flour` is its flour in percent of all the flour,
    `water` its water likewise, parts that flow into it included; `into` is where it goes
    ("" is the final dough); `kept` is what stays back for next time, in percent of all the flour."""

    name: str
    leavened: bool
    flour: Decimal
    water: Decimal
    lines: tuple[Share, ...]
    into: str = ""
    rest: str = ""
    kept: Decimal = ZERO

    @property
    def pct(self) -> Decimal:
        """All of it, in percent of all the flour."""
        return sum((line.pct for line in self.lines), ZERO)


@dataclass(frozen=True, slots=True, kw_only=True)
class Worked:
    """A formula worked out: `whole`, `parts` and `final` in percent of all the flour.

    `flour_g` is the flour of a page in measures, in g; None for a page in shares.
    """

    flour_g: Decimal | None
    whole: tuple[Share, ...]
    parts: tuple[WorkedPart, ...]
    final: tuple[Share, ...]

    @property
    def total(self) -> Decimal:
        """All the dough in percent of all the flour (the formula percentage)."""
        return sum((line.pct for line in self.whole), ZERO)

    def part(self, name: str) -> WorkedPart | None:
        """The part of that name, or None."""
        return next((part for part in self.parts if part.name == name), None)


def is_in_shares(lines: Iterable[Line]) -> bool:
    """True if the lines are shares. A block without any amount counts as shares."""
    amounts = [line.amount for line in lines if line.amount is not None]
    return all(amount.is_share for amount in amounts)


def line_masses(lines: tuple[Line, ...], pantry: Pantry, path: tuple[str, ...]) -> dict[str, Decimal]:
    """Each item's mass: grams, or its share when the lines are shares. Lines without an amount are left out."""
    amounts = [(line, line.amount) for line in lines if line.amount is not None]
    if not amounts:
        raise faults.NoLines(path)
    masses: dict[str, Decimal] = {}
    for line, amount in amounts:
        check_alike(amounts[0][0], line, (*path, line.item))
        mass = amount.value if amount.is_share else grams(amount, pantry.get(line.item))
        if mass is None:
            raise faults.NoWeight((*path, line.item), item=line.item, unit=amount.unit)
        masses[line.item] = mass
    return masses


def check_alike(first: Line, line: Line, path: tuple[str, ...]) -> None:
    """Both are shares or both are measures; the second is the odd one out, and `path` is where it stands."""
    of_first, of_line = is_in_shares([first]), is_in_shares([line])
    if of_first != of_line:
        share, measure = (first, line) if of_first else (line, first)
        raise faults.MixedAmounts(path, share=share.item, measure=measure.item)


def flour_of(masses: Mapping[str, Decimal], pantry: Pantry) -> Decimal:
    """The flour that the masses bring: mass x flour share, a levain's flour included."""
    return sum((portion(pantry.get(item).flour, mass) for item, mass in masses.items()), ZERO)


def water_of(masses: Mapping[str, Decimal], pantry: Pantry) -> Decimal:
    """The water poured with the masses: water lines, and the water a culture is made of."""
    kinds = (Kind.WATER, Kind.CULTURE)
    counted = {item: mass for item, mass in masses.items() if pantry.get(item).kind in kinds}
    return sum((portion(pantry.get(item).water_told, mass) for item, mass in counted.items()), ZERO)


def check_flour(
    masses: Mapping[str, Decimal],
    pantry: Pantry,
    path: tuple[str, ...],
    elsewhere: tuple[tuple[str, Decimal], ...] = (),
    flours_elsewhere: tuple[tuple[str, Decimal], ...] = (),
    more: Decimal = ZERO,
) -> None:
    """Together the flours must be 100 % within 0.05; they are never rescaled silently."""
    brought = tuple(
        (item, mass, flour) for item, mass in masses.items() if (flour := portion(pantry.get(item).flour, mass))
    )
    total = sum((flour for _, _, flour in brought), more)
    if not total:
        raise faults.NoFlour(path)
    if abs(total - HUNDRED) > TOLERANCE:
        cultures = sum((flour for item, _, flour in brought if pantry.get(item).kind is Kind.CULTURE), ZERO)
        raise faults.FlourSum(
            path,
            total=total,
            masses=tuple(masses.items()),
            brought=brought,
            cultures=cultures,
            elsewhere=elsewhere,
            flours_elsewhere=flours_elsewhere,
        )


def main_flour(shares: Iterable[Share], pantry: Pantry) -> str:
    """The flour there is most of, or "" where there is none."""
    flours = [share for share in shares if pantry.get(share.item).kind is Kind.FLOUR]
    return max(flours, key=lambda share: share.pct).item if flours else ""


def expanded(
    shares: Iterable[Share], pantry: Pantry, whole_items: frozenset[str], main_flour: str
) -> dict[str, Decimal]:
    """The raw items in a part, in percent of all the flour: a culture counts as what it is made of.

    Its flour is the one it is listed with if the whole formula has that, or else the part's
    main flour: that is what the baker feeds it with. A culture that the whole formula lists
    under its own name stays what it is.
    """
    raw: dict[str, Decimal] = {}
    for share in shares:
        for item, pct in _made_of(share.item, share.pct, pantry, whole_items, ()):
            fed_with = item not in (share.item, *whole_items) and pantry.get(item).kind is Kind.FLOUR
            name = main_flour or item if fed_with else item
            raw[name] = raw.get(name, ZERO) + pct
    return raw


def _made_of(
    item: str, pct: Decimal, pantry: Pantry, whole_items: frozenset[str], above: tuple[str, ...]
) -> Iterator[tuple[str, Decimal]]:
    """What an item is made of, down to what is not made of anything; a culture may be fed with another."""
    parts = pantry.get(item).made_of
    if not parts or item in whole_items or item in above:
        yield item, pct
        return
    total = sum((part for _, part in parts), ZERO)
    for inner, part in parts:
        yield from _made_of(inner, CONTEXT.divide(pct * part, total), pantry, whole_items, (*above, item))


def with_parts(rows: list[Share], parts: list[Share], pantry: Pantry) -> tuple[Share, ...]:
    """The rows with the parts set in behind the flours and the water, where a baker weighs them."""
    first = (Kind.FLOUR, Kind.WATER)
    place = next((n for n, row in enumerate(rows) if pantry.get(row.item).kind not in first), len(rows))
    return (*rows[:place], *parts, *rows[place:])
