"""A page with its questions settled: a value set in its place, or more than one line as a baker's revision has them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book.steps.answering import source_of
from ovenleaf.compare.open_questions import LEFT_OUT, NOT_IN_IT, PARTS
from ovenleaf.compare.policies import AMOUNTS, FLOURS, ORDER, WHOLE
from ovenleaf.domain.ingredients import Kind
from ovenleaf.records.codec import editing
from ovenleaf.records.nodes import plain
from ovenleaf.records.reshape import reshaped
from ovenleaf.records.scalars import resolve

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from ovenleaf.book.steps.answering import Answer
    from ovenleaf.book.steps.shelf import Shelf
    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.records.nodes import Page, Plain

    Data = dict[str, Plain]


def settled_page(page: Page, shelf: Shelf | None, given: Sequence[Answer], pantry: Pantry) -> Page:
    """The page with these settled and no longer asked."""
    for one in given:
        page = _set(page, shelf, one, pantry)
        data = _data(page)
        asked = data.pop("open", None)
        left = {item: said for item, said in asked.items() if item != one.item} if isinstance(asked, dict) else {}
        page = reshaped(page, data | ({"open": left} if left else {}))
    return page


def _data(page: Page) -> Data:
    data = plain(page.root)
    assert isinstance(data, dict)
    return data


def _set(page: Page, shelf: Shelf | None, one: Answer, pantry: Pantry) -> Page:
    data = _data(page)
    if one.text == NOT_IN_IT:
        return page
    if shelf is None:
        return reshaped(page, _with(data, tuple(one.item.split(".")), one.text))
    source = source_of(one.text)
    if source:
        there = next(_data(kept.page()) for kept in shelf.kept if str(kept.name) == source)
        return reshaped(page, _group_from(data, there, one.item, pantry))
    where = _where(one.item, [data, *(_data(kept.page()) for kept in shelf.kept)])
    if where[0] != "process":
        return reshaped(page, _with(data, where, one.text))
    return _step(page, where, one.text)


def _where(item: str, pages: Sequence[Data]) -> tuple[str, ...]:
    """Where an item stands on a page: the inverse of how questions are named."""
    if ":" in item:
        part, _, line = item.partition(":")
        return (next((block for block in PARTS if _has(pages, block, part)), PARTS[0]), part, line)
    steps = {name for data in pages for name in _steps(data)}
    if item in steps and not _has(pages, "ingredients", item):
        return ("process", item)
    for block in ("ingredients", *PARTS):
        if _has(pages, block, item):
            return (block, item)
    step, point, name = item.rpartition(".")
    if point and step in steps:
        return ("process", step, name)
    return tuple(item.split("."))


def _has(pages: Sequence[Data], block: str, name: str) -> bool:
    return any(isinstance(lines := data.get(block), dict) and name in lines for data in pages)


def _steps(data: Data) -> Iterator[str]:
    for step in _list_of(data, "process"):
        yield str(next(iter(step), "")) if isinstance(step, dict) else str(step)


def _with(data: Data, where: tuple[str, ...], text: str) -> Data:
    """The data with a value at a place; with nothing there where it is left out."""
    key, *rest = where
    if key == "steps" and rest:
        return data | {key: [_line_from(step, rest, text) for step in _list_of(data, key)]}
    if not rest:
        left = {name: value for name, value in data.items() if name != key}
        return left if text == LEFT_OUT else data | {key: resolve(text)}
    inner = data.get(key)
    below = _with(inner if isinstance(inner, dict) else {}, tuple(rest), text)
    return data | {key: below} if below else {name: value for name, value in data.items() if name != key}


def _line_from(step: Plain, where: Sequence[str], text: str) -> Plain:
    """A step of a bake with its line, or one field of it, settled."""
    if not isinstance(step, dict) or where[0] not in step:
        return step
    line = step[where[0]]
    if len(where) == 1 or not isinstance(line, str):
        return {where[0]: text}
    return {where[0]: editing.line_with_field(line, where[1], text)}


def _group_from(data: Data, there: Data, item: str, pantry: Pantry) -> Data:
    """What is more than one line, as another revision has it: amounts, flours, a part, a step, the order of steps."""
    if item == WHOLE:
        kept = {key: value for key, value in data.items() if key not in AMOUNTS}
        return kept | {key: there[key] for key in AMOUNTS if key in there}
    if item == ORDER or item in _steps(there):
        return data | {"process": _steps_from(data, there, item)}
    part, _, last = item.rpartition(":")
    block = next((block for block in PARTS if _has((there,), block, part or item)), "")
    if last != FLOURS:
        return data | {block: _names_of(data, block) | {item: _names_of(there, block)[item]}}
    if not part:
        return data | {
            "ingredients": _flours_from(_names_of(data, "ingredients"), _names_of(there, "ingredients"), pantry)
        }
    inner, theirs = (_names_of(_names_of(side, block), part) for side in (data, there))
    return data | {block: _names_of(data, block) | {part: _flours_from(inner, theirs, pantry)}}


def _flours_from(lines: Data, there: Data, pantry: Pantry) -> Data:
    """The lines with the flours of others; each stands where a flour stood, a new one first."""
    flours = {item: text for item, text in there.items() if pantry.get(item).kind is Kind.FLOUR}
    rest = {item: text for item, text in lines.items() if pantry.get(item).kind is not Kind.FLOUR}
    return flours | rest


def _steps_from(data: Data, there: Data, item: str) -> list[Plain]:
    """The steps with one of them, or their order, as another revision has it."""
    steps, theirs = (
        {str(next(iter(step), "")) if isinstance(step, dict) else str(step): step for step in process}
        for process in (_list_of(data, "process"), _list_of(there, "process"))
    )
    if item != ORDER:
        return list((steps | {item: theirs[item]}).values())
    order = [name for name in theirs if name in steps]
    return [steps[name] for name in (*order, *(name for name in steps if name not in order))]


def _names_of(data: Data, key: str) -> Data:
    found = data.get(key)
    return found if isinstance(found, dict) else {}


def _list_of(data: Data, key: str) -> list[Plain]:
    found = data.get(key)
    return found if isinstance(found, list) else []


def _step(page: Page, where: tuple[str, ...], text: str) -> Page:
    place = editing.step_place(page, where[1])
    if place is None:
        return page
    if len(where) == 3:
        return editing.with_step_field(page, place, where[2], text)
    return editing.without_step(page, place) if text == LEFT_OUT else editing.with_step_line(page, place, text)
