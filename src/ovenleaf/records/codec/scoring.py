"""Marks spliced into a trial's page: what is there stays, what is new is added, a change is named."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.records import splice
from ovenleaf.records.codec.reading import Reading
from ovenleaf.records.codec.trials import marks_data
from ovenleaf.records.nodes import ScalarNode, find
from ovenleaf.records.yaml_text import read

if TYPE_CHECKING:
    from ovenleaf.domain.trial import Correction, Marks, ScoreScale
    from ovenleaf.records.nodes import Page, Plain

_BEFORE_SCORES = ("measured", "steps", "kitchen", "flours", "as_planned", "weighed", "batch", "bake_date", "code")


def with_marks(page: Page, marks: Marks, scale: ScoreScale, corrections: tuple[Correction, ...]) -> str:
    """The text of the page with one taster's marks added."""
    reading = Reading(page)
    keys = reading.keys()
    if "scale" not in keys:
        page = _again(page, splice.insert(page, (), "scale", str(scale), after=_place(keys)))
    data = marks_data(marks)
    if find(page.root, ("scores",)) is None:
        text = splice.insert(page, (), "scores", {marks.taster: data}, after="scale")
    elif find(page.root, ("scores", marks.taster)) is None:
        text = splice.insert(page, ("scores",), marks.taster, data)
    else:
        text = _added(page, marks.taster, data)
    return _corrected(_again(page, text), corrections)


def _place(keys: tuple[str, ...]) -> str:
    return next(key for key in _BEFORE_SCORES if key in keys)


def _added(page: Page, taster: str, data: dict[str, Plain]) -> str:
    """Marks added to those the taster gave before; a note grows, faults gain."""
    for key, value in data.items():
        where = ("scores", taster, key)
        node = find(page.root, where)
        if node is None:
            text = splice.insert(page, where[:-1], key, value)
        elif isinstance(value, list):
            text = _more(page, where, value)
        elif key == "note" and isinstance(node, ScalarNode):
            old = Reading(page).words(node)
            text = splice.set_value(page, where, old if value == old else f"{old}; {value}")
        else:
            assert not isinstance(value, dict)
            text = splice.set_value(page, where, value)
        page = _again(page, text)
    return page.text


def _more(page: Page, where: tuple[str, ...], values: list[Plain]) -> str:
    known = Reading(page).texts(*where)
    for value in values:
        if value not in known:
            page = _again(page, splice.append(page, where, value))
    return page.text


def _corrected(page: Page, corrections: tuple[Correction, ...]) -> str:
    for made in corrections:
        entry: Plain = {
            "field": made.field,
            "was": made.was,
            "now": made.now,
            "by": made.by,
            "at": made.at,
            "why": made.why,
        }
        if find(page.root, ("corrections",)) is None:
            after = "log" if find(page.root, ("log",)) is not None else "scores"
            page = _again(page, splice.insert(page, (), "corrections", [entry], after=after))
        else:
            page = _again(page, splice.append(page, ("corrections",), entry))
    return page.text


def _again(page: Page, text: str) -> Page:
    return read(text, path=page.path)
