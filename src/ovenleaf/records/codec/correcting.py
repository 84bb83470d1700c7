"""Values of a trial's page by the names that corrections give them: found, put in, taken away."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain.numbers import number
from ovenleaf.records.codec.editing import (
    line_with_field,
    line_without_field,
    step_place,
    with_step_field,
    with_step_line,
)
from ovenleaf.records.codec.reading import Reading, Where
from ovenleaf.records.codec.trial_edits import with_field, with_line, without_field
from ovenleaf.records.codec.trials import number_data
from ovenleaf.records.nodes import MapNode, find
from ovenleaf.records.scalars import resolve

if TYPE_CHECKING:
    from ovenleaf.records.nodes import Page, Plain

_NUMBERS = ("crumb", "crust", "flavour", "hours_after")
_TRUTHS = ("bake_again", "blind")


def with_value_of(page: Page, field: str, value: str) -> Page:
    """The page with another value under a correction's name, such as `weighed.water`; "" takes it away.

    What is not there yet is added. Raises StepWrittenOut for the whole line of a step whose fields stand one by one.
    """
    block, _, rest = field.partition(".")
    if block == "steps":
        return _with_step(page, rest, value)
    where = _where(page, field)
    if where is None:
        return page if not value else with_line(page, (*_scores_of(rest), "faults"), value)
    if not value:
        return without_field(page, where)
    return with_field(page, where, _plain(where, value))


def _where(page: Page, field: str) -> Where | None:
    """Where a value stands or would stand; None for a taster's fault that is not there."""
    block, _, rest = field.partition(".")
    if not rest:
        return (block,)
    if block == "weighed":
        return (block, *rest.split(":", 1))
    if block == "log":
        return (block, int(rest) - 1)
    if block != "scores":
        return (block, rest)
    taster, faults, fault = rest.partition(".faults.")
    if not faults:
        taster, _, mark = rest.rpartition(".")
        return (block, taster, mark)
    known = Reading(page).texts(block, taster, "faults")
    return (block, taster, "faults", known.index(fault)) if fault in known else None


def _scores_of(rest: str) -> tuple[str, str]:
    return "scores", rest.partition(".faults.")[0]


def _plain(where: Where, value: str) -> Plain:
    """A value as its place on the page holds it: marks are numbers, and so is a count."""
    if where[0] == "scores" and where[-1] in _NUMBERS:
        return number_data(number(value))
    if where[0] == "scores" and where[-1] in _TRUTHS:
        return value == "true"
    return resolve(value) if where[0] == "measured" else value


def _with_step(page: Page, rest: str, value: str) -> Page:
    step, field = _step_and_field(page, rest)
    where = step_place(page, step, "steps")
    if where is None:
        return with_line(page, ("steps",), {step: line_with_field("", field, value) if field else value})
    if field and value:
        return with_step_field(page, where, field, value)
    if field and isinstance(find(page.root, where), MapNode):
        return without_field(page, (*where, field))
    line = line_without_field(Reading(page).text(*where), field) if field else value
    return with_step_line(page, where, line) if line else without_field(page, where[:2])


def _step_and_field(page: Page, rest: str) -> tuple[str, str]:
    """`bulk.time` in two, unless a step is called so."""
    head, _, field = rest.rpartition(".")
    return (head, field) if head and step_place(page, rest, "steps") is None else (rest, "")
