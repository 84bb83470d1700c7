"""What a chance is called. The words promise no more than the doughs behind them hold."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

LEANS = 0.8
BETTER = 0.975
FEW = 2  # doughs on each side without which nothing is called better


class Call(StrEnum):
    """How sure it is that one is above another."""

    CANNOT_TELL = "cannot tell"
    LEANS = "leans"
    BETTER = "better"


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """A chance, from 0 to 1, with the fewest doughs that stand on either side of it; they are never told apart."""

    chance: float
    fewest: int

    @property
    def call(self) -> Call:
        """The word for it; one dough on either side is never enough for better."""
        if self.chance < LEANS:
            return Call.CANNOT_TELL
        return Call.BETTER if self.chance >= BETTER and self.fewest >= FEW else Call.LEANS
