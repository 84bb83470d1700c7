"""Edits of a formula page by what they mean: an amount, an item, a step's field. Comments and order stay."""

from __future__ import annotations

from ovenleaf.domain.benchline import read as read_line
from ovenleaf.domain.quantity import split_note
from ovenleaf.records import splice
from ovenleaf.records.codec.reading import Reading, Where
from ovenleaf.records.nodes import ListNode, MapNode, Page, ScalarNode, find
from ovenleaf.records.scalars import scalar_text
from ovenleaf.records.yaml_text import read


def with_amount(page: Page, where: Where, amount: str) -> Page:
    """The page with another amount on one line; the note behind the old amount stays."""
    node = find(page.root, where)
    assert isinstance(node, ScalarNode)
    note = split_note(Reading(page).words(node))[1]
    return _again(page, splice.set_value(page, where, f"{amount}, {note}" if note else amount))


def with_item(page: Page, block: Where, item: str, amount: str) -> Page:
    """The page with a new line at the end of a block; in front of the keys a part has besides its lines."""
    keys = Reading(page).keys(*block)
    lines = [key for key in keys if key not in ("rest",)]
    return _again(page, splice.insert(page, block, item, amount, after=lines[-1] if lines else "last"))


def without_item(page: Page, where: Where) -> Page:
    """The page without one line."""
    return _again(page, splice.remove(page, where))


def step_places(page: Page, block: str = "process") -> dict[str, Where]:
    """Where each step stands, by its name, in the order of the work. A second one of the name is `fold 2`.

    `block` is `process` on a formula's page, `steps` on a trial's.
    """
    node = find(page.root, (block,))
    places: dict[str, Where] = {}
    seen: dict[str, int] = {}
    for place, item in enumerate(node.items if isinstance(node, ListNode) else ()):
        name = item.entries[0].key if isinstance(item, MapNode) else Reading(page).words(_scalar(item))
        seen[name] = seen.get(name, 0) + 1
        called = name if seen[name] == 1 else f"{name} {seen[name]}"
        places[called] = (block, place, name) if isinstance(item, MapNode) else (block, place)
    return places


def step_place(page: Page, step: str, block: str = "process") -> Where | None:
    """Where a step of that name stands, or None."""
    return next((where for name, where in step_places(page, block).items() if name.lower() == step.lower()), None)


def _scalar(node: object) -> ScalarNode:
    assert isinstance(node, ScalarNode)
    return node


class StepWrittenOut(ValueError):
    """A step whose fields are written out one by one has no line to write anew. Fact: `step`."""

    def __init__(self, step: str) -> None:
        super().__init__(step)
        self.step = step


def with_step_line(page: Page, where: Where, line: str) -> Page:
    """The page with a step's whole line written anew."""
    node = find(page.root, where)
    if isinstance(node, ScalarNode) and isinstance(where[-1], str):
        return _again(page, splice.set_value(page, where, line))
    if isinstance(node, ScalarNode):
        name = Reading(page).words(node)
        words = f"{scalar_text(name)}: {scalar_text(line)}"
        return _again(page, page.text[: node.start] + words + page.text[node.end :])
    raise StepWrittenOut(str(where[-1]))


def without_step(page: Page, where: Where) -> Page:
    """The page without a step."""
    return _again(page, splice.remove(page, where[:2]))


_SAID_WITH = {"dough temperature": "dough ", "core": "core ", "until": "until ", "ph": "pH "}


def with_step_field(page: Page, where: Where, field: str, text: str) -> Page:
    """The page with one field of a step changed in its line, or added to it; the rest of the line stays."""
    node = find(page.root, where)
    if isinstance(node, MapNode):
        known = [entry.key for entry in node.entries]
        edit = splice.set_value(page, (*where, field), text) if field in known else None
        return _again(page, edit or splice.insert(page, where, field, text))
    line = Reading(page).words(_scalar(node)) if isinstance(where[-1], str) else ""
    return with_step_line(page, where, line_with_field(line, field, text))


def line_with_field(line: str, field: str, text: str) -> str:
    """A bench line with one field changed in place, or added behind.

    >>> line_with_field("60 min at 26 C, covered", "time", "45 min")
    '45 min at 26 C, covered'
    >>> line_with_field("9 min, medium", "dough temperature", "25 C")
    '9 min, medium, dough 25 C'
    """
    said = _said(field, text)
    for found in read_line(line).fields:
        if found.name == field and found.typed and found.typed in line:
            lead = "at " if found.typed.lower().startswith("at ") else ""
            return line.replace(found.typed, f"{lead}{said}", 1)
    return f"{line}, {said}" if line else said


def line_without_field(line: str, field: str) -> str:
    """A bench line without one of its fields; the rest stays as typed.

    >>> line_without_field("58 min at 26 C, covered", "temperature"), line_without_field("9 min", "time")
    ('58 min, covered', '')
    """
    for found in read_line(line).fields:
        if found.name == field and found.typed and found.typed in line:
            before, after = (part.strip(" ,;") for part in line.split(found.typed, 1))
            return ", ".join(filter(None, (before, after)))
    return line


def _said(field: str, text: str) -> str:
    lead = _SAID_WITH.get(field, "")
    return text if text.lower().startswith(lead.strip().lower() or text.lower()) else f"{lead}{text}"


def _again(page: Page, text: str) -> Page:
    return read(text, path=page.path)


def with_value(page: Page, where: Where, text: str) -> Page:
    """The page with another text at one place."""
    return _again(page, splice.set_value(page, where, text))


def as_copy(page: Page, name: str, title: str, source: str) -> Page:
    """The page of another formula with a new name and title, saying where it is from."""
    for key, value in (("formula", name), ("title", title), ("source", source)):
        if find(page.root, (key,)) is None:
            page = _again(page, splice.insert(page, (), key, value, after="formula"))
        else:
            page = _again(page, splice.set_value(page, (key,), value))
    return page
