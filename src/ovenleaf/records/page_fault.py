"""The refusal of a page that cannot be read, and the line it tells of.

Knows how to count lines; not what can be wrong with a page.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NoReturn, TypeAlias

from ovenleaf.errors import Place, Refusal

if TYPE_CHECKING:
    from collections.abc import Sequence

Spot: TypeAlias = tuple[str, str, int]  # a page's text, the page's name, an offset into the text


class PageFault(Refusal):
    """A page cannot be read. Facts: `kind` (for tests and scripts), `path`, `line` from 1, `sentence`."""

    def __init__(
        self, kind: str, sentence: str, *, path: str, line: int, text: str = "", detail: Sequence[str] = ()
    ) -> None:
        super().__init__(sentence, where=Place(path, line, text), detail=detail)
        self.kind = kind
        self.sentence = sentence
        self.path = path
        self.line = line


def refuse(kind: str, sentence: str, at: Spot, *detail: str) -> NoReturn:
    """Raise a PageFault for the line in which `at` lies."""
    text, path, offset = at
    line = line_at(text, offset)
    raise PageFault(kind, sentence, path=path, line=line, text=line_text(text, line), detail=detail)


def line_at(text: str, offset: int) -> int:
    """Give the line, from 1, in which an offset lies."""
    return text.count("\n", 0, offset) + 1


def line_text(text: str, line: int) -> str:
    """Give the words of a line, counted from 1; empty behind the last."""
    lines = text.split("\n", line)
    return lines[line - 1] if line <= len(lines) else ""
