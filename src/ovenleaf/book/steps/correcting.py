"""Values of a trial that a baker wants put right: which are meant, and whether they can be so."""

from __future__ import annotations

from contextlib import contextmanager
from dataclasses import replace
from typing import TYPE_CHECKING

from ovenleaf.book.steps.recording import CannotRecord, check_day, check_marks, check_said
from ovenleaf.domain.altitude import altitude, boiling
from ovenleaf.domain.bench_limits import impossible
from ovenleaf.domain.benchline import read as read_line
from ovenleaf.domain.ingredients import Kind
from ovenleaf.domain.numbers import number
from ovenleaf.domain.putting_right import NEVER, Change, Names, field_meant, folded, in_block, nearest, possible_fields
from ovenleaf.domain.said import Said
from ovenleaf.domain.trial import ATTRIBUTES, Marks, marked
from ovenleaf.domain.trial_facts import FIXED, numbered, trial_facts
from ovenleaf.errors import Next, Refusal, SayWhich

if TYPE_CHECKING:
    from collections.abc import Iterator
    from datetime import date

    from ovenleaf.domain.benchvalues import Field
    from ovenleaf.domain.book import BookPage
    from ovenleaf.domain.sheet import Sheet
    from ovenleaf.domain.trial import Trial

NOT_PUT_RIGHT = "Not put right"
WEIGHTS = ("dough weight", "baked weight")


class CannotCorrect(Refusal):
    """A value that cannot be put right so. Facts: `typed`; `reason`."""

    def __init__(self, typed: str, reason: str, *detail: str, next: tuple[Next, ...] = ()) -> None:
        super().__init__(f"{NOT_PUT_RIGHT}: {reason}", detail=detail, next=next)
        self.typed = typed
        self.reason = reason


class UnknownField(SayWhich):
    """A name under which a trial has no value. Facts: `typed`, the change; `names`, what may be meant, in full."""

    def __init__(self, change: Change, code: str, near: tuple[str, ...], known: tuple[str, ...]) -> None:
        value = change.typed.partition("=")[2].strip()
        mean = f" Did you mean {near[0]}?" if near else ""
        there = f"It may have: {', '.join(known)}." if known and not near else ""
        super().__init__(
            f"{NOT_PUT_RIGHT}: trial {code} has no {change.field}.{mean}",
            change.typed,
            tuple(f"{name}={value}" for name in near),
            detail=(there,) if there else (),
            next=(Next(f"ovenleaf show {code}", "what it records"),),
        )


def field_names(trial: Trial, sheet: Sheet) -> Names:
    """The values that a trial has, and those it may have besides."""
    recorded = tuple(key for key in trial_facts(trial) if key not in FIXED and not key.startswith("corrections."))
    steps = (*(name for name, _ in numbered(sheet.formula.process)), *(name for name, _ in numbered(trial.steps)))
    return Names(
        recorded=("state", *(key for key in recorded if not key.startswith("steps."))),
        possible=possible_fields(
            items=[item for item, _ in sheet.kinds],
            bowls=[(part.name, line.item) for part in sheet.worked.parts for line in part.lines],
            flours=[item for item, kind in sheet.kinds if kind is Kind.FLOUR],
            tasters=[marks.taster for marks in trial.scores],
        ),
        steps=tuple(dict.fromkeys(steps)),
    )


def named(change: Change, trial: Trial, names: Names) -> Change:
    """The change under the full name of its field. Raises UnknownField, CannotCorrect."""
    if folded(change.field).replace(" ", "_") in NEVER:
        raise _never(change, trial)
    field = field_meant(change.field, names)
    if field is None:
        _refuse_new_taster(change, trial)
        raise UnknownField(change, trial.code, nearest(change.field, names), in_block(change.field, names))
    return replace(change, field=field)


def _never(change: Change, trial: Trial) -> CannotCorrect:
    if folded(change.field) == "formula":
        what = "a trial stays with the formula it was written down for."
        step = Next(
            f'ovenleaf correct {trial.code} state=withdrawn --why "another formula"', "then record it where it belongs"
        )
        return CannotCorrect(change.typed, what, next=(step,))
    return CannotCorrect(change.typed, f"{change.field} is written by ovenleaf and stays as it is.")


