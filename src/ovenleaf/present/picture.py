"""Pictures in plain text: names at their places along a row, a row for each step of a score or each revision."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.present.scales import share_of_way
from ovenleaf.present.screen import SET_IN, WIDTH, clean, count, width_of

if TYPE_CHECKING:
    from collections.abc import Sequence

Marked = tuple[Decimal, str]  # where along the row, and the name that stands there

_APART = 3  # between what a row is called and its picture
_MORE = 11  # columns kept for the count of those that find no room: ` seven more`


def picture(rows: Sequence[tuple[str, Sequence[Marked]]], along: Sequence[tuple[Decimal, str]]) -> str:
    """The rows under one another, and below them the figures along the picture, lowest first.

    Names that would stand on one another move aside; what finds no room is counted at the end of its row.
    """
    named = max((width_of(clean(name)) for name, _ in rows), default=0)
    start = SET_IN + named + _APART
    ends = tuple(value for value, _ in along)
    room = WIDTH - start - _MORE
    lines = [_line(" " * SET_IN + clean(name).rjust(named), start, room, ends, marks) for name, marks in rows]
    return "\n".join([*lines, _feet(start, room, ends, along)])


def _line(name: str, start: int, room: int, ends: tuple[Decimal, ...], marks: Sequence[Marked]) -> str:
    taken: list[tuple[int, str]] = []
    for value, mark in sorted(marks, key=lambda one: one[0]):
        at = _free(_column(start, room, value, ends), width_of(mark), start, taken)
        if at is not None:
            taken.append((at, mark))
    text = name
    for at, mark in sorted(taken):
        text = text.ljust(at) + mark
    more = len(marks) - len(taken)
    return f"{text} {count(more, 'more', 'more')}" if more else text.rstrip()


def _free(wanted: int, wide: int, start: int, taken: Sequence[tuple[int, str]]) -> int | None:
    """The column nearest to the one that is wanted where a name of that width stands alone."""
    last = WIDTH - _MORE - wide
    for away in range(WIDTH):
        for at in (wanted + away, wanted - away):
            if start <= at <= last and all(at > to + width_of(m) or at + wide < to for to, m in taken):
                return at
    return None


def _column(start: int, room: int, value: Decimal, ends: tuple[Decimal, ...]) -> int:
    return start + int((share_of_way(value, ends) * (room - 1)).to_integral_value())


def _feet(start: int, room: int, ends: tuple[Decimal, ...], along: Sequence[tuple[Decimal, str]]) -> str:
    text = ""
    for value, figure in along:
        at = _column(start, room, value, ends) - width_of(figure) // 2
        if at > width_of(text):
            text = text.ljust(at) + figure
    return text
