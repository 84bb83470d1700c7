"""One yeast for another, and how time and warmth trade for one another."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain.figures import pct
from ovenleaf.domain.numbers import CONTEXT, plain, rounded

if TYPE_CHECKING:
    from ovenleaf.domain.ingredients import Ingredient

RULE_FROM, RULE_TO = Decimal(15), Decimal(32)  # degrees Celsius between which the rules of thumb hold


@dataclass(frozen=True, slots=True, kw_only=True)
class Swap:
    """`old` g of one yeast are `new` g of another; `water` g more keep the dough as heavy as it was."""

    old_item: str
    new_item: str
    old: Decimal
    new: Decimal
    water: Decimal
    factor: Decimal


def swap(old: Ingredient, new: Ingredient, amount: Decimal) -> Swap:
    """The same work by another yeast. Compressed : active dry : instant = 1 : 0.40 : 0.33 (Hamelman 2004).

    30 g fresh are 12.0 g active dry or 9.9 g instant; the difference is made up with water.
    """
    assert old.instant is not None
    assert new.instant is not None
    factor = CONTEXT.divide(old.instant, new.instant)
    needed = amount * factor
    return Swap(old_item=old.name, new_item=new.name, old=amount, new=needed, water=amount - needed, factor=factor)


def swap_words(one: Swap) -> str:
    """The arithmetic of a swap whose figures are shares of all the flour, in a sentence."""
    less = f"{plain(rounded(abs(one.water), 2))} points {'more' if one.water > 0 else 'less'}"
    times = f"Of all the flour, {pct(one.old)} {one.old_item} times {plain(rounded(one.factor, 3))}"
    return f"{times} is {pct(one.new)} {one.new_item}; {less} water keeps the dough as heavy."


def swaps_in_words(swaps: tuple[Swap, ...], others: tuple[str, ...]) -> tuple[str, ...]:
    """What a bake has other than its formula, a sentence for each; `others` are of flours and preferments."""
    return (*map(swap_words, swaps), *(f"{one[:1].upper()}{one[1:]}." for one in others))


def time_at(minutes: Decimal, planned: Decimal, actual: Decimal) -> tuple[Decimal, Decimal] | None:
    """How long a yeasted dough takes at `actual` degrees that takes `minutes` at `planned`, as a range.

    By two trade rules: 10 % a degree, and twice as fast per 17 F (9.44 C). None outside 15 to 32 C, where
    neither holds. 120 min at 24 C moved to 20 C: 160.9 to 175.7 min.
    """
    if not all(RULE_FROM <= degrees <= RULE_TO for degrees in (planned, actual)):
        return None
    colder = planned - actual
    by_tenths = CONTEXT.multiply(minutes, CONTEXT.power(Decimal("1.1"), colder))
    per_17_f = CONTEXT.divide(colder * Decimal("1.8"), Decimal(17))
    by_doubling = CONTEXT.multiply(minutes, CONTEXT.power(Decimal(2), per_17_f))
    return min(by_tenths, by_doubling), max(by_tenths, by_doubling)
