"""Figures in words and digits, for screens, messages and history entries: each with its unit."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain.numbers import plain, rounded

if TYPE_CHECKING:
    from collections.abc import Callable

_SMALL = Decimal(10)


def shown_pct(value: Decimal) -> Decimal:
    """A percentage as it is shown: exact when it has two decimals or fewer, else one decimal from 10 up, two below.

    >>> shown_pct(Decimal("0.62")), shown_pct(Decimal("58.2571"))
    (Decimal('0.62'), Decimal('58.3'))
    """
    exact = rounded(value, 2)
    if exact != value and abs(value) >= _SMALL:
        exact = rounded(value, 1)
    return exact


def pct(value: Decimal) -> str:
    """A percentage with one decimal at least.

    >>> pct(Decimal(62)), pct(Decimal("0.62")), pct(Decimal("58.2571"))
    ('62.0 %', '0.62 %', '58.3 %')
    """
    return f"{_with_decimals(shown_pct(value), 1)} %"


def as_edit(planned: tuple[str, str]) -> str:
    """An item and its share as they are typed to change a formula.

    >>> as_edit(("water", "77.0 %"))
    'water=77%'
    """
    item, share = planned
    return f"{item}={share.removesuffix(' %').removesuffix('.0')}%"


def shown_grams(value: Decimal) -> Decimal:
    """A weight in g as it is shown: to 0.1 g, to 0.01 g below 1 g.

    >>> shown_grams(Decimal("1676.24")), shown_grams(Decimal("0.247"))
    (Decimal('1676.2'), Decimal('0.25'))
    """
    return rounded(value, 1 if abs(value) >= 1 else 2)


def grams(value: Decimal) -> str:
    """A weight in g, without needless zeros.

    >>> grams(Decimal("1000.0")), grams(Decimal("0.247"))
    ('1000 g', '0.25 g')
    """
    return f"{plain(shown_grams(value))} g"


def file_size(size: int) -> str:
    """The size of a file of so many bytes, a megabyte being a million.

    >>> file_size(12_000_000), file_size(1_840_000), file_size(900)
    ('12 MB', '1.8 MB', '1 kB')
    """
    if size < 1_000_000:
        return f"{max(1, (size + 500) // 1000)} kB"
    return f"{plain(rounded(Decimal(size) / 1_000_000, 1))} MB"


def mark(value: Decimal) -> str:
    """A taster's mark or a mean of marks: one decimal, two where they are needed.

    >>> mark(Decimal(7)), mark(Decimal("7.25")), mark(Decimal("6.875"))
    ('7.0', '7.25', '6.88')
    """
    return _with_decimals(rounded(value, 2), 1)


def mark_as_given(value: Decimal) -> str:
    """A mark as it was given: `7`, `6.5`."""
    return plain(value)


def score(value: Decimal) -> str:
    """A score, always with two decimals so that a column of them can be read.

    >>> score(Decimal("7.5"))
    '7.50'
    """
    return f"{rounded(value, 2):f}"


def points(before: Decimal, after: Decimal) -> str:
    """A change of a percentage in words, between the figures as they are shown.

    >>> points(Decimal(65), Decimal(68)), points(Decimal("1.5"), Decimal("1.2")), points(Decimal(2), Decimal(2))
    ('up 3.0 points', 'down 0.3 points', 'same')
    """
    change = shown_pct(after) - shown_pct(before)
    return change_words(change, " points")


def change_words(change: Decimal, unit: str = "") -> str:
    """`up 1.0`, `down 0.25` or `same`; never a sign.

    >>> change_words(Decimal("-0.5"))
    'down 0.5'
    """
    if not change:
        return "same"
    return f"{'up' if change > 0 else 'down'} {_with_decimals(abs(change), 1)}{unit}"


def mark_change(before: Decimal, after: Decimal, shown: Callable[[Decimal], str]) -> str:
    """A change of marks in words, with as many decimals as the two figures have beside it, which `shown` wrote.

    >>> mark_change(Decimal("6.88"), Decimal("7.78"), mark), mark_change(Decimal(7), Decimal(8), score)
    ('up 0.90', 'up 1.00')
    """
    places = max(len(shown(value).partition(".")[2]) for value in (before, after))
    change = rounded(after, 2) - rounded(before, 2)
    return f"{'up' if change > 0 else 'down'} {_with_decimals(abs(change), places)}" if change else "same"


def _with_decimals(value: Decimal, least: int) -> str:
    text = plain(value)
    whole, _, part = text.partition(".")
    return f"{whole}.{part.ljust(least, '0')}"
