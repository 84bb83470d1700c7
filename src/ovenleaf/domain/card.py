"""A household recipe as it was read: its lines with what each was taken as, and what it leaves open. Plain values."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from ovenleaf.domain.numbers import plain, rounded

if TYPE_CHECKING:
    from decimal import Decimal

    from ovenleaf.domain.recipe_units import Measures


class Sure(StrEnum):
    """How far a figure can be relied on."""

    GUESSED = "guessed"
    TABLE = "from a table"
    TOLD = "as told"  # by whoever settled it
    CARD = "as on the card"
    WEIGHED = "weighed"
    OPEN = "open"


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One answer to a question: what is said, and what the page then has (`item` "" where the item stays)."""

    said: str
    amount: str
    item: str = ""
    how: str = ""
    sure: Sure = Sure.TABLE


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """A question the card leaves open. `key` is what it is called on the page; `was` the card's own words.

    `about` says in words what is asked; any amount can be said where there is no choice, and beside the choices too.
    `soft` questions have a usual answer, the first choice, that stands where nobody can be asked.
    """

    key: str
    was: str
    about: str
    choices: tuple[Choice, ...] = ()
    soft: bool = False
    wants: str = "amount"  # or `heat`, of a step


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """One line of the card: its words, and what they were taken as; `short` is its amount and item.

    `part` is the bowl it goes in, "" where there is one. `amount` is as the page has it (`411 g`, `2 pc`, `all` of
    another bowl), "" where it is open or as needed; `grams` with the least and the most it could be; `how` in words,
    with its source.
    """

    words: str
    item: str
    short: str = ""
    part: str = ""
    amount: str = ""
    grams: Decimal | None = None
    low: Decimal | None = None
    high: Decimal | None = None
    how: str = ""
    source: str = ""
    sure: Sure = Sure.CARD
    note: str = ""
    purpose: str = ""
    asked: Asked | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CardStep:
    """One step of the method: a name and a bench line; `asked` where its heat has no scale."""

    name: str
    line: str
    words: str
    asked: Asked | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """A recipe, read. `text` is the original word for word; `found_in` says what it stood in."""

    title: str
    text: str
    lines: tuple[Taken, ...]
    steps: tuple[CardStep, ...] = ()
    makes: str = ""
    source: str = ""
    notes: tuple[str, ...] = ()
    measures: Measures
    measures_said: bool = False
    found_in: str = "text"
    kept: tuple[tuple[str, str], ...] = ()  # bowl and amount

    @property
    def questions(self) -> tuple[Asked, ...]:
        """All that is open, in the order of the card; a thing asked twice is asked once."""
        asked = [line.asked for line in self.lines if line.asked is not None]
        asked += [step.asked for step in self.steps if step.asked is not None]
        return tuple({one.key: one for one in reversed(asked)}.values())[::-1]


def page_grams(value: Decimal) -> str:
    """A weight as a draft has it: to 1 g from 100 g up, to 0.1 g from 1 g up, to 0.01 g below.

    >>> from decimal import Decimal
    >>> page_grams(Decimal("295.14")), page_grams(Decimal("40.5")), page_grams(Decimal("0.375"))
    ('295 g', '40.5 g', '0.38 g')
    """
    places = 0 if value >= 100 else 1 if value >= 1 else 2
    return f"{plain(rounded(value, places))} g"
