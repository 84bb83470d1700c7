"""The questions about times and temperatures, in the order of the process."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain import benchline
from ovenleaf.domain.benchvalues import Field, Heat, show
from ovenleaf.domain.durations import Duration
from ovenleaf.domain.formula import Step
from ovenleaf.domain.numbers import NumberFault, number
from ovenleaf.domain.quantity import Scale, Temperature
from ovenleaf.domain.question import Question, Taken, question
from ovenleaf.domain.said import Said

if TYPE_CHECKING:
    from collections.abc import Iterator

    from ovenleaf.domain.percent import Worked


def part_questions(worked: Worked) -> Iterator[Question]:
    """How long each preferment or soaker stood."""
    for part in worked.parts:
        spoken = part.name.replace("-", " ").capitalize()
        yield _span(f"{spoken}, how long it stood", part.name, part.rest)


def room_question() -> Question:
    """How warm the room was."""
    return question("Room temperature, such as 21 C", lambda typed, _: _room(typed))


def _span(text: str, step: str, plan: str) -> Question:
    planned = benchline.read(plan).get("time")
    told = f", planned {planned}" if isinstance(planned, Duration) else ""

    def take(typed: str, _: Said) -> Taken:
        read = benchline.read(typed if not typed.replace(",", ".").replace(".", "").isdigit() else f"{typed} h")
        span = read.get("time")
        if not isinstance(span, Duration):
            return Taken(problem="Say how long, as in 14 h or 45 min.")
        return Taken(said=Said(steps=((step, str(span)),)), echo=f"Taken as {span}.")

    return question(f"{text}{told}", take, str(planned) if told else "")


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


# What is asked of a bake whose page has no steps.
_USUAL = tuple(Step(name=name, line=benchline.read("")) for name in ("bulk", "final proof", "bake"))


def process_questions(process: tuple[Step, ...]) -> Iterator[Question]:
    """Dough temperature where mixing ends, then the times of the steps that wait, then the oven."""
    if not any(isinstance(step.line.get("dough temperature"), Temperature) for step in process):
        yield question("Dough temperature, such as 25 C", lambda typed, _: _dough(typed))
    for step in process or _USUAL:
        dough = step.line.get("dough temperature")
        if isinstance(dough, Temperature):
            yield question(f"Dough temperature, planned {_shown(dough)}", lambda typed, _: _dough(typed), str(dough))
        if _waits(step) and (not process or step.line.get("time") is not None):
            yield _step_time(step)
    for step in process or _USUAL:
        if step.name == "bake":
            yield from _oven(step)


def _waits(step: Step) -> bool:
    return any(word in step.name.lower() for word in ("bulk", "proof", "rest", "ferment"))


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

    told = f"planned {planned}" if planned is not None else "such as 60 min"
    return question(f"{step.name.capitalize()}, {told}", take, str(planned or ""))


def _oven(step: Step) -> Iterator[Question]:
    heat, time = step.line.get("temperature"), step.line.get("time")
    planned = str(heat) if isinstance(heat, Heat) else ""
    told = f"planned {show(Field(name='temperature', value=heat))}" if isinstance(heat, Heat) else "such as 220 C"
    yield question(f"Oven, {told}", lambda typed, _: _heat(typed), planned)
    planned = str(time) if isinstance(time, Duration) else ""
    told = f"planned {time}" if planned else "such as 40 min"
    yield question(f"Time in the oven, {told}", lambda typed, _: _oven_time(typed), planned)


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
