"""Where things stand in a page's text: names and values, remarks, lines and columns.

Finds places and changes none; knows nothing of what the names on a page mean.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from ovenleaf.records.nodes import ListNode, MapNode, ScalarNode, find

if TYPE_CHECKING:
    from collections.abc import Iterator

    from ovenleaf.records.nodes import Node, Page, Path

# The line in which a block text begins, behind which its words stand.
BLOCK_HEAD: Final = re.compile(r"[^\n#]*?(?P<remark>#[^\n]*)?(?=\n|\Z)")
_SKIP: Final = re.compile(r"(?:[ \t\n]+|#[^\n]*)*")
REMARK: Final = re.compile(r"#[^\n]*")


def spans(node: Node) -> Iterator[tuple[int, int]]:
    """Yield where each name and value stands, in order. Between them are only signs, space and remarks."""
    if isinstance(node, ScalarNode):
        yield node.start, node.end
    elif isinstance(node, ListNode):
        for item in node.items:
            yield from spans(item)
    else:
        for entry in node.entries:
            yield entry.key_start, entry.key_end
            yield from spans(entry.node)


def remarks(page: Page) -> Iterator[tuple[int, int]]:
    """Yield where each remark of the page stands, from its # to the end of its line."""
    at = 0
    for start, end in (*spans(page.root), (len(page.text), len(page.text))):
        yield from (found.span() for found in REMARK.finditer(page.text, at, start))
        if page.text.startswith(("|", ">"), start):
            found = BLOCK_HEAD.match(page.text, start, end)
            if found and found["remark"]:
                yield found.span("remark")
        at = end


def places_in(text: str, node: MapNode | ListNode) -> list[tuple[int, int]]:
    """Give the span of each line or value, from its name or dash to the end of its value."""
    if isinstance(node, MapNode):
        return [(entry.key_start, entry.node.end) for entry in node.entries]
    if node.flow:
        return [(item.start, item.end) for item in node.items]
    before = [node.start, *(item.end for item in node.items)]
    return [(next_sign(text, at), item.end) for at, item in zip(before, node.items, strict=False)]


def next_sign(text: str, at: int) -> int:
    """Skip spaces, line ends and remarks."""
    found = _SKIP.match(text, at)
    return found.end() if found else at


def inside_brackets(page: Page, path: Path) -> bool:
    """Say whether a path leads through a map or list in brackets."""
    above = (find(page.root, path[:depth]) for depth in range(len(path)))
    return any(not isinstance(node, ScalarNode) and node is not None and node.flow for node in above)


def start_of_line(text: str, at: int) -> int:
    """Give the offset at which the line of an offset begins."""
    return text.rfind("\n", 0, at) + 1


def end_of_line(text: str, at: int) -> int:
    """Give the offset of the line end behind an offset."""
    return text.index("\n", at)  # a page's text ends in a line end


def column_of(text: str, at: int) -> int:
    """Count the characters that stand before an offset in its line."""
    return at - start_of_line(text, at)
