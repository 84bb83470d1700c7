"""A bake trial as it stands on its page: what was planned, what was done, what came out."""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from enum import StrEnum
from typing import TYPE_CHECKING

from ovenleaf.domain.numbers import number

if TYPE_CHECKING:
    from collections.abc import Callable
    from decimal import Decimal

    from ovenleaf.domain.formula import Step


ATTRIBUTES = ("crumb", "crust", "flavour")  # what a taster scores
# Of what a bake plans: what it has other than its formula, in words, and as it was told.
CHANGED, SWAP = "changed", "swap"


class State(StrEnum):
    """Where a trial stands."""

    PLANNED = "planned"
    IN_HAND = "in hand"
    CUT_SHORT = "cut short"
    DONE = "done"
    GIVEN_UP = "given up"
    WITHDRAWN = "withdrawn"


@dataclass(frozen=True, slots=True, kw_only=True)
class Marks:
    """One taster's marks. None is not scored, which is never zero."""

    taster: str
    crumb: Decimal | None = None
    crust: Decimal | None = None
    flavour: Decimal | None = None
    bake_again: bool | None = None
    faults: tuple[str, ...] = ()
    hours_after: Decimal | None = None
    blind: bool | None = None
    note: str = ""
    out_of: tuple[Decimal, ...] = field(default=(), compare=False)  # the 5 of a mark told as 4/5; on no page

    @property
    def is_marked(self) -> bool:
        """True if there is a mark, and not only words."""
        return any(value is not None for value in (self.crumb, self.crust, self.flavour, self.blind))


_OUT_OF = re.compile(r"(\d[\d.,]*(?: \d+/\d+)?) ?(?:/|(?:out )?of\b) ?(\d[\d.,]*)")


def mark_out_of(typed: str) -> tuple[Decimal, tuple[Decimal, ...]]:
    """A mark, and what it is out of where that is said. Raises NumberFault for what is no number.

    >>> mark_out_of("4/5"), mark_out_of("6 1/2")
    ((Decimal('4'), (Decimal('5'),)), (Decimal('6.5'), ()))
    """
    found = _OUT_OF.fullmatch(typed.strip().lower())
    return (number(found[1]), (number(found[2]),)) if found else (number(typed), ())


def marked(marks: Marks, attribute: str, value: Decimal) -> Marks:
    """The marks with one more: `attribute` is crumb, crust or flavour."""
    match attribute:
        case "crumb":
            return replace(marks, crumb=value)
        case "crust":
            return replace(marks, crust=value)
        case "flavour":
            return replace(marks, flavour=value)
    raise AssertionError(attribute)


def remarked(marks: Marks, change: Callable[[str, Decimal | None], Decimal | None]) -> Marks:
    """The marks with each attribute's value changed by its name and what it was; None stays a blank to decide on."""
    return replace(
        marks,
        crumb=change("crumb", marks.crumb),
        crust=change("crust", marks.crust),
        flavour=change("flavour", marks.flavour),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Correction:
    """A value put right, visibly."""

    field: str
    was: str
    now: str
    by: str
    at: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ScoreScale:
    """The marks a taster may give, lowest and highest."""

    low: Decimal
    high: Decimal

    def __str__(self) -> str:
        return f"{self.low} to {self.high}"

    def another(self, out_of: tuple[Decimal, ...]) -> Decimal | None:
        """What marks were said to be out of, where that is not this scale's top."""
        return next((top for top in out_of if top != self.high), None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """One dough, mixed once. Text fields hold the words of the page; "" is not recorded.

    `weighed` holds (item, amount as typed), an item under a bowl as `bowl:item`; `measured` and
    `kitchen` hold (field, text); `photos` are files of the book.
    """

    name: str
    formula: str
    revision: str
    code: str
    baker: str = ""
    question: str = ""
    state: State = State.DONE
    bake_date: str = ""
    started: str = ""
    entered: str = ""
    batch: str = ""
    weighed: tuple[tuple[str, str], ...] = ()
    as_planned: str = ""
    flours: tuple[tuple[str, str], ...] = ()
    kitchen: tuple[tuple[str, str], ...] = ()
    steps: tuple[Step, ...] = ()
    measured: tuple[tuple[str, str], ...] = ()
    scale: ScoreScale | None = None
    scores: tuple[Marks, ...] = ()
    photos: tuple[str, ...] = ()
    log: tuple[str, ...] = ()
    plan: tuple[tuple[str, str], ...] = ()
    corrections: tuple[Correction, ...] = ()
    left_out: str = ""
    shares_dough_with: str = ""
    pin: str = ""

    @property
    def day(self) -> str:
        """The day it belongs to: that of baking; until it is baked, that of its beginning; "" if neither is told."""
        return self.bake_date or self.started[: len("2026-11-18")]

    @property
    def counts(self) -> bool:
        """True unless it is left out of rankings or was withdrawn: what it measured tells of this formula."""
        return not self.left_out and self.state is not State.WITHDRAWN

    @property
    def dough(self) -> str:
        """The code of the dough: the same for trials that share one mixing."""
        return self.shares_dough_with or self.code
