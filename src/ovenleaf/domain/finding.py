"""What can be looked for among the bakes: a figure with its bounds, days, words, a gap, a state.

Values alone; how they are read from a line is in `find_words`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from decimal import Decimal

    from ovenleaf.domain.find_days import Days


class FindFault(ValueError):
    """A clause that cannot be understood. Facts: `clause`, `what` is wrong, `how` to write it."""

    def __init__(self, clause: str, what: str, how: str) -> None:
        super().__init__(f"{clause}: {what}")
        self.clause = clause
        self.what = what
        self.how = how


@dataclass(frozen=True, slots=True, kw_only=True)
class Bounds:
    """From `low` to `high`, None where it is open; `strictly` leaves the ends themselves out.

    `kind` says of what: heat in degrees C, time in minutes, share in percent, mass in g, or plain numbers.
    """

    kind: str
    low: Decimal | None = None
    high: Decimal | None = None
    strictly: bool = False

    def holds(self, value: Decimal) -> bool:
        """True for a value within."""
        if self.low is not None and (value < self.low or (self.strictly and value == self.low)):
            return False
        return self.high is None or value < self.high or (not self.strictly and value == self.high)


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A thing that is measured, and its bounds; `said` tells them in words."""

    name: str
    bounds: Bounds
    said: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Baked:
    """Baked on one of these days."""

    days: Days
    said: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """Words, anywhere ("") or in one place: fault, note, question, flour, oven, formula, revision, by, taster."""

    text: str
    place: str = ""
    absent: bool = False

    @property
    def said(self) -> str:
        """In words, for an echo."""
        words = "the words" if " " in self.text else "the word"
        where = {"": words, "by": "baked by", "taster": "tasted by"}.get(self.place, self.place)
        return f"{'not ' if self.absent else ''}{where} {self.text}"


@dataclass(frozen=True, slots=True, kw_only=True)
class NotRecorded:
    """Something that the page does not say."""

    name: str

    @property
    def said(self) -> str:
        """In words, for an echo."""
        return f"{self.name} not recorded"


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """Where the bake stands: a state of the page, `left out`, `not scored`, `told late`, `with pictures`."""

    state: str

    @property
    def said(self) -> str:
        """In words, for an echo."""
        return self.state


Asked = Figure | Baked | Words | NotRecorded | Standing
