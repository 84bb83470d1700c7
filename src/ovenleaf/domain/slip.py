"""One thing to ask about, and the span of what is usual that it is held against."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Slip:
    """Something to ask about. `about` is what an answer is remembered under; `relative` is True where it
    is the change that is asked about, and not the figure itself."""

    about: str
    message: str
    relative: bool = False


@dataclass(frozen=True, slots=True)
class Band:
    """What is usual, lowest and highest."""

    low: Decimal
    high: Decimal

    def holds(self, value: Decimal) -> bool:
        """True for a value within, ends included."""
        return self.low <= value <= self.high


def band(low: str, high: str) -> Band:
    """The band from `low` to `high`, as they are written."""
    return Band(Decimal(low), Decimal(high))
