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
_LONG = 18  # letters
_MANY = 5  # columns that a narrow page has room for
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
    if line.lstrip(" ").startswith(_MARKS):
        return ROWS
    return SET_IN if line.startswith(" ") else SAID


def _table(lines: Sequence[str], links: Links) -> Html:
    """The rows; where there are many columns each cell says what it is of, for a page that has no room for them."""
    table = [line.lstrip(" ") for line in lines]
    heads, *rows = [[(cell[:1], cell[1:]) for cell in line[1:].split(CELL)] for line in table]
    if not table[0].startswith(HEADS):
        heads, rows = [], [heads, *rows]
    many = len(heads) > _MANY
    top = [tag("tr", *(_cell(kind, words, links, scope="col") for kind, words in heads))] if heads else []
    body = []
    for (kind, name), *rest in rows:
        of, *others = [head for _, head in heads] if many else [""] * (1 + len(rest))
        cells = (_cell(*one, links, of=other) for one, other in zip(rest, others, strict=True))
        body.append(tag("tr", _cell(kind, name, links, scope="row", of=of), *cells))
    return tag("table", joined((*top, *body)), class_="many" if many else False)


def _cell(kind: str, words: str, links: Links, *, scope: str = "", of: str = "") -> Html:
    """A head names its row or its column; over nothing it is an empty cell and no head."""
    kept = {"class_": "n" if kind == ">" else False, "data_of": of if of and of not in words else False}
    if scope and words:
        return tag("th", linked(words, links), scope=scope, **kept)
    return tag("td", linked(words, links), **kept)


def linked(words: str, links: Links) -> Html:
    """Words in which the code of a bake leads to that bake, and one too long for a line may be broken."""
    if any(len(word) > _LONG for word in words.split()):
        return joined((tag("span", word, class_="long") if len(word) > _LONG else word for word in words.split()), " ")
    parts = ((part, links.to_bake(part) if at % 2 else "") for at, part in enumerate(_CODE.split(words)))
    return joined((tag("a", part, href=href) if href else part for part, href in parts), "")
