"""The corners in which one parser accepts what the other refuses, and what is said where a parser stops.

The rule: text that either parser refuses is refused, so that a page never depends on which one is
there. Looks at the text alone; knows neither parser.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final, NoReturn

from ovenleaf.records.page_fault import PageFault, line_at, line_text, refuse
from ovenleaf.records.places import spans
from ovenleaf.records.scalars import SURROGATE

if TYPE_CHECKING:
    from ovenleaf.records.nodes import MapNode
    from ovenleaf.records.page_fault import Spot

_UNREADABLE: Final = "This line cannot be read as it stands."
_BRACKETS: Final = "Inside brackets, words with a colon or a question mark need quotes."
_BRACKETS_SO: Final = 'Write them so: ["so?"], or give each a line of its own.'
_SIGN_INSIDE: Final = re.compile(r"""[\[{][^\[\]{}"'#]*(?:\?|:[^ ])""")
_HALF_CHARACTER: Final = "One of the characters written with a backslash in it does not exist."
_LOOK_AT: Final = (
    "See that each name is followed by a colon and a space, that quotes and brackets are closed, "
    "and that the line is set in as far as the lines it belongs with.",
)
_LEFT_OPEN: Final = "A bracket that is opened in this line is not closed."
_LEFT_OPEN_SO: Final = "Close it, or put quotes around the words."
_REMARK_OR_TAB: Final = re.compile(r"#[^\n]*|\t")
_TAB: Final = "A tab stands in this line."
_TAB_SO: Final = "Put spaces in its place."
_BLOCK_HEAD: Final = re.compile(r"[|>](?:[+-]?[1-9]?|[1-9][+-]) *(?: #[^\n]*)?\n")
_SPACES_ONLY: Final = re.compile(r" +\n")
_QUOTES: Final = ("'", '"', "|", ">")  # how a value begins that is not plain; no plain value does


def check_characters(value: str, at: Spot) -> None:
    """Refuse half of a character pair, written as an escape, in the value in double quotes at `at`."""
    if SURROGATE.search(value):
        refuse("syntax", _UNREADABLE, at, _HALF_CHARACTER)


def check_in_brackets(value: str, at: Spot) -> None:
    """Refuse a colon or a question mark in the plain value in brackets at `at`."""
    if ":" in value or "?" in value:
        refuse_in_brackets(at)


def refuse_in_brackets(at: Spot) -> NoReturn:
    """Raise the PageFault for a name and value in brackets that stand there without quotes."""
    refuse("syntax", _BRACKETS, at, _BRACKETS_SO)


def block_end(at: Spot, end: int) -> int:
    """Find the end of the last line that belongs to the block text at `at`, without its line end.

    `end` is where the parser left it. PageFault for a head or first line that one parser refuses.
    """
    text, _, start = at
    head = _BLOCK_HEAD.match(text, start)
    if head is None:
        refuse("syntax", _UNREADABLE, at, "Put a space before #.")
    if text.startswith(" ", head.end()) and _SPACES_ONLY.match(text, head.end()):
        refuse("syntax", _UNREADABLE, at, "The line under it holds only spaces. Take that out.")
    if "+" in head[0].partition("#")[0]:  # the blank lines after it are part of it
        return max(end - 1, head.end() - 1)
    content = len(text[start:end].rstrip(" \t\n"))
    line_end = text.find("\n", start + content, end)
    return line_end if line_end >= 0 else end


def check_tabs(text: str, path: str, root: MapNode) -> None:
    """Allow tabs inside quotes, block text and remarks, where both parsers take them; refuse others."""
    at = 0
    for start, end in (*spans(root), (len(text), len(text))):
        for found in _REMARK_OR_TAB.finditer(text, at, start):
            if found[0] == "\t":
                _refuse_tab((text, path, found.start()))
        if text[start:end].startswith(_QUOTES) or (at := text.find("\t", start, end)) < 0:
            at = end
        else:
            _refuse_tab((text, path, at))


def _refuse_tab(at: Spot) -> NoReturn:
    refuse("tab", _TAB, at, _TAB_SO)


def unreadable(at: Spot) -> PageFault:
    """Make the refusal of a page that a parser cannot read beyond `at`."""
    text, path, offset = at
    line = min(line_at(text, offset), text.count("\n"))
    words = line_text(text, line)
    if "\t" in words:
        return PageFault("tab", _TAB, path=path, line=line, text=words, detail=(_TAB_SO,))
    sentence, detail = (_BRACKETS, (_BRACKETS_SO,)) if _SIGN_INSIDE.search(words) else (_UNREADABLE, _LOOK_AT)
    if sentence == _UNREADABLE and sum(map(words.count, "[{")) > sum(map(words.count, "]}")):
        sentence, detail = _LEFT_OPEN, (_LEFT_OPEN_SO,)
    return PageFault("syntax", sentence, path=path, line=line, text=words, detail=detail)
