"""What a baker types to change a formula: `water=68%`, `poolish:water=110%`, `bulk.time=60min`."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.domain.numbers import NUMBER, number
from ovenleaf.domain.quantity import Amount, AmountFault, Unit, amount

if TYPE_CHECKING:
    from decimal import Decimal

REST = "rest"
NONE = "none"

_EDIT = re.compile(r"(?:(?P<part>[^:=]+):)?(?P<item>[^=:]+?)\s*=\s*(?P<value>.+)", re.DOTALL)
_POINTS = re.compile(rf"(?P<sign>[+-])\s*(?P<by>{NUMBER})\s*(?:points?|%|%-?points?)?")


@dataclass(frozen=True, slots=True, kw_only=True)
class Edit:
    """One change as typed. Exactly one of `amount`, `points`, `word` is given, or else it is `text`.

    `part` is the preferment, soaker or bowl the item is in, "" for the whole; `word` is `none` or `rest`.
    """

    typed: str
    part: str
    item: str
    text: str
    amount: Amount | None = None
    points: Decimal | None = None
    word: str = ""


class EditFault(ValueError):
    """A change that cannot be read. Facts: `typed`; `kind`: `form`, or that of the amount."""

    def __init__(self, typed: str, kind: str, fault: AmountFault | None = None) -> None:
        super().__init__(f"{typed!r}: {kind}")
        self.typed = typed
        self.kind = kind
        self.fault = fault


def edit(typed: str) -> Edit:
    """Read one change. Raises EditFault when it has no `=` or nothing on one side of it.

    What is right of the `=` and is neither an amount, points, `none` nor `rest` stays text: it may
    be meant for a step.

    >>> edit("water=+3points").points, edit("poolish:water=110%").part, edit("butter=none").word
    (Decimal('3'), 'poolish', 'none')
    """
    found = _EDIT.fullmatch(typed.strip())
    if not found:
        raise EditFault(typed, "form")
    value = found["value"].strip()
    item, part = found["item"].strip(), (found["part"] or "").strip()
    if value.lower() in (REST, NONE):
        return Edit(typed=typed, part=part, item=item, text=value, word=value.lower())
    if points := _POINTS.fullmatch(value):
        by = number(points["by"]) * (1 if points["sign"] == "+" else -1)
        return Edit(typed=typed, part=part, item=item, text=value, points=by)
    try:
        return Edit(typed=typed, part=part, item=item, text=value, amount=amount(value, bare=Unit.SHARE))
    except AmountFault as fault:
        if fault.kind in ("not a number", "unknown unit"):
            return Edit(typed=typed, part=part, item=item, text=value)
        raise EditFault(typed, fault.kind, fault) from None


def meant(typed: str, names: tuple[str, ...]) -> tuple[str, ...]:
    """Those of `names` that a short name may mean: itself, or those one of whose words begins so.

    >>> meant("caraway", ("caraway seed", "water")), meant("wheat", ("strong wheat flour", "wheat malt"))
    (('caraway seed',), ('strong wheat flour', 'wheat malt'))
    """
    wanted = typed.lower().replace("-", " ")
    folded = {name: name.lower().replace("-", " ") for name in names}
    if exact := tuple(name for name in names if folded[name] == wanted):
        return exact
    return tuple(name for name in names if f" {wanted}" in f" {folded[name]}")
