"""One page being read: looks keys up, collects every fault with its line, and never stops at the first.

Reading commands come here without a schema check, so nothing is taken for granted about a
page's shape: what has the wrong form is a finding.
"""

from __future__ import annotations

import re
from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.errors import PageRefused
from ovenleaf.findings import Finding, Severity
from ovenleaf.records.nodes import ListNode, MapNode, ScalarNode, find, line_of
from ovenleaf.records.upgrade import refuse_newer

if TYPE_CHECKING:
    from collections.abc import Iterator

    from ovenleaf.records.nodes import Node, Page

Where = tuple[str | int, ...]


class Reading:
    """A page and the faults found in it so far."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.findings: list[Finding] = []
        # looked up some thirty times on every page
        self._top: dict[str | int, Node] = {entry.key: entry.node for entry in page.root.entries}

    def fault(self, where: Where, code: str, message: str, fix: str = "") -> None:
        """Note a fault at a place in the page."""
        self.findings.append(
            Finding(
                code=code,
                severity=Severity.ERROR,
                path=self.page.path,
                line=(line := line_of(self.page, where)),
                message=message,
                fix=fix,
                text=self._line(line),
            )
        )

    def _line(self, line: int | None) -> str:
        lines = self.page.text.splitlines()
        return lines[line - 1].strip() if line and line <= len(lines) else ""

    def finish(self, what: str) -> None:
        """Raise PageRefused if any fault was noted, PageFault for a page by a newer ovenleaf.

        `what` is the sentence above the faults.
        """
        refuse_newer(self.page)
        if self.findings:
            raise PageRefused(what, sorted(self.findings, key=lambda finding: finding.line or 0))

    def node(self, where: Where) -> Node | None:
        """What stands at a place, or None."""
        if not where:
            return self.page.root
        node = self._top.get(where[0])
        return node if node is None or len(where) == 1 else find(node, where[1:])

    def text(self, *where: str | int) -> str:
        """The text at a place; "" where there is nothing. A number is read as it was typed."""
        node = self.node(where)
        if node is None:
            return ""
        if not isinstance(node, ScalarNode):
            self.fault(where, "shape", f"{name(where)} should be a few words on one line.")
            return ""
        return self.words(node)

    def words(self, node: ScalarNode) -> str:
        """A value as its text: as typed for numbers, true and false."""
        if node.value is None:
            return ""
        if isinstance(node.value, str):
            return node.value
        return self.page.text[node.start : node.end]

    def number(self, *where: str | int) -> Decimal | None:
        """The number at a place, or None where there is nothing."""
        node = self.node(where)
        if node is None or (isinstance(node, ScalarNode) and node.value is None):
            return None
        value = node.value if isinstance(node, ScalarNode) else None
        if isinstance(value, str) and re.fullmatch(r"\d+,\d+", value):
            return Decimal(value.replace(",", "."))
        if isinstance(value, bool) or not isinstance(value, int | Decimal):
            self.fault(where, "number", f"{name(where)} should be a number.")
            return None
        return Decimal(value)

    def truth(self, *where: str | int) -> bool | None:
        """True or false at a place, or None where there is nothing."""
        node = self.node(where)
        if node is None:
            return None
        if not isinstance(node, ScalarNode) or not isinstance(node.value, bool):
            self.fault(where, "truth", f"{name(where)} should be true or false.")
            return None
        return node.value

    def texts(self, *where: str | int) -> tuple[str, ...]:
        """The texts of a list at a place; a single text counts as a list of one."""
        node = self.node(where)
        if isinstance(node, ScalarNode):
            return (self.words(node),) if node.value is not None else ()
        if node is None:
            return ()
        if not isinstance(node, ListNode):
            self.fault(where, "shape", f"{name(where)} should be a list, one to a line, each after a dash.")
            return ()
        return tuple(self.words(item) for item in node.items if isinstance(item, ScalarNode))

    def keys(self, *where: str | int) -> tuple[str, ...]:
        """The keys of a block at a place, in the order of the page."""
        node = self.node(where)
        if node is None or (isinstance(node, ScalarNode) and node.value is None):
            return ()
        if not isinstance(node, MapNode):
            self.fault(where, "shape", f"Under {name(where)} there should be lines of the form NAME: VALUE.")
            return ()
        return tuple(entry.key for entry in node.entries)

    def pairs(self, *where: str | int) -> tuple[tuple[str, str], ...]:
        """The keys of a block with their texts."""
        return tuple((key, self.text(*where, key)) for key in self.keys(*where))

    def items(self, *where: str | int) -> Iterator[tuple[Where, Node]]:
        """The places and nodes of a list, in order."""
        node = self.node(where)
        if node is None or (isinstance(node, ScalarNode) and node.value is None):
            return
        if not isinstance(node, ListNode):
            self.fault(where, "shape", f"{name(where)} should be a list, one to a line, each after a dash.")
            return
        for place, item in enumerate(node.items):
            yield (*where, place), item


def name(where: Where) -> str:
    """A place in a page as a baker would say it: `water in poolish`.

    >>> name(("preferments", "poolish", "water")), name(("log", 2))
    ('water in poolish', 'log, number 3')
    """
    words = [str(part) if isinstance(part, str) else f"number {part + 1}" for part in where]
    if not words:
        return "the page"
    if len(words) > 1 and isinstance(where[-1], int):
        return f"{words[-2]}, {words[-1]}"
    return f"{words[-1]} in {words[-2]}" if len(words) > 2 else words[-1]
