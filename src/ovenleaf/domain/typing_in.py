"""A formula typed line by line: `strong wheat flour 500 g`, `water 68%`, `butter 3%, soft`."""

from __future__ import annotations

import re
from dataclasses import dataclass

from ovenleaf.domain.numbers import NUMBER
from ovenleaf.domain.quantity import Amount, AmountFault, amount

_LINE = re.compile(rf"(?P<item>\D.*?)[\s:=]+(?P<amount>{NUMBER}\s*(?:%|[a-zA-Z]+)?)(?:,\s+(?P<note>.+))?")
_OTHER_WAY = re.compile(
    rf"(?P<amount>{NUMBER}\s*(?:%|g|kg|oz|lb|ml|l|tsp|tbsp|cups?|pc))\s+(?P<item>\D.*?)(?:,\s+(?P<note>.+))?"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedLine:
    """One ingredient as typed: `problem` says why it means nothing, or ""."""

    item: str = ""
    amount: Amount | None = None
    note: str = ""
    problem: str = ""

    @property
    def text(self) -> str:
        """The amount and the note as a page has them."""
        return f"{self.amount}, {self.note}" if self.note else str(self.amount)


def ingredient_line(typed: str) -> TypedLine:
    """One line, in either order.

    >>> ingredient_line("butter 3%, soft").text, ingredient_line("500 g strong wheat flour").item
    ('3%, soft', 'strong wheat flour')
    """
    found = _LINE.fullmatch(typed.strip()) or _OTHER_WAY.fullmatch(typed.strip())
    if not found:
        return TypedLine(problem="Give an ingredient and its amount, as in water 340 g or water 68%.")
    try:
        read = amount(found["amount"])
    except AmountFault as fault:
        unit = "It wants a unit, as in 340 g or 68%." if fault.kind == "no unit" else "The amount cannot be read."
        return TypedLine(problem=unit)
    if not read.value:
        return TypedLine(problem="Nothing of it is no ingredient; leave the line out.")
    return TypedLine(item=" ".join(found["item"].lower().split()), amount=read, note=found["note"] or "")
