"""A screen made into HTML: its sentences, headings and tables as such, and the codes of bakes as links.

Screens that were laid out as `Manner.MARKED` come in here; so a page says what a screen says, in the same words.
"""

from __future__ import annotations

import re
from itertools import groupby, zip_longest
from typing import TYPE_CHECKING

from ovenleaf.present.html import Html, joined, tag
from ovenleaf.present.manner import CELL, HEADS, ROW, Manner, laid_out

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from ovenleaf.present.pages.places import Links

_MARKS = (HEADS, ROW)
ROWS, SET_IN, SAID = "rows", "set in", "said"
_CODE = re.compile(r"\b([A-Z][1-9]\d*)\b")


def marked(screen: Callable[[], str]) -> str:
    """A screen as `laid` wants it."""
    with laid_out(Manner.MARKED):
        return screen()


def laid(text: str, links: Links, *, level: int = 2) -> Html:
    """The blocks of a marked screen; `links` is where the codes in it lead, `level` that of its headings."""
    return joined(part for block in text.split("\n\n") for part in _block(block.split("\n"), links, level))


def _block(lines: Sequence[str], links: Links, level: int) -> Iterator[Html]:
    """A line at the margin that leads into what is set in below it is a heading; any other is a sentence."""
    groups = [(kind, list(group)) for kind, group in groupby(filter(str.strip, lines), key=_kind)]
    for (kind, group), follows in zip_longest(groups, groups[1:]):
        if kind == ROWS:
            yield _table(group, links)
        elif kind == SET_IN:
            yield from (tag("p", linked(line.strip(), links), class_="in") for line in group)
        else:
            leads = follows is not None and not group[-1].endswith((".", "?", "!"))
            *said, last = (linked(line, links) for line in group)
            yield from (tag("p", one) for one in said)
            yield tag(f"h{level}" if leads else "p", last)


def _kind(line: str) -> str:
    if line.lstrip().startswith(_MARKS):
        return ROWS
    return SET_IN if line.startswith(" ") else SAID


def _table(lines: Sequence[str], links: Links) -> Html:
    return tag("table", joined(_row(line.lstrip(), links) for line in lines))


def _row(line: str, links: Links) -> Html:
    """A row; its first cell names it. A head over nothing is an empty cell and no head."""
    first, *rest = line[1:].split(CELL)
    if line.startswith(HEADS):
        return tag("tr", *(_cell(one, links, "col") for one in (first, *rest)))
    return tag("tr", _cell(first, links, "row"), *(_cell(one, links) for one in rest))


def _cell(cell: str, links: Links, scope: str = "") -> Html:
    kind, words = ("n" if cell[:1] == ">" else False), linked(cell[1:], links)
    if scope and words:
        return tag("th", words, scope=scope, class_=kind)
    return tag("td", words, class_=kind)


def linked(words: str, links: Links) -> Html:
    """Words in which the code of a bake leads to that bake."""
    parts = ((part, links.to_bake(part) if at % 2 else "") for at, part in enumerate(_CODE.split(words)))
    return joined((tag("a", part, href=href) if href else part for part, href in parts), "")
