"""The questions that `record` asks about a bake, in the order of the bench, each with its plan and unit.

A question is worded by what was told so far: once the batch is known, water is planned in grams. An
answer becomes part of what is said of the bake, with an echo of how it was taken; or it means
nothing, and then it says why. Silence never becomes a measurement.
"""

from __future__ import annotations

import re
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

from ovenleaf.domain.asking_steps import part_questions, process_questions, room_question
from ovenleaf.domain.asking_weights import batch_question, flour_questions, piece_questions, weight_questions
from ovenleaf.domain.days import day
from ovenleaf.domain.numbers import NumberFault, number, plain
from ovenleaf.domain.question import NO, NOTHING_TAKEN, Bench, Question, Taken, question
from ovenleaf.domain.said import Said
from ovenleaf.domain.trial import Marks, mark_out_of, marked

if TYPE_CHECKING:
    from collections.abc import Iterator
    from datetime import date


def questions(bench: Bench) -> tuple[Question, ...]:
    """All questions about one bake."""
    return tuple(_questions(bench))


def _questions(bench: Bench) -> Iterator[Question]:
    sheet = bench.sheet
    yield question(f"Day of baking, if not today, {_day_words(bench.today)}", lambda typed, _: _day(typed, bench))
    yield batch_question(sheet)
    yield from flour_questions(sheet)
    yield from weight_questions(sheet)
    yield from part_questions(sheet.worked)
    yield room_question()
    yield from process_questions(sheet.formula.process)
    yield from piece_questions(sheet)
    yield from tasting_questions(bench)


def _day_words(day: date) -> str:
    return f"{day:%A} {day.day} {day:%B}"


def _day(typed: str, bench: Bench) -> Taken:
    said = day(typed, bench.today)
    if said is None:
        return Taken(problem="Say it as yesterday, Sunday, 8 November or 2026-11-08.")
    if said > bench.today:
        return Taken(problem="That day is still to come.")
    return Taken(said=Said(bake_date=said.isoformat()), echo=f"Taken as {_day_words(said)} {said.year}.")


def tasting_questions(bench: Bench, given: Marks | None = None) -> Iterator[Question]:
    """What is asked of a taster; not again for what they have `given` before."""
    wait = bench.sheet.formula.score_after
    told = f", this bread waits {wait}" if wait else ""
    if given is None or given.hours_after is None:
        yield question(f"Hours after baking when you tasted{told}", lambda typed, _: _hours(typed, bench))
    aims = dict(bench.sheet.formula.aims)
    for attribute in ("crumb", "crust"):
        if getattr(given, attribute, None) is not None:
            continue
        aim = f", aim: {aims[attribute]}" if attribute in aims else ""
        yield question(f"{attribute.capitalize()}, {bench.book.scale}{aim}", partial(_mark, attribute, bench))
    yield question("Anything to add", lambda typed, _: _note(typed, bench))


def _note(typed: str, bench: Bench) -> Taken:
    """Words of the taster's own; `no` is not one of them."""
    if typed.lower() in NO:
        return NOTHING_TAKEN
    return Taken(said=Said(marks=(Marks(taster=bench.taster, note=typed),)))


def _hours(typed: str, bench: Bench) -> Taken:
    try:
        hours = number(typed.lower().removesuffix("hours").removesuffix("h").strip())
    except NumberFault:
        return Taken(problem="Give hours, as in 3.")
    return Taken(said=Said(marks=(Marks(taster=bench.taster, hours_after=hours),)))


def _mark(attribute: str, bench: Bench, typed: str, _: Said) -> Taken:
    """`6`, `6/10`, or `6 too pale`: a mark, and a fault behind it."""
    told = re.match(r"\d[\d.,]*(?: \d+/\d+)?(?: ?(?:/|(?:out )?of\b) ?\d[\d.,]*)?", typed)
    figure, fault = (told[0], typed[told.end() :]) if told else ("", "")
    scale = bench.book.scale
    try:
        value, out_of = mark_out_of(figure.rstrip(".,"))
    except NumberFault:
        return Taken(problem=f"Begin with a mark from {scale}; words may follow it.")
    fault = fault.lstrip(" ,")
    if (top := scale.another(out_of)) is not None:
        return Taken(problem=f"That is a mark out of {plain(top)}; in this book marks are from {scale}.")
    if not scale.low <= value <= scale.high:
        return Taken(problem=f"{plain(value)} is off the scale of this book, {scale}.")
    faults = (fault.strip(),) if fault.strip() else ()
    marks = marked(Marks(taster=bench.taster, faults=faults), attribute, value)
    echo = f"{plain(value)} of {scale.high}, fault: {faults[0]}." if faults else ""
    return Taken(said=Said(marks=(marks,)), echo=echo)


def settled(said: Said) -> Said:
    """What was told, with the answers about one step on one line: oven and time make one bake."""
    lines: dict[str, str] = {}
    for step, line in said.steps:
        lines[step] = f"{lines[step]}, {line}" if step in lines else line
    return replace(said, steps=tuple(lines.items()))
