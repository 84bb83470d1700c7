"""The questions that `record` asks about a bake, in the order of the bench, each with its plan and unit.

An answer becomes part of what is said of the bake, with an echo of how it was taken; or it means
nothing, and then it says why. Silence never becomes a measurement.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal
from functools import partial
from typing import TYPE_CHECKING

from ovenleaf.domain import benchline
from ovenleaf.domain.batch import flour_in_batch
from ovenleaf.domain.benchvalues import Field, Heat, Pieces, show
from ovenleaf.domain.days import day
from ovenleaf.domain.durations import Duration
from ovenleaf.domain.figures import grams, pct
from ovenleaf.domain.ingredients import Kind
from ovenleaf.domain.numbers import NumberFault, number, plain, portion, share_of
from ovenleaf.domain.quantity import AmountFault, Scale, Temperature, Unit, amount
from ovenleaf.domain.said import Said
from ovenleaf.domain.trial import Marks, marked

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from datetime import date

    from ovenleaf.domain.book import BookPage
    from ovenleaf.domain.formula import Step
    from ovenleaf.domain.percent import Worked
    from ovenleaf.domain.sheet import Sheet

AS_PLANNED = "="
NOTHING = Said()
PLAN_BATCH = Decimal(1000)


@dataclass(frozen=True, slots=True, kw_only=True)
class Bench:
    """What questions and answers are about: the sheet, the book, the taster, and the day it is."""

    sheet: Sheet
    book: BookPage
    taster: str
    today: date


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """How an answer was taken: `said` is kept, `echo` told; `problem` is why it means nothing, or ""."""

    said: Said = NOTHING
    echo: str = ""
    problem: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """One question. `planned` is the answer that `=` stands for, as it would be typed, or ""."""

    text: str
    planned: str
    take: Callable[[str, Said], Taken]


def questions(bench: Bench) -> tuple[Question, ...]:
    """All questions about one bake."""
    return tuple(_questions(bench))


def _questions(bench: Bench) -> Iterator[Question]:
    sheet = bench.sheet
    yield Question(text="Day of baking, if not today", planned="", take=lambda typed, _: _day(typed, bench))
    batch = sheet.worked.flour_g or PLAN_BATCH
    dough = portion(sheet.worked.total, batch)
    yield Question(
        text=f"Batch, planned {grams(batch)} of flour, {grams(dough)} of dough",
        planned=f"{grams(batch)} flour",
        take=lambda typed, _: _batch(typed, sheet.worked),
    )
    for flour in (item for item, kind in sheet.kinds if kind is Kind.FLOUR):
        yield Question(
            text=f"{flour.capitalize()}, which and what lot",
            planned="",
            take=partial(_which_flour, flour),
        )
    yield from _weighing(sheet)
    for part in sheet.worked.parts:
        yield _span(f"{part.name.capitalize()}, how long it stood", part.name, part.rest)
    yield Question(text="Room temperature", planned="", take=lambda typed, _: _room(typed))
    yield from _process(sheet.formula.process)
    yield from _pieces(sheet)
    yield Question(
        text="All of it when cold, in g",
        planned="",
        take=lambda typed, _: _baked(typed),
    )
    yield from _tasting(bench)


def _day(typed: str, bench: Bench) -> Taken:
    meant = day(typed, bench.today)
    if meant is None:
        return Taken(problem="Say it as yesterday, Sunday, 8 November or 2026-11-08.")
    if meant > bench.today:
        return Taken(problem="That day is still to come.")
    return Taken(said=Said(bake_date=meant.isoformat()), echo=f"Taken as {meant:%A} {meant.day} {meant:%B %Y}.")


def _which_flour(flour: str, typed: str, _: Said) -> Taken:
    return Taken(said=Said(flours=((flour, typed),)))


def _batch(typed: str, worked: Worked) -> Taken:
    """A batch; a bare weight is one of flour."""
    for said in (typed, f"{typed} flour", f"{typed} g flour"):
        flour = flour_in_batch(said, worked)
        if flour:
            return Taken(said=Said(batch=said), echo=f"Taken as {grams(flour)} of flour.")
    return Taken(problem="Say it as 600 g flour, 1020 g dough, or 12 rolls of 85 g.")


def _weighing(sheet: Sheet) -> Iterator[Question]:
    for share in sheet.worked.whole:
        if dict(sheet.kinds)[share.item] is Kind.WATER:
            yield Question(
                text=f"{share.item.capitalize()}, planned {pct(share.pct)} of the flour, in all, in g",
                planned="",
                take=partial(_weighed, share.item, sheet.worked),
            )
    yield Question(
        text="Anything else weighed differently, such as salt 12 g",
        planned="",
        take=lambda typed, said: _differently(typed, said, sheet),
    )


def _weighed(item: str, worked: Worked, typed: str, said: Said) -> Taken:
    try:
        read = amount(typed, bare=Unit.G)
    except AmountFault:
        return Taken(problem="Give a weight, as in 396 g.")
    if read.is_share:
        return Taken(problem="Give what was weighed, as in 396 g.")
    flour = flour_in_batch(said.batch, worked) or worked.flour_g
    echo = f"{read} is {pct(share_of(read.value, flour))} of the flour." if flour and read.unit is Unit.G else ""
    return Taken(said=Said(weighed=((item, str(read)),)), echo=echo)


def _differently(typed: str, said: Said, sheet: Sheet) -> Taken:
    """`no`, or an item with its weight."""
    if typed.lower() in ("no", "none", "nothing"):
        return Taken(said=Said(as_planned="all the rest" if said.weighed else "all of it"), echo="All else as planned.")
    known = tuple(item for item, _ in sheet.kinds)
    item = next((item for item in sorted(known, key=len, reverse=True) if typed.lower().startswith(item)), None)
    if item is None:
        return Taken(problem=f"Begin with one of {', '.join(known)}; or say no.")
    return _weighed(item, sheet.worked, typed[len(item) :].strip(" :="), said)


def _span(text: str, step: str, plan: str) -> Question:
    planned = benchline.read(plan).get("time")
    told = f", planned {planned}" if isinstance(planned, Duration) else ""

    def take(typed: str, _: Said) -> Taken:
        read = benchline.read(typed if not typed.replace(",", ".").replace(".", "").isdigit() else f"{typed} h")
        span = read.get("time")
        if not isinstance(span, Duration):
            return Taken(problem="Say how long, as in 14 h or 45 min.")
        return Taken(said=Said(steps=((step, str(span)),)), echo=f"Taken as {span}.")

    return Question(text=f"{text}{told}", planned=str(planned) if told else "", take=take)


def _room(typed: str) -> Taken:
    read = _degrees(typed)
    if read is None:
        return Taken(problem="Say it as 21 C or 70 F.")
    return Taken(said=Said(kitchen=(("room", str(read)),)), echo=f"Taken as {_shown(read)}.")


def _degrees(typed: str) -> Temperature | None:
    """A temperature of room or dough: a bare figure is in C up to 45, in F from 50; between the two it is none."""
    heat = benchline.read(typed).get("temperature")
    if isinstance(heat, Heat) and len(heat.temperatures) == 1:
        return heat.temperatures[0]
    try:
        value = number(typed)
    except NumberFault:
        return None
    if value <= 45:
        return Temperature(value, Scale.C)
    return Temperature(value, Scale.F) if value >= 50 else None


def _shown(degrees: Temperature) -> str:
    return show(Field(name="temperature", value=degrees))


def _process(process: tuple[Step, ...]) -> Iterator[Question]:
    """Dough temperature where mixing ends, then the times of the steps that wait, then the oven."""
    for step in process:
        dough = step.line.get("dough temperature")
        if isinstance(dough, Temperature):
            yield Question(
                text=f"Dough temperature, planned {_shown(dough)}",
                planned=str(dough),
                take=lambda typed, _: _dough(typed),
            )
        waits = any(word in step.name.lower() for word in ("bulk", "proof", "rest", "ferment"))
        if waits and step.line.get("time") is not None:
            yield _step_time(step)
    for step in process:
        if step.name == "bake":
            yield from _oven(step)


def _dough(typed: str) -> Taken:
    read = _degrees(typed)
    if read is None:
        return Taken(problem="Say it as 25.5 C or 78 F.")
    return Taken(said=Said(measured=(("dough temperature", str(read)),)), echo=f"Taken as {_shown(read)}.")


def _step_time(step: Step) -> Question:
    planned = step.line.get("time")

    def take(typed: str, _: Said) -> Taken:
        read = benchline.read(f"{typed} min" if typed.isdigit() else typed)
        if read.doubts:
            return Taken(problem=f"{read.doubts[0][:1].upper()}{read.doubts[0][1:]}.")
        if read.get("time") is None:
            return Taken(problem="Say how long, as in 58 min.")
        return Taken(said=Said(steps=((step.name, read.typed),)))

    return Question(text=f"{step.name.capitalize()}, planned {planned}", planned=str(planned), take=take)


def _oven(step: Step) -> Iterator[Question]:
    heat, time = step.line.get("temperature"), step.line.get("time")
    told = f", planned {show(Field(name='temperature', value=heat))}" if isinstance(heat, Heat) else ""
    yield Question(text=f"Oven{told}", planned=str(heat) if told else "", take=lambda typed, _: _heat(typed))
    told = f", planned {time}" if isinstance(time, Duration) else ""
    yield Question(
        text=f"Time in the oven{told}", planned=str(time) if told else "", take=lambda typed, _: _oven_time(typed)
    )


def _heat(typed: str) -> Taken:
    read = benchline.read(typed)
    heat = read.get("temperature") or read.get("oven")
    if not isinstance(heat, Heat):
        return Taken(problem="An oven needs its scale: 220 C, or 430 F.")
    return Taken(said=Said(steps=(("bake", str(heat)),)))


def _oven_time(typed: str) -> Taken:
    span = benchline.read(f"{typed} min" if typed.isdigit() else typed).get("time")
    if not isinstance(span, Duration):
        return Taken(problem="Say how long, as in 19 min.")
    return Taken(said=Said(steps=(("bake", str(span)),)))


def _pieces(sheet: Sheet) -> Iterator[Question]:
    makes = benchline.read(sheet.formula.makes)
    pieces = makes.get("pieces")
    noun = pieces.noun if isinstance(pieces, Pieces) else "pieces"
    told = f", planned {sheet.formula.makes}" if sheet.formula.makes else ""
    planned = str(pieces.count) if isinstance(pieces, Pieces) else ""

    def take(typed: str, _: Said) -> Taken:
        if not typed.isdigit() or not int(typed):
            return Taken(problem="Give a number, as in 12.")
        return Taken(said=Said(measured=(("pieces", typed),)))

    yield Question(text=f"How many {noun}{told}", planned=planned, take=take)


def _baked(typed: str) -> Taken:
    try:
        read = amount(typed, bare=Unit.G)
    except AmountFault:
        return Taken(problem="Give a weight, as in 884 g.")
    return Taken(said=Said(measured=(("baked weight", str(read)),)))


def _tasting(bench: Bench) -> Iterator[Question]:
    wait = bench.sheet.formula.score_after
    told = f", this bread waits {wait}" if wait else ""
    yield Question(
        text=f"Hours after baking when you tasted{told}",
        planned="",
        take=lambda typed, _: _hours(typed, bench),
    )
    aims = dict(bench.sheet.formula.aims)
    for attribute in ("crumb", "crust"):
        aim = f", aim: {aims[attribute]}" if attribute in aims else ""
        yield Question(
            text=f"{attribute.capitalize()}, {bench.book.scale}{aim}",
            planned="",
            take=partial(_mark, attribute, bench),
        )
    yield Question(
        text="Anything to add",
        planned="",
        take=lambda typed, _: Taken(said=Said(marks=(Marks(taster=bench.taster, note=typed),))),
    )


def _hours(typed: str, bench: Bench) -> Taken:
    try:
        hours = number(typed.lower().removesuffix("hours").removesuffix("h").strip())
    except NumberFault:
        return Taken(problem="Give hours, as in 3.")
    return Taken(said=Said(marks=(Marks(taster=bench.taster, hours_after=hours),)))


def _mark(attribute: str, bench: Bench, typed: str, _: Said) -> Taken:
    """`6`, or `6 too pale`: a mark, and a fault behind it."""
    figure, _space, fault = typed.partition(" ")
    scale = bench.book.scale
    try:
        value = number(figure.rstrip(","))
    except NumberFault:
        return Taken(problem=f"Begin with a mark from {scale}; words may follow it.")
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