def _refuse_new_taster(change: Change, trial: Trial) -> None:
    """Marks of somebody who gave none are no correction; they come with a scale and a name that is looked at."""
    taster, point, mark = change.rest.rpartition(".")
    if change.block == "scores" and point and taster not in [marks.taster for marks in trial.scores]:
        option = f"--{mark} {change.value}" if mark in ATTRIBUTES else "--crumb 7"
        raise CannotCorrect(
            change.typed,
            f"{taster} has not scored trial {trial.code} yet.",
            next=(Next(f"ovenleaf score {trial.code} --taster {taster} {option}", "to add marks"),),
        )


def check_value(change: Change, value: str, trial: Trial, book: BookPage, day: date) -> None:
    """Refuse what the page could not even be read with: a day that is none, a mark off the scale.

    Raises CannotCorrect.
    """
    taster, _, mark = change.rest.rpartition(".")
    with _in_other_words(change.typed):
        if change.field == "bake_date":
            check_day(value, day)
        if change.block == "scores" and mark in ATTRIBUTES and value:
            marks = marked(Marks(taster=taster), mark, number(value))
            check_marks(marks, replace(book, scale=trial.scale or book.scale), f"trial {trial.code}")


def check_after(before: Trial, after: Trial, fields: tuple[str, ...], sheet: Sheet, book: BookPage, day: date) -> None:
    """Refuse what cannot be so on the trial as it would be: only what was changed is looked at, beside what it touches.

    Raises CannotCorrect.
    """
    scale = replace(book, scale=after.scale or book.scale)
    with _in_other_words(", ".join(fields)):
        check_said(_changed(before, after, fields), sheet, scale, day)
    for reading in _readings(before, after, fields):
        if why := impossible(reading, boiling(altitude(book.places))):
            raise CannotCorrect(", ".join(fields), f"{reading.typed} cannot be: {why}.")
    if after.started and after.bake_date and after.bake_date < after.started[:10]:
        raise CannotCorrect(
            ", ".join(fields), f"it would be baked on {after.bake_date}, before it was begun on {after.started[:10]}."
        )


def _readings(before: Trial, after: Trial, fields: tuple[str, ...]) -> Iterator[Field]:
    """What the bench line reads in the steps and temperatures that were put right."""
    old = {step.line.typed for step in before.steps}
    yield from (field for step in after.steps if step.line.typed not in old for field in step.line.fields)
    for name, text in (*after.measured, *after.kitchen):
        if f"measured.{name}" in fields or f"kitchen.{name}" in fields:
            yield from read_line(f"{name} {text}").fields


def _changed(before: Trial, after: Trial, fields: tuple[str, ...]) -> Said:
    """The values that were put right, with both weights where one of them was, and all weights for another revision."""
    heads = {field.partition(".")[0] for field in fields}
    measured = tuple(pair for pair in after.measured if f"measured.{pair[0]}" in fields)
    if any(field in fields for field in ("measured.dough weight", "measured.baked weight")):
        measured = tuple(pair for pair in after.measured if pair in measured or pair[0] in WEIGHTS)
    old = {step.line.typed for step in before.steps}
    return Said(
        bake_date=after.bake_date if "bake_date" in fields else "",
        baker=after.baker if "baker" in fields else "",
        batch=after.batch if "batch" in fields else "",
        weighed=tuple(p for p in after.weighed if f"weighed.{p[0]}" in fields or "revision" in heads),
        kitchen=tuple(pair for pair in after.kitchen if f"kitchen.{pair[0]}" in fields),
        steps=tuple((s.name, s.line.typed) for s in after.steps if "steps" in heads and s.line.typed not in old),
        measured=measured,
        marks=tuple(m for m in after.scores if any(field.startswith(f"scores.{m.taster}.") for field in fields)),
    )


@contextmanager
def _in_other_words(typed: str) -> Iterator[None]:
    try:
        yield
    except CannotRecord as refusal:
        raise CannotCorrect(typed, refusal.reason, *refusal.detail, next=refusal.next) from None
