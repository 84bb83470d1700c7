"""The lines of a card that a formula was adopted from, each with what the first bake that weighed it found.

A guess stands until somebody weighs the line; from then on the weight is what is known of it.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain.batch import flour_in_batch
from ovenleaf.domain.formula import all_lines
from ovenleaf.domain.ingredients import folded
from ovenleaf.domain.measures import grams
from ovenleaf.domain.numbers import CONTEXT, HUNDRED, ZERO
from ovenleaf.domain.quantity import Amount, AmountFault, amount

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from ovenleaf.domain.card_told import CardLine, CardTold
    from ovenleaf.domain.formula import Formula
    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.percent import Worked
    from ovenleaf.domain.trial import Trial

_OUTSIDE = "outside"


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownLine:
    """A line of a card. `weighed` is its weight in g at the size of the card, by the bake `trial` of the day `on`;

    None where no bake weighed it. `edit` is how a tweak names it, "" where the newest revision has that weight.
    """

    line: CardLine
    weighed: Decimal | None = None
    trial: str = ""
    on: str = ""
    edit: str = ""

    @property
    def sure(self) -> str:
        """How far its weight can be relied on, in the words of the card's page."""
        return self.line.sure if self.weighed is None else "weighed"


def known_lines(
    card: CardTold, bakes: Sequence[tuple[Trial, Worked]], newest: Formula | None, pantry: Pantry
) -> tuple[KnownLine, ...]:
    """Every line of the card; `bakes` are in the order of their days, each with its revision worked out."""
    names = Counter(folded(line.item) for line in card.lines if line.bowl != _OUTSIDE)
    flour = _flour(card.lines, pantry)
    weighed = [(trial, _weighed(trial, worked, flour, pantry)) for trial, worked in bakes]
    return tuple(_known(line, weighed, newest, pantry, alone=names[folded(line.item)] == 1) for line in card.lines)


def _known(
    line: CardLine,
    bakes: Sequence[tuple[Trial, Mapping[str, Decimal]]],
    newest: Formula | None,
    pantry: Pantry,
    *,
    alone: bool,
) -> KnownLine:
    if not line.item or not line.sure or line.bowl == _OUTSIDE:
        return KnownLine(line=line)
    called = (f"{line.bowl}:{folded(line.item)}" if line.bowl else "", folded(line.item) if alone else "")
    for trial, found in bakes:
        for name in filter(None, called):
            if name in found:
                edit = _edit(line, found[name], newest, pantry)
                return KnownLine(line=line, weighed=found[name], trial=trial.code, on=trial.day, edit=edit)
    return KnownLine(line=line)


def _weighed(trial: Trial, worked: Worked, flour: Decimal, pantry: Pantry) -> dict[str, Decimal]:
    """What a bake weighed, in g at the size of the card, by item or `bowl:item`."""
    batch = flour_in_batch(trial.batch, worked)
    factor = CONTEXT.divide(flour, batch) if batch and flour else Decimal(1)
    found = {}
    for name, typed in trial.weighed:
        bowl, _, item = name.rpartition(":")
        weight = _grams(typed, item, pantry)
        if weight is not None:
            found[f"{bowl}:{folded(item)}" if bowl else folded(item)] = weight * factor
    return found


def _flour(lines: Iterable[CardLine], pantry: Pantry) -> Decimal:
    """The flour of the card, in g."""
    known = ((pantry.get(line.item).flour, _grams(line.taken, line.item, pantry)) for line in lines if line.taken)
    return sum((CONTEXT.divide(flour * weight, HUNDRED) for flour, weight in known if weight is not None), ZERO)


def _grams(typed: str, item: str, pantry: Pantry) -> Decimal | None:
    try:
        value: Amount = amount(typed)
    except AmountFault:
        return None
    return None if value.is_share else grams(value, pantry.get(item))


def _edit(line: CardLine, weighed: Decimal, newest: Formula | None, pantry: Pantry) -> str:
    """What a tweak calls the line, where the newest revision has another weight of it; else ""."""
    if newest is None:
        return ""
    for where, one in all_lines(newest):
        bowl = str(where[1]) if where[0] == "stages" else ""
        if folded(one.item) == folded(line.item) and bowl == line.bowl and where[0] != _OUTSIDE:
            now = None if one.amount is None or one.amount.is_share else grams(one.amount, pantry.get(one.item))
            apart = now is not None and abs(now - weighed) * 200 > weighed
            return f"{bowl}:{one.item}".lstrip(":") if apart else ""
    return ""
