"""A line that cannot be read, as it should be: put right by quotes or a space, and tried.

Knows the slips of bakers' hands; how a page is read, it is told by whoever asks.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from ovenleaf.records.page_fault import PageFault
from ovenleaf.records.scalars import double_quoted

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

_MENDABLE: Final = frozenset({"syntax", "anchor", "tag", "key"})
_SIGNS: Final = frozenset({"anchor", "tag"})
_LINES_BACK: Final = 20
_MAX_TRIED: Final = 20_000  # each line tried is one more reading of the whole page
_MAX_LINE: Final = 500
_WANTS_QUOTES: Final = re.compile(
    r"(?P<head> *(?:- +)*)(?P<name>[^\s:#\"'][^:#\"']*: +)?(?P<value>\S.*?)(?P<remark> +#.*)?"
)
# a list, block text or quotes were meant, and more quotes would only hide the slip
# and a name behind & is given to the lines under it, which quotes would leave without a place
_NOT_WORDS: Final = re.compile(
    r"""[\[{](?:[^\]}]*|.*[\]}])|[|>][-+0-9]* *(?:#.*)?|"[^"]*"|'[^']*'|&\S+(?: *[\[{].*)?"""
)
_WANTS_SPACE: Final = re.compile(r"(?P<name> *(?:- +)*[^\s:#\"'-][^:#\"']*:)(?P<value>[^\s:].*)")


def with_line_put_right(fault: PageFault, text: str, first_fault_line: Callable[[str, str], float]) -> PageFault:
    """Add the line as it should be to a fault, if quotes or a space mend it. Found by trying.

    A quote that is never closed shows only further down, so lines above are tried as well. Given a
    text and its name, `first_fault_line` reads it and says in which line it stopped, infinity if in none.
    """
    if fault.kind not in _MENDABLE or len(text) > _MAX_TRIED:
        return fault
    lines = text.split("\n")
    for number in range(fault.line, max(0, fault.line - _LINES_BACK), -1):
        typed = lines[number - 1]
        for sentence, better in _better_lines(typed):
            tried = "\n".join([*lines[: number - 1], better, *lines[number:]])
            if first_fault_line(tried, fault.path) > fault.line:
                return PageFault(
                    fault.kind,
                    fault.sentence if fault.kind in _SIGNS else sentence,
                    path=fault.path,
                    line=number,
                    text=typed,
                    detail=("Write it so:", f"  {better}"),
                )
    return fault


def _better_lines(line: str) -> Iterator[tuple[str, str]]:
    if len(line) > _MAX_LINE:
        return
    found = _WANTS_QUOTES.fullmatch(line)
    if found and (found["name"] or "-" in found["head"]) and not _NOT_WORDS.fullmatch(found["value"]):
        head, value, rest = found["head"] + (found["name"] or ""), found["value"], found["remark"] or ""
        yield "The words in this line need quotes.", f"{head}{_in_quotes(value)}{rest}"
    found = _WANTS_SPACE.fullmatch(line)
    if found:
        yield "A space is missing behind the colon.", f"{found['name']} {found['value']}"


def _in_quotes(words: str) -> str:
    """Quote as a baker would: the other kind of quotes where the words hold the first."""
    if ('"' in words or "\\" in words) and "'" not in words:
        return f"'{words}'"
    return double_quoted(words)
