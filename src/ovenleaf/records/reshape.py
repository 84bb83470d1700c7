"""A page made to hold other data by the fewest changes to its text; what stays, stays as it was typed.

Knows trees and places; nothing of what the names on a page mean, nor why the data is other.
"""

from __future__ import annotations

from difflib import SequenceMatcher
from typing import TYPE_CHECKING

from ovenleaf.records import splice
from ovenleaf.records.meant import Edit, SpliceFault, carry_out, data_after
from ovenleaf.records.nodes import ListNode, find, plain
from ovenleaf.records.places import column_of, end_of_line, inside_brackets, places_in, start_of_line
from ovenleaf.records.yaml_out import flow_text, list_lines
from ovenleaf.records.yaml_text import read

if TYPE_CHECKING:
    from ovenleaf.records.nodes import Page, Path, Plain


def reshaped(page: Page, data: dict[str, Plain]) -> Page:
    """The page holding `data`: values set, lines put in behind the line they follow in `data`, lines taken out.

    Names keep the order of the page; the order of lists is that of `data`. SpliceFault if it comes out otherwise.
    """
    done = _map(page, (), data)
    if not holds(done, data):
        raise SpliceFault(f"{page.path} came out other than meant")
    return done


def with_value(page: Page, path: Path, value: Plain) -> Page:
    """The page with another value at a place that is there, of whatever form; a remark behind it stays."""
    return _value(page, path, value)


def holds(page: Page, data: Plain) -> bool:
    """True if the page holds this data, its names in whatever order."""
    return _same(plain(page.root), data)


def _same(one: Plain, other: Plain) -> bool:
    if isinstance(one, dict) and isinstance(other, dict):
        return one.keys() == other.keys() and all(_same(one[key], other[key]) for key in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(_same, one, other))
    return isinstance(one, bool) == isinstance(other, bool) and type(one) is type(other) and one == other


def _at(page: Page, path: Path) -> Plain:
    node = find(page.root, path)
    assert node is not None
    return plain(node)


def _map(page: Page, path: Path, data: dict[str, Plain]) -> Page:
    now = _at(page, path)
    assert isinstance(now, dict)
    after: str | None = None
    for key, value in data.items():
        if key not in now:
            page = _again(page, splice.insert(page, path, key, value, after=after))
        elif not _same(now[key], value):
            page = _value(page, (*path, key), value)
        after = key
    for key in now:
        if key not in data:
            page = _again(page, splice.remove(page, (*path, key)))
    return page


def _value(page: Page, path: Path, value: Plain) -> Page:
    """Another value at a place that is there."""
    now = _at(page, path)
    try:
        if isinstance(now, dict) and isinstance(value, dict) and value and now:
            return _map(page, path, value)
        if isinstance(now, list) and isinstance(value, list) and value and now:
            return _list(page, path, value)
        if not isinstance(now, dict | list) and not isinstance(value, dict | list):
            return _again(page, splice.set_value(page, path, value))
    except SpliceFault:
        pass  # brackets and dashes in odd places: written anew in one line
    return _written_anew(page, path, value)


def _written_anew(page: Page, path: Path, value: Plain) -> Page:
    node = find(page.root, path)
    assert node is not None
    words = flow_text(value, inside=inside_brackets(page, path))
    if node.start == node.end:
        words = f" {words}"
    edit = Edit(node.start, node.end, words)
    return _again(page, carry_out(page, edit, data_after(page, path, lambda _: value)))


def _list(page: Page, path: Path, values: list[Plain]) -> Page:
    now = _at(page, path)
    assert isinstance(now, list)
    steps = SequenceMatcher(None, _marks(now), _marks(values), autojunk=False).get_opcodes()
    for kind, start, end, first, last in reversed(steps):
        if kind == "equal":
            for place in range(start, end):
                page = _item(page, (*path, place), values[first + place - start])
            continue
        for value in reversed(values[first:last]):
            page = _put_in(page, path, end, value)
        for place in reversed(range(start, end)):
            page = _again(page, splice.remove(page, (*path, place)))
    return page


def _marks(values: list[Plain]) -> list[str]:
    """What tells the values of a list apart: a step its name, anything else all of it."""
    return [next(iter(value)) if isinstance(value, dict) and len(value) == 1 else repr(value) for value in values]


def _item(page: Page, path: Path, value: Plain) -> Page:
    now = _at(page, path)
    if _same(now, value):
        return page
    assert isinstance(value, dict)
    key = next(iter(value))
    return _value(page, (*path, key), value[key])


def _put_in(page: Page, path: Path, place: int, value: Plain) -> Page:
    """A value at a place of a list, behind the remarks that belong to the one before it."""
    node = find(page.root, path)
    assert isinstance(node, ListNode)
    if place >= len(node.items):
        return _again(page, splice.append(page, path, value))
    meant = data_after(page, path, lambda old: _with_item(old, place, value))
    start = places_in(page.text, node)[place][0]
    if node.flow:
        return _again(page, carry_out(page, Edit(start, start, f"{flow_text(value, inside=True)}, "), meant))
    column = column_of(page.text, start)
    lines = "".join(f"{' ' * column}{line}\n" for line in list_lines([value]))
    at = start_of_line(page.text, start)
    if page.text[at:start].strip():
        raise SpliceFault(f"no line of its own at {path!r}")
    if place:
        at = end_of_line(page.text, node.items[place - 1].end) + 1
    return _again(page, carry_out(page, Edit(at, at, lines), meant))


def _with_item(old: Plain, place: int, value: Plain) -> Plain:
    assert isinstance(old, list)
    return [*old[:place], value, *old[place:]]


def _again(page: Page, text: str) -> Page:
    return read(text, path=page.path)
