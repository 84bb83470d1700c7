"""One thing that differs between two bakes and could have made the difference between them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from decimal import Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Varied:
    """Before and after in words, "" where there are no words for it; `shares` are both in percent of all the flour,
    for an item of the formula, else None. `in_formula` is False for a condition of the bakes."""

    name: str
    before: str
    after: str
    in_formula: bool
    shares: tuple[Decimal, Decimal] | None = None
