"""A page as a tree that knows where each piece stands, and the ways to look into it.

Knows nothing of how a page is read or written, nor of what the names on it mean. The pieces are named
tuples, which are made three times as fast as other frozen values: ten thousand pages have a million.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import NamedTuple, TypeAlias

Scalar: TypeAlias = Decimal | int | str | bool | None
Plain: TypeAlias = "dict[str, Plain] | list[Plain] | Scalar"
Path: TypeAlias = Sequence[str | int]


class ScalarNode(NamedTuple):
    """One value. `text[start:end]` is it as typed, quotes included; `line` counts from 1.

    `style` is `''` for plain, else the quote or the block mark that opens it. A value left
    empty has `start == end`, just behind its colon or dash.
    """

    value: Scalar
    start: int
    end: int
    line: int
    style: str


class Entry(NamedTuple):
    """A name and what stands under it; the span is that of the name as typed."""

    key: str
    key_start: int
    key_end: int
    key_line: int
    node: Node


class MapNode(NamedTuple):
    """Names with values. `flow` is the `{a: 1}` form; in the other, `end` is the last value's."""

    entries: tuple[Entry, ...]
    start: int
    end: int
    line: int
    flow: bool


class ListNode(NamedTuple):
    """Values in order. `flow` is the `[a, b]` form; in the other, `start` is at the first dash."""

    items: tuple[Node, ...]
    start: int
    end: int
    line: int
    flow: bool


Node: TypeAlias = ScalarNode | MapNode | ListNode


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """A page that was read: its text (which ends in a line end), its tree, its name for messages."""

    text: str
    root: MapNode
    path: str


def plain(node: Node) -> Plain:
    """Give a node as dicts, lists and scalars; whole numbers are int, other numbers Decimal."""
    if isinstance(node, ScalarNode):
        return node.value
    if isinstance(node, ListNode):
        return [plain(item) for item in node.items]
    return {entry.key: plain(entry.node) for entry in node.entries}


def entry_of(node: MapNode, key: str) -> Entry | None:
    """Give the line of a name, or None."""
    for entry in node.entries:  # a loop, not an expression: with ten thousand pages half the wait for the tree is here
        if entry.key == key:
            return entry
    return None


def find(node: Node, path: Path) -> Node | None:
    """Give the node at a path of names and places (from 0), or None."""
    for step in path:
        if isinstance(node, MapNode) and isinstance(step, str):
            entry = entry_of(node, step)
            if entry is None:
                return None
            node = entry.node
        elif isinstance(node, ListNode) and isinstance(step, int) and 0 <= step < len(node.items):
            node = node.items[step]
        else:
            return None
    return node


def line_of(page: Page, path: Path) -> int:
    """Give the line a path stands in, from 1; that of the nearest part there is, if it is not there."""
    node: Node = page.root
    line = node.line
    for step in path:
        entry = entry_of(node, step) if isinstance(node, MapNode) and isinstance(step, str) else None
        below = entry.node if entry else find(node, (step,))
        if below is None:
            break
        node, line = below, entry.key_line if entry else below.line
    return line
