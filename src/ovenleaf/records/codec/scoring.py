"""Marks put on a trial's page: what is there stays, what is new is added, a change is named."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.records.codec.reading import Reading
from ovenleaf.records.codec.trial_edits import with_correction, with_field, with_lines
from ovenleaf.records.codec.trials import marks_data
from ovenleaf.records.nodes import ScalarNode, find

if TYPE_CHECKING:
    from ovenleaf.domain.trial import Correction, Marks, ScoreScale
    from ovenleaf.records.nodes import Page, Plain


def with_marks(
    page: Page, marks: Marks, scale: ScoreScale, corrections: tuple[Correction, ...], log: tuple[str, ...] = ()
) -> str:
    """The text of the page with one taster's marks added, and lines of the `log` that say when."""
    if find(page.root, ("scale",)) is None:
        page = with_field(page, ("scale",), str(scale))
    data = marks_data(marks)
    if find(page.root, ("scores", marks.taster)) is None:
        page = with_field(page, ("scores", marks.taster), data)
    else:
        page = _added(page, marks.taster, data)
    page = with_lines(page, ("log",), log)
    for made in corrections:
        page = with_correction(page, made)
    return page.text


def _added(page: Page, taster: str, data: dict[str, Plain]) -> Page:
    """Marks added to those the taster gave before; a note grows, faults gain."""
    for key, value in data.items():
        where = ("scores", taster, key)
        node = find(page.root, where)
        if isinstance(value, list) and node is not None:
            known = Reading(page).texts(*where)
            page = with_lines(page, where, [one for one in value if one not in known])
        elif key == "note" and isinstance(node, ScalarNode):
            old = Reading(page).words(node)
            page = with_field(page, where, old if value == old else f"{old}; {value}")
        else:
            page = with_field(page, where, value)
    return page
