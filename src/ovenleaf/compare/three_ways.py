"""Three readings of one thing, the ancestor and two that came of it: which stands, or that it is a question.

Decisions are data; the truth table below is all there is to it. Knows nothing of bread or of pages: a
tree is names, lists and single values, as any page has them.

 no  before   one      other    stands
  1  a        a        a        a            untouched
  2  a        b        a        b            one changed it (into nothing, too)
  3  a        a        c        c            the other changed it
  4  a        b        b        b            both changed it alike
  5  names    names    names    name by name both changed something within
  6  list     list     list     both's       a list that only gains, or is told apart by names
  7  a        b        c        a            changed in two ways: a question
  8  nothing  b        c        nothing, or b put in twice: a question; where nothing cannot stand, b stands in
  9  a        A        c        c            one changed no more than how it is written: `A` means `a`
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import Enum, IntEnum
from typing import TYPE_CHECKING, Final, TypeAlias

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

Value: TypeAlias = Decimal | int | str | bool | None
Tree: TypeAlias = "dict[str, Tree] | list[Tree] | Value"
Path: TypeAlias = tuple[str, ...]


class Gone(Enum):
    """What stands where nothing stands: neither empty nor zero."""

    GONE = "gone"


GONE: Final = Gone.GONE
Side: TypeAlias = "Tree | Gone"


class Case(IntEnum):
    """The row of the truth table."""

    UNTOUCHED = 1
    ONE_CHANGED = 2
    OTHER_CHANGED = 3
    ALIKE = 4
    WITHIN = 5
    UNITED = 6
    TWO_WAYS = 7
    PUT_IN_TWICE = 8
    WRITTEN_ANEW = 9


@dataclass(frozen=True, slots=True, kw_only=True)
class Decision:
    """What was decided at one place, by which row of the table; rows 7 and 8 are questions."""

    path: Path
    case: Case
    before: Side
    one: Side
    other: Side

    @property
    def is_question(self) -> bool:
        """True where the two have to settle it."""
        return self.case in (Case.TWO_WAYS, Case.PUT_IN_TWICE)


def decide(before: Side, one: Side, other: Side, *, means_same: Callable[[Side, Side], bool]) -> tuple[Case, Side]:
    """The row for one thing that is looked at whole, and what stands.

    `means_same` says that two differ in how they are written at most.

    >>> same = lambda one, other: str(one).strip("0") == str(other).strip("0")
    >>> decide("62%", "65%", "62%", means_same=same)[1], decide("62%", "65%", "68%", means_same=same)[1]
    ('65%', '62%')
    """
    if alike(one, other):
        return (Case.UNTOUCHED if alike(one, before) else Case.ALIKE), one
    if alike(other, before):
        return Case.ONE_CHANGED, one
    if alike(one, before):
        return Case.OTHER_CHANGED, other
    if means_same(one, other):
        return Case.ALIKE, one
    if means_same(one, before):
        return Case.WRITTEN_ANEW, other
    if means_same(other, before):
        return Case.WRITTEN_ANEW, one
    return (Case.PUT_IN_TWICE if before is GONE else Case.TWO_WAYS), before


def alike(one: Side, other: Side) -> bool:
    """Equal in kind as well: true is not 1. Names may stand in any order, a list's values may not."""
    if isinstance(one, dict) and isinstance(other, dict):
        return one.keys() == other.keys() and all(alike(one[key], other[key]) for key in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(alike, one, other))
    if isinstance(one, bool) or isinstance(other, bool):
        return one is other
    return one == other


def woven(skeleton: Iterable[str], donor: Iterable[str]) -> tuple[str, ...]:
    """Names in the order of `skeleton`, those that only `donor` has behind the one they follow there.

    >>> woven(["flour", "water", "salt"], ["flour", "oil", "water", "yeast"])
    ('flour', 'oil', 'water', 'yeast', 'salt')
    """
    order = list(skeleton)
    last = -1
    for name in donor:
        if name in order:
            last = order.index(name)
        else:
            last += 1
            order.insert(last, name)
    return tuple(order)


def order_of(before: tuple[str, ...], one: tuple[str, ...], other: tuple[str, ...]) -> tuple[tuple[str, ...], bool]:
    """The order that stands for names of which the order counts, and False if it was changed in two ways."""
    common = [name for name in before if name in one and name in other]
    in_one, in_other = ([name for name in names if name in common] for names in (one, other))
    if in_one in (common, in_other):
        skeleton, donor = (other, one) if in_one == common and in_other != common else (one, other)
        return woven(skeleton, donor), True
    if in_other == common:
        return woven(one, other), True
    return woven(woven(before, one), other), False
