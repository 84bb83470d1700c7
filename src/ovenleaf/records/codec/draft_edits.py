"""Edits of a draft's page where a question is answered: a line's item and amount, a step's heat, the question gone."""

from __future__ import annotations

from ovenleaf.domain.quantity import split_note
from ovenleaf.records import splice
from ovenleaf.records.codec.editing import step_places, with_step_line
from ovenleaf.records.codec.reading import Reading, Where
from ovenleaf.records.meant import SpliceFault
from ovenleaf.records.nodes import MapNode, Page, ScalarNode, entry_of, find
from ovenleaf.records.scalars import key_text
from ovenleaf.records.yaml_text import read


def place_of(page: Page, item: str) -> Where | None:
    """Where the line or the step stands that a question is about; None where it is gone."""
    if find(page.root, ("ingredients", item)) is not None:
        return ("ingredients", item)
    for bowl in Reading(page).keys("stages"):
        if find(page.root, ("stages", bowl, item)) is not None:
            return ("stages", bowl, item)
    return next((where for name, where in step_places(page).items() if name == item), None)


def with_answered_line(page: Page, where: Where, was: str, item: str, amount: str) -> Page:
    """The page with a line's item and amount; its note stays, and so does the remark behind it.

    SpliceFault where the item stands in that block already.
    """
    node, block = find(page.root, where), find(page.root, where[:-1])
    assert isinstance(node, ScalarNode)
    assert isinstance(block, MapNode)
    note = split_note(Reading(page).words(node))[1].removeprefix(was).strip(" ,")
    page = _again(page, splice.set_value(page, where, f"{amount}, {note}" if note else amount))
    block, old = find(page.root, where[:-1]), str(where[-1])
    if item == old or not isinstance(block, MapNode):
        return page
    if entry_of(block, item) is not None:
        raise SpliceFault(f"{item!r} stands there already")
    entry = entry_of(block, old)
    assert entry is not None
    return _again(page, page.text[: entry.key_start] + key_text(item) + page.text[entry.key_end :])


def with_heat(page: Page, where: Where, heat: str) -> Page:
    """The page with a heat behind what a step's line says."""
    node = find(page.root, where)
    assert isinstance(node, ScalarNode)
    line = Reading(page).words(node) if isinstance(where[-1], str) else ""
    return with_step_line(page, where, f"{line}, {heat}" if line else heat)


def without_question(page: Page, item: str) -> Page:
    """The page without one open question, and without the block when it was the last."""
    keys = Reading(page).keys("open")
    return _again(page, splice.remove(page, ("open", item) if len(keys) > 1 else ("open",)))


def _again(page: Page, text: str) -> Page:
    return read(text, path=page.path)
