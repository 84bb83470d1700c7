"""A blind tasting: breads under three-digit codes, an order for each taster, and a key that stays closed.

Chance comes from outside: wherever something is drawn by lot, a function that shuffles is handed in.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from decimal import Decimal

    from ovenleaf.domain.trial import Correction, Marks

    Permute = Callable[[int], tuple[int, ...]]  # the numbers from 0 up to a count, in an order drawn by lot

FIRST_CODE, LAST_CODE = 100, 999
MOST_BREADS = 8  # more than that tires any taster (common practice)
_TRIADS = ("AAB", "BBA", "ABA", "BAB", "BAA", "ABB")  # all six orders of two alike and an odd one

_PLAIN = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789"
_TURNED = "nopqrstuvwxyzabcdefghijklmNOPQRSTUVWXYZABCDEFGHIJKLM5678901234"
_TURN = str.maketrans(_PLAIN, _TURNED)


class Design(StrEnum):
    """What tasters are asked: marks for each bread, or which of three is the odd one."""

    MARKS = "marks"
    TRIANGLE = "triangle"


@dataclass(frozen=True, slots=True, kw_only=True)
class Bread:
    """A bake that is tasted: its trial's code, what it is, and the day it was baked."""

    code: str
    formula: str
    revision: str
    title: str
    spoken: str
    bake_date: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Tasting:
    """One tasting as it stands on its page.

    `breads` are the trials' codes; `orders` holds for each taster the three-digit codes in serving order; `sealed`
    is the key in turned letters; `marks` (taster, bread's code, marks) and `odd` (taster, code) are what came in;
    `absent` (taster, why) who will send nothing. `key` is () and `opened` "" until the tasting is opened.
    """

    name: str
    design: Design
    by: str = ""
    set_up: str = ""
    question: str = ""
    breads: tuple[str, ...] = ()
    orders: tuple[tuple[str, tuple[str, ...]], ...] = ()
    sealed: str = ""
    marks: tuple[tuple[str, str, Marks], ...] = ()
    odd: tuple[tuple[str, str], ...] = ()
    absent: tuple[tuple[str, str], ...] = ()
    corrections: tuple[Correction, ...] = ()
    opened: str = ""
    key: tuple[tuple[str, str], ...] = ()

    @property
    def tasters(self) -> tuple[str, ...]:
        """Those who taste."""
        return tuple(taster for taster, _ in self.orders)

    @property
    def codes(self) -> tuple[str, ...]:
        """Every code that stands on a plate, lowest first."""
        return tuple(sorted({code for _, order in self.orders for code in order}))

    @property
    def still_to_come(self) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """For each taster who is awaited the codes not told yet; of a triangle all three until one is named."""
        away = {taster for taster, _ in self.absent}
        told = {(taster, code) for taster, code, _ in self.marks}
        named = {taster for taster, _ in self.odd}
        found = []
        for taster, order in self.orders:
            left = tuple(code for code in order if (taster, code) not in told)
            if self.design is Design.TRIANGLE and taster in named:
                left = ()
            if left and taster not in away:
                found.append((taster, left))
        return tuple(found)

    def blanks(self, weights: Sequence[tuple[str, Decimal]]) -> tuple[tuple[str, str, tuple[str, ...]], ...]:
        """(taster, code, attributes): what has weight and is not marked on plates that were told."""
        wanted = [name for name, weight in weights if weight]
        rows = (
            (taster, code, tuple(name for name in wanted if getattr(marks, name) is None))
            for taster, code, marks in self.marks
        )
        return tuple(row for row in rows if row[2])

    @property
    def is_open(self) -> bool:
        """True once all is in and the key has been shown."""
        return bool(self.opened)


def turned(text: str) -> str:
    """Letters turned by thirteen places and figures by five, so that a glance gives nothing away. Its own inverse.

    >>> turned("417 D2"), turned(turned("417 D2"))
    ('962 Q7', '417 D2')
    """
    return text.translate(_TURN)


def seal(key: Sequence[tuple[str, str]]) -> str:
    """The key, three-digit code and trial's code, as it stands on a page until all is in."""
    return turned("; ".join(f"{code} {bread}" for code, bread in sorted(key)))


def unseal(sealed: str) -> tuple[tuple[str, str], ...]:
    """The key again."""
    pairs = (turned(one.strip()).partition(" ") for one in sealed.split(";") if one.strip())
    return tuple((code, bread) for code, _, bread in pairs)


def draw_codes(count: int, used: frozenset[str], permute: Permute) -> tuple[str, ...]:
    """Three-digit codes drawn by lot, none of those in use. Fewer than `count` where too few are left."""
    every = (str(FIRST_CODE + place) for place in permute(LAST_CODE - FIRST_CODE + 1))
    return tuple(code for code in every if code not in used)[:count]


def serving_orders(breads: int, tasters: int, permute: Permute) -> tuple[tuple[int, ...], ...]:
    """For each taster the places of the breads in serving order.

    Every bread comes equally often at every place, and as far as can be equally often after every other one:
    the squares of E. J. Williams (1949), their rows dealt out by lot.
    """
    rows = _square(breads)
    dealt: list[tuple[int, ...]] = []
    while len(dealt) < tasters:
        dealt += [rows[place] for place in permute(len(rows))]
    names = permute(breads)
    return tuple(tuple(names[place] for place in row) for row in dealt[:tasters])


def _square(breads: int) -> list[tuple[int, ...]]:
    """Rows in which each bread follows each other equally often: 0, 1, n-1, 2, n-2, ... moved on; doubled if odd."""
    first = [0]
    for step in range(1, breads):
        first.append((step + 1) // 2 if step % 2 else breads - step // 2)
    rows = [tuple((bread + moved) % breads for bread in first) for moved in range(breads)]
    return [*rows, *(row[::-1] for row in rows)] if breads % 2 else rows


def triads(tasters: int, permute: Permute) -> tuple[str, ...]:
    """For each taster which of A and B stand on the three plates; all six orders equally often as far as can be."""
    dealt: list[str] = []
    while len(dealt) < tasters:
        dealt += [_TRIADS[place] for place in permute(len(_TRIADS))]
    return tuple(dealt[:tasters])


def odd_one(order: Sequence[str], key: Sequence[tuple[str, str]]) -> str:
    """The code of the odd bread among a taster's three."""
    breads = [dict(key)[code] for code in order]
    return next(code for code, bread in zip(order, breads, strict=True) if breads.count(bread) == 1)
