"""A bake made ready to be looked through: what of it can be compared as a figure, and what are words.

Heats, times and weights count only as recorded; shares of the flour count as weighed, or else as planned, and say so.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.compare.bakes import Condition, done, planned
from ovenleaf.domain.benchvalues import Heat, Pieces
from ovenleaf.domain.durations import Duration
from ovenleaf.domain.figures import mark, pct
from ovenleaf.domain.numbers import CONTEXT, ZERO
from ovenleaf.domain.quantity import GRAMS_PER, Amount, AmountFault, Temperature, Unit, amount, split_note
from ovenleaf.domain.trial import ATTRIBUTES

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from ovenleaf.compare.trial_view import TrialView
    from ovenleaf.domain.ingredients import Pantry


@dataclass(frozen=True, slots=True, kw_only=True)
class Fact:
    """Something that can be compared: its name and kind, its values (a range or a course has two), how it is shown."""

    name: str
    kind: str
    values: tuple[Decimal, ...]
    shown: str
    recorded: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Looked:
    """One bake as it is looked through. `texts` holds (place, words)."""

    view: TrialView
    facts: tuple[Fact, ...]
    texts: tuple[tuple[str, str], ...]


def looked_through(view: TrialView, score: Decimal | None, pantry: Pantry) -> Looked:
    """A bake made ready; `score` is its score by the book's weights."""
    return Looked(view=view, facts=tuple(_facts(view, score, pantry)), texts=tuple(_texts(view)))


def _facts(view: TrialView, score: Decimal | None, pantry: Pantry) -> Iterator[Fact]:
    trial, worked = view.trial, view.sheet.worked
    recorded = [fact for condition in done(trial, worked, pantry) if (fact := _fact(condition)) is not None]
    yield from recorded
    known = {fact.name for fact in recorded}
    plan = [_fact(condition) for condition in planned(view.sheet)]
    shares = [fact for fact in plan if fact is not None and fact.kind == "share" and fact.name not in known]
    yield from (replace(fact, shown=f"{fact.shown}, planned", recorded=False) for fact in shares)
    yield from _hydration(view, recorded)
    yield from _weights(trial.measured)
    if view.loss is not None:
        yield Fact(name="bake loss", kind="share", values=(view.loss,), shown=pct(view.loss))
    for name in ATTRIBUTES:
        marks = [value for one in trial.scores if (value := getattr(one, name)) is not None]
        if marks:
            mean = CONTEXT.divide(sum(marks, ZERO), Decimal(len(marks)))
            yield Fact(name=name, kind="plain", values=(mean,), shown=mark(mean))
    if score is not None:
        yield Fact(name="score", kind="plain", values=(score,), shown=mark(score))


def _hydration(view: TrialView, recorded: Sequence[Fact]) -> Iterator[Fact]:
    """Water as poured: as weighed in all, or else as planned."""
    weighed = next((fact for fact in recorded if fact.name == "water" and fact.kind == "share"), None)
    poured = next((share.pct for share in view.sheet.worked.whole if share.item == "water"), None)
    if weighed is not None:
        yield replace(weighed, name="hydration", shown=f"{weighed.shown}, as weighed")
    elif poured is not None:
        yield Fact(name="hydration", kind="share", values=(poured,), shown=f"{pct(poured)}, planned", recorded=False)


def _weights(measured: tuple[tuple[str, str], ...]) -> Iterator[Fact]:
    for name, text in measured:
        try:
            read = amount(split_note(text)[0])
        except AmountFault as fault:
            if name == "pieces" and fault.kind == "no unit":
                yield Fact(name=name, kind="plain", values=(Decimal(text),), shown=text)
            continue
        if read.unit in GRAMS_PER:
            yield Fact(name=name, kind="mass", values=(read.value * GRAMS_PER[read.unit],), shown=text)


def _fact(condition: Condition) -> Fact | None:
    value = condition.value
    kind: str
    values: tuple[Decimal, ...]
    match value:
        case Temperature():
            kind, values = "heat", (value.celsius,)
        case Heat():
            kind, values = "heat", tuple(degrees.celsius for degrees in value.temperatures)
        case Duration():
            kind, values = "time", (value.low, value.high)
        case Amount() if value.unit is Unit.SHARE:
            kind, values = "share", (value.value,)
        case Amount() if value.unit in GRAMS_PER:
            kind, values = "mass", (value.value * GRAMS_PER[value.unit],)
        case Pieces():
            kind, values = "plain", (Decimal(value.count),)
        case Decimal():
            kind, values = "plain", (value,)
        case _:
            return None
    return Fact(name=condition.name, kind=kind, values=values, shown=condition.text)


def _texts(view: TrialView) -> Iterator[tuple[str, str]]:
    trial = view.trial
    for marks in trial.scores:
        yield from (("fault", f"{fault} ({marks.taster})") for fault in marks.faults)
        if marks.note:
            yield "note", f"{marks.note} ({marks.taster})"
        yield "taster", marks.taster
    yield "question", trial.question
    yield from (("flour", f"{name}, {which}") for name, which in trial.flours)
    yield from (("oven" if name == "oven" else "kitchen", f"{name}: {text}") for name, text in trial.kitchen)
    yield from (("step", f"{step.name}: {step.line.typed}") for step in trial.steps)
    yield from (("log", line.partition(" ")[2]) for line in trial.log)
    yield from (("plan", f"{name}: {text}") for name, text in trial.plan)
    yield "left out", trial.left_out
    yield "formula", trial.formula
    yield "formula", view.sheet.formula.label
    yield "by", trial.baker
    yield "trial", trial.code
    yield from (("revision", name) for name in _names(trial.revision))


def _names(revision: str) -> tuple[str, ...]:
    short = revision.partition(".")[0]
    return revision, short, short.removeprefix("r"), f"revision {short.removeprefix('r')}"
