"""Edits of a trial's page by path: a value set, a line added, a block begun where the page has it.

A path is the names on the page (`("weighed", "water")`, `("scores", "noor", "crumb")`) and places in
its lists from 0 (`("steps", 1, "bulk")`). What is there stays as typed; a new block stands in the order
of the page, the pin last. Must not know what a value means nor when a trial may change.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.records import splice
from ovenleaf.records.nodes import ListNode, MapNode, ScalarNode, find
from ovenleaf.records.yaml_text import read

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ovenleaf.domain.trial import Correction
    from ovenleaf.records.codec.reading import Where
    from ovenleaf.records.nodes import Page, Plain

# The blocks of a trial's page, from its head to its foot.
ORDER = (
    "format",
    "trial",
    "formula",
    "revision",
    "code",
    "baker",
    "question",
    "state",
    "bake_date",
    "started",
    "entered",
    "batch",
    "shares_dough_with",
    "plan",
    "weighed",
    "as_planned",
    "flours",
    "kitchen",
    "steps",
    "measured",
    "scale",
    "scores",
    "photos",
    "taken",
    "log",
    "left_out",
    "corrections",
    "open",
    "pin",
)


def with_field(page: Page, where: Where, value: Plain) -> Page:
    """The page with a value at a path, put in the place of what stood there, or added; blocks above it are begun.

    SpliceFault where the path leads through a single value or a place that a list does not have.
    """
    node = find(page.root, where)
    if isinstance(value, dict | list):
        return _begun(without_field(page, where) if node is not None else page, where, value)
    if isinstance(node, ScalarNode):
        return _again(page, splice.set_value(page, where, value))
    return _begun(page if node is None else without_field(page, where), where, value)


def with_line(page: Page, where: Where, value: Plain) -> Page:
    """The page with one more value at the end of the list at a path; the list is begun where there is none."""
    if find(page.root, where) is None:
        return _begun(page, where, [value])
    return _again(page, splice.append(page, where, value))


def with_lines(page: Page, where: Where, values: Sequence[Plain]) -> Page:
    """The page with more values at the end of a list, in their order."""
    for value in values:
        page = with_line(page, where, value)
    return page


def without_field(page: Page, where: Where) -> Page:
    """The page without what stands at a path; a block or list that would be left empty goes too."""
    above = find(page.root, where[:-1])
    only = (isinstance(above, MapNode) and len(above.entries) == 1) or (
        isinstance(above, ListNode) and len(above.items) == 1
    )
    if only and len(where) > 1:
        return without_field(page, where[:-1])
    return _again(page, splice.remove(page, where))


def with_correction(page: Page, made: Correction) -> Page:
    """The page with one more correction named; a value that was not there, or is no more, is left empty."""
    entry: Plain = {
        "field": made.field,
        "was": made.was or None,
        "now": made.now or None,
        "by": made.by,
        "at": made.at,
        "why": made.why,
    }
    return with_line(page, ("corrections",), entry)


def _begun(page: Page, where: Where, value: Plain) -> Page:
    """The page with a value at a path that is not there yet, and the blocks above it that are not."""
    missing = next(depth for depth in range(1, len(where) + 1) if find(page.root, where[:depth]) is None)
    for name in reversed(where[missing:]):
        value = {str(name): value}
    above, name = where[: missing - 1], str(where[missing - 1])
    after = splice.LAST if above else _stands_after(page, name)
    return _again(page, splice.insert(page, above, name, value, after=after))


def _stands_after(page: Page, name: str) -> str | None:
    """The block of the page behind which a new one of that name stands; None for the head of the page."""
    here = [entry.key for entry in page.root.entries]
    before = ORDER[: ORDER.index(name)]
    return next((key for key in reversed(here) if key in before), None)


def _again(page: Page, text: str) -> Page:
    return read(text, path=page.path)
