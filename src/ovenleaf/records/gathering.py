"""The remarks of two pages on one: what either baker noted beside a line is kept.

Knows places in a text; nothing of what the names on a page mean.
"""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, NamedTuple

from ovenleaf.records.nodes import ListNode, MapNode, ScalarNode, plain
from ovenleaf.records.page_fault import PageFault
from ovenleaf.records.places import column_of, end_of_line, places_in, remarks, start_of_line
from ovenleaf.records.yaml_text import read

if TYPE_CHECKING:
    from collections.abc import Iterator

    from ovenleaf.records.nodes import Node, Page


class _Spot(NamedTuple):
    """A place on a page, told by names, and where its line is in the text."""

    path: tuple[str, ...]
    start: int
    end: int


class _Remark(NamedTuple):
    """A remark, the place it stands beside (or above, where `above`), None where it ends the page."""

    text: str
    path: tuple[str, ...] | None
    above: bool


def with_remarks_of(page: Page, other: Page) -> Page:
    """The page with every remark of `other` that it does not have; each by the line it was by, else at the end."""
    there = Counter(page.text[start:end].rstrip() for start, end in remarks(page))
    for remark in _told(other):
        if there[remark.text]:
            there[remark.text] -= 1
        else:
            page = _with(page, remark)
    return page


def _told(page: Page) -> Iterator[_Remark]:
    spots = sorted(_spots(page), key=lambda spot: spot.start)
    for start, end in remarks(page):
        line = start_of_line(page.text, start)
        text = page.text[start:end].rstrip()
        if page.text[line:start].strip():
            beside = [spot for spot in spots if spot.start < start and line <= spot.start]
            yield _Remark(text, beside[-1].path if beside else None, above=False)
        else:
            below = next((spot for spot in spots if spot.start > start), None)
            yield _Remark(text, below.path if below else None, above=True)


def _spots(page: Page) -> Iterator[_Spot]:
    """Every name and every value of a list, by its path: a list's value by its own name, or by what it says."""
    yield from _below(page, page.root, ())


def _below(page: Page, node: Node, path: tuple[str, ...]) -> Iterator[_Spot]:
    if isinstance(node, ScalarNode):
        return
    places = places_in(page.text, node)
    children: list[tuple[str, Node]]
    if isinstance(node, MapNode):
        children = [(entry.key, entry.node) for entry in node.entries]
    else:
        children = list(zip(_names(node), node.items, strict=True))
    for (name, child), (start, end) in zip(children, places, strict=True):
        yield _Spot((*path, name), start, end)
        yield from _below(page, child, (*path, name))


def _names(node: ListNode) -> list[str]:
    seen: Counter[str] = Counter()
    names = []
    for item in node.items:
        one = item.entries[0].key if isinstance(item, MapNode) and len(item.entries) == 1 else repr(plain(item))
        seen[one] += 1
        names.append(f"- {one} {seen[one]}")
    return names


def _with(page: Page, remark: _Remark) -> Page:
    spot = next((spot for spot in _spots(page) if spot.path == remark.path), None)
    if spot is not None:
        ways = (_above,) if remark.above else (_beside, _above)
        for way in ways:
            done = _same_data(page, way(page, spot, remark.text))
            if done is not None:
                return done
    done = _same_data(page, f"{page.text}{remark.text}\n")
    assert done is not None, "a remark at the end of a page changes nothing"
    return done


def _above(page: Page, spot: _Spot, text: str) -> str:
    at = start_of_line(page.text, spot.start)
    indent = " " * column_of(page.text, spot.start)
    return f"{page.text[:at]}{indent}{text}\n{page.text[at:]}"


def _beside(page: Page, spot: _Spot, text: str) -> str:
    at = end_of_line(page.text, spot.start)
    if any(start_of_line(page.text, spot.start) <= start < at for start, _ in remarks(page)):
        return ""
    return f"{page.text[:at].rstrip(' ')}  {text}{page.text[at:]}"


def _same_data(page: Page, text: str) -> Page | None:
    """The text as a page if it says just what the page says and has one remark more."""
    if not text:
        return None
    try:
        done = read(text, path=page.path)
    except PageFault:
        return None
    more = len(list(remarks(done))) == len(list(remarks(page))) + 1
    return done if more and plain(done.root) == plain(page.root) else None
