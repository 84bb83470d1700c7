"""Where each page of a published book lies, how they lead to one another, and what all of them have around them."""

from __future__ import annotations

import posixpath
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.present.html import document, joined, tag
from ovenleaf.present.screen import date_words

if TYPE_CHECKING:
    from collections.abc import Mapping

INDEX = "index.html"
RANKING = "ranking.html"
SEARCH = "search.html"
STYLE = "style.css"
SCRIPT = "search.js"
_FOLDER = "formulas"


def formula_page(formula: str) -> str:
    """The page of a formula and its revisions."""
    return f"{_FOLDER}/{formula}.html"


def chart_file(formula: str) -> str:
    """The picture of how its scores moved."""
    return f"{_FOLDER}/{formula}.svg"


def revision_page(formula: str, revision: str) -> str:
    """The sheet of a revision and its bakes. A formula's name has no dot in it, so no two pages have one name."""
    return f"{_FOLDER}/{formula}.{revision}.html"


def compare_page(formula: str, older: str, newer: str) -> str:
    """Two revisions side by side."""
    return f"{_FOLDER}/{formula}.{older}.{newer}.html"


@dataclass(frozen=True, slots=True)
class Links:
    """The way from one page to others. `bakes` is the page of each bake by its code."""

    page: str
    bakes: Mapping[str, str]

    def to(self, page: str, place: str = "") -> str:
        """The address of a page as this one has it; `place` is where on it."""
        way = "" if page == self.page else posixpath.relpath(page, posixpath.dirname(self.page) or ".")
        return f"{way}#{place}" if place else way

    def to_bake(self, code: str) -> str:
        """The same for a bake; "" where it has no page."""
        page = self.bakes.get(code)
        return self.to(page, code) if page else ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """What all pages share: the book's title, the day they were made, and where each bake is told."""

    title: str
    made: str
    bakes: Mapping[str, str]

    def links(self, page: str) -> Links:
        """The way from that page to others."""
        return Links(page, self.bakes)

    def html(self, page: str, title: str, *body: str, script: bool = False) -> bytes:
        """A whole page."""
        links = self.links(page)
        ways = ((self.title, INDEX), ("Ranking", RANKING), ("Search", SEARCH))
        top = tag("nav", joined(_way(name, to, links) for name, to in ways), aria_label="The book")
        foot = f"{self.title}, as the book was on {date_words(self.made)}. What was changed since is not in here."
        whole = document(
            title if title == self.title else f"{title}, {self.title}",
            tag("header", top),
            tag("main", tag("h1", title), joined(body)),
            tag("footer", tag("p", foot)),
            style_file=links.to(STYLE),
            script_file=links.to(SCRIPT) if script else "",
            pictures="'self'",
        )
        return whole.encode()


def _way(name: str, page: str, links: Links) -> str:
    return tag("a", name, href=links.to(page) or "#", aria_current="page" if page == links.page else False)
