"""Pages written as the book writes them, a name and a value to a line, read line by line into their tree.

Nearly every page is such, and is read here several times as fast as by a parser. Whatever stands
otherwise on a page (brackets, block text, escapes, words over several lines, anything doubtful) is
left to the parser, with all that is refused there. A page that is read here has the parser's own
tree, piece by piece: the tests hold the two against each other.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final, NamedTuple

from ovenleaf.records.nodes import Entry, ListNode, MapNode, ScalarNode
from ovenleaf.records.scalars import resolve

if TYPE_CHECKING:
    from ovenleaf.records.nodes import Node

_NAME: Final = r"\w(?:[^:#\n]{0,98}[^:#\n ])?"
_WORDS: Final = r"(?:[\w.(/]|-[0-9])[^:#\n]*(?:(?::(?=[^ \n])|(?<=[^ \n])#)[^:#\n]*)*"
_QUOTED: Final = r"\"[^\"\\\n]*\"|'[^'\n]*'"
_REMARK: Final = r"(?<![^ \n])#[^\n]*"
_LINE: Final = re.compile(rf"( *)(- +)?(?:({_NAME}):(?![^ \n]) *)?(?:({_WORDS})|({_QUOTED}))? *(?:{_REMARK})?\n")
_FURTHEST_IN: Final = 20  # columns; what is set in further is left to the parser, which counts the levels


class _Line(NamedTuple):
    """A line that says something: its column, its dash with the space behind it, its name and where that stands."""

    column: int
    dash: str | None
    name: str | None
    start: int
    number: int
    value: ScalarNode | None


_END: Final = _Line(-1, None, None, 0, 0, None)


class _NotPlain(Exception):
    """The page is not written in this way throughout."""


def tree(text: str) -> MapNode | None:
    """The tree of a page that was looked over and ends in a line end; None for one that the parser must read."""
    if "\t" in text:
        return None
    try:
        return _Tree(_lines(text)).root()
    except _NotPlain:
        return None


def _lines(text: str) -> list[_Line]:
    """The lines that say something, and an end."""
    lines = []
    at = 0
    for number, found in enumerate(_LINE.finditer(text), 1):
        start = found.start()
        if start != at:  # what stands between is a line of another kind
            raise _NotPlain
        at = found.end()
        indent, dash, name, words, quoted = found.groups()
        if words is not None:
            began, words = found.start(4), words.rstrip(" ")
            value = ScalarNode(resolve(words), began, began + len(words), number, "")
        elif quoted is not None:
            value = ScalarNode(quoted[1:-1], found.start(5), found.end(5), number, quoted[0])
        elif name is None and dash is None:
            continue
        else:
            value = None
        if name is None and (dash is None or value is None):
            raise _NotPlain
        column = len(indent)
        lines.append(_Line(column, dash, name, start + column + len(dash or ""), number, value))
    if at != len(text) or not lines:
        raise _NotPlain
    lines.append(_END)
    return lines


class _Tree:
    """Makes the tree of lines by how far in each stands; `at` is the next line."""

    __slots__ = ("at", "lines")

    def __init__(self, lines: list[_Line]) -> None:
        self.lines = lines
        self.at = 0

    def root(self) -> MapNode:
        first = self.lines[0]
        if first.dash:
            raise _NotPlain
        root = self._map(first.column)
        if self.lines[self.at] is not _END:
            raise _NotPlain
        return root

    def _map(self, column: int) -> MapNode:
        """From the line it begins in, which may have a dash before the name."""
        first = self.lines[self.at]
        if column > _FURTHEST_IN:
            raise _NotPlain
        entries: list[Entry] = []
        line = first
        while True:
            name = line.name
            if name is None:
                raise _NotPlain
            self.at += 1
            end = line.start + len(name)
            node = line.value or self._below(column, end + 1, line.number)
            entries.append(Entry(name, line.start, end, line.number, node))
            line = self.lines[self.at]
            if line.column != column or line.dash:
                break
        if line.column > column or len({entry.key for entry in entries}) != len(entries):
            raise _NotPlain
        return MapNode(tuple(entries), first.start, entries[-1].node.end, first.number, False)

    def _below(self, column: int, end: int, number: int) -> Node:
        """What stands under a name without a value in its line, or the empty value behind its colon."""
        line = self.lines[self.at]
        if line.dash and line.column >= column:
            return self._list(line.column)
        if line.column > column:
            return self._map(line.column)
        return ScalarNode(None, end, end, number, "")

    def _list(self, column: int) -> ListNode:
        first = line = self.lines[self.at]
        items: list[Node] = []
        while line.dash and line.column == column:
            if line.name is not None:
                items.append(self._map(column + len(line.dash)))
            elif line.value is not None:
                items.append(line.value)
                self.at += 1
            line = self.lines[self.at]
        if line.column > column:
            raise _NotPlain
        start = first.start - len(first.dash or "")
        return ListNode(tuple(items), start, items[-1].end, first.number, False)
