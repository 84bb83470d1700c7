"""What can be wrong with the arithmetic of a formula, as exceptions that carry facts and no words.

`path` is the place in the page, as keys (`("preferments", "poolish", "water")`), so that a
reader who knows lines can name one. `records.wording` turns each into a sentence.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from decimal import Decimal

    from ovenleaf.domain.quantity import Unit


class FormulaFault(ValueError):
    """A formula that cannot be worked out. `path` says where it shows."""

    path: tuple[str, ...]


@dataclass(eq=False)
class NoLines(FormulaFault):
    """A block without an ingredient."""

    path: tuple[str, ...]


@dataclass(eq=False)
class NoFlour(FormulaFault):
    """A block whose lines bring no flour at all."""

    path: tuple[str, ...]


@dataclass(eq=False)
class MixedAmounts(FormulaFault):
    """Shares and measures in one block: `share` and `measure` are one line of each."""

    path: tuple[str, ...]
    share: str
    measure: str


@dataclass(eq=False)
class FlourSum(FormulaFault):
    """The flours of a block do not come to 100 %.

    `masses` are all its lines; `brought` holds (item, its percent, flour it brings); `elsewhere`
    what each preferment takes, `flours_elsewhere` which flours those are.
    """

    path: tuple[str, ...]
    total: Decimal
    masses: tuple[tuple[str, Decimal], ...]
    brought: tuple[tuple[str, Decimal, Decimal], ...]
    cultures: Decimal  # the flour inside cultures, part of `total`
    elsewhere: tuple[tuple[str, Decimal], ...] = ()
    flours_elsewhere: tuple[tuple[str, Decimal], ...] = ()


@dataclass(eq=False)
class NegativeDough(FormulaFault):
    """The preferments take more of an item than the whole formula has (percent of all the flour)."""

    path: tuple[str, ...]
    item: str
    whole: Decimal
    taken: tuple[tuple[str, Decimal], ...]


@dataclass(eq=False)
class NoWeight(FormulaFault):
    """A volume or a piece of something whose weight no list knows."""

    path: tuple[str, ...]
    item: str
    unit: Unit


@dataclass(eq=False)
class NoSuchPart(FormulaFault):
    """A line says `all` of something that is not a part of this formula, or is named twice."""

    path: tuple[str, ...]
    item: str
    parts: tuple[str, ...]


@dataclass(eq=False)
class PartListed(FormulaFault):
    """A line gives a part of this formula an amount of its own, so that it would count twice."""

    path: tuple[str, ...]
    item: str


@dataclass(eq=False)
class TakesOther(FormulaFault):
    """A part in weights whose flour is not what it `takes` (both in percent of all the flour)."""

    path: tuple[str, ...]
    takes: Decimal
    flour: Decimal


@dataclass(eq=False)
class KeptTooMuch(FormulaFault):
    """More is kept for next time than the bowl holds (g, or percent of all the flour)."""

    path: tuple[str, ...]
    item: str
    kept: Decimal
    whole: Decimal


@dataclass(eq=False)
class BothForms(FormulaFault):
    """A page with both `ingredients` and `stages`, or with neither."""

    path: tuple[str, ...]
    both: bool
