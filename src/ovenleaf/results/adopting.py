"""A household recipe taken in, its questions settled."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.results.common import Written

if TYPE_CHECKING:
    from decimal import Decimal

    from ovenleaf.compare.card_known import KnownLine
    from ovenleaf.domain.card import Card
    from ovenleaf.domain.card_told import CardTold
    from ovenleaf.domain.formula import OpenQuestion
    from ovenleaf.domain.slip import Slip


@dataclass(frozen=True, slots=True, kw_only=True)
class Adopted(Written):
    """A recipe that became a draft.

    `shares` holds each settled item of the dough in percent of all the flour, `flour` that flour in g;
    `liquids` those of the items that are water; `stays` what keeps its water to itself; `slips` are figures that look
    like slips.
    """

    name: str
    title: str
    card: Card
    flour: Decimal
    shares: tuple[tuple[str, str, Decimal], ...]  # bowl, item, percent
    liquids: tuple[str, ...] = ()
    stays: tuple[str, ...] = ()
    unlisted: tuple[str, ...] = ()
    slips: tuple[Slip, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class CardView:
    """The card that a formula was adopted from, each line with what is known of it by now.

    `saved` is true once a revision was kept.
    """

    name: str
    title: str
    card: CardTold
    lines: tuple[KnownLine, ...]
    saved: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class DraftSettled(Written):
    """Questions of a draft that were answered, and those that are left."""

    name: str
    title: str
    rows: tuple[tuple[str, str, str], ...]  # asked, taken as, how
    left: tuple[OpenQuestion, ...]
