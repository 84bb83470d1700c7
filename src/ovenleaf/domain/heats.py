"""How warm dough, proof, oven and water usually are, and what an unlikely figure was probably meant to be.

Bands are in degrees Celsius and wide: usual practice, never law (common practice, no source). Water is
between freezing and boiling, and a core is no hotter than its water can be.
"""

from __future__ import annotations

import re
from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain import benchline
from ovenleaf.domain.benchvalues import Heat
from ovenleaf.domain.numbers import number, plain, rounded
from ovenleaf.domain.quantity import TEMPERATURE, Scale, Temperature
from ovenleaf.domain.slip import Band, Slip, band

if TYPE_CHECKING:
    from collections.abc import Iterator

    from ovenleaf.domain.benchline import BenchLine
    from ovenleaf.domain.sheet import Sheet

DOUGH, CORE, ROOM, WATER = band("8", "38"), band("75", "102"), band("0", "45"), band("0", "100")
OVEN, WOOD_OVEN = band("120", "350"), band("120", "550")
STANDING, SCALDED, ANYWHERE = band("0", "45"), band("0", "100"), band("-20", "350")

_FIERCE = re.compile(r"\b(?:wood|pizza|naan|tandoor|pita|flatbread)", re.IGNORECASE)
_OF_PLACE = (
    (re.compile(r"\b(?:bak|oven|roast|toast)", re.IGNORECASE), OVEN),
    (re.compile(r"\b(?:scald|brew|mash|boil|poach)", re.IGNORECASE), SCALDED),
    (re.compile(r"\b(?:bulk|proof|prove|ferment|rest|rise|ripen|retard|autolys|soak|stand)", re.IGNORECASE), STANDING),
)
_OF_FIELD = {"dough temperature": ("dough", DOUGH), "core": ("core", CORE), "room": ("room", ROOM)}
_OF_WATER = re.compile(rf"\bwater\b[^,;\d-]{{0,20}}{TEMPERATURE}", re.IGNORECASE)


def heat_slips(sheet: Sheet) -> Iterator[Slip]:
    """The heats of the steps, and of what stands before them, that no bakery has."""
    formula = sheet.formula
    fierce = bool(_FIERCE.search(f"{formula.name} {formula.title}"))
    for step in formula.process:
        for where, usual, degrees in _heats(step.name, step.line, fierce=fierce):
            yield from _asked(where, step.name, usual, degrees)
    for part in sheet.worked.parts:
        heat = benchline.read(part.rest).get("temperature") if part.rest else None
        for degrees in heat.temperatures if isinstance(heat, Heat) else ():
            yield from _asked("", part.name, STANDING if part.leavened else SCALDED, degrees)


def _heats(name: str, line: BenchLine, *, fierce: bool) -> Iterator[tuple[str, Band, Temperature]]:
    """Each heat on a step's line: of what it is ("" for the step's own place), what is usual, how hot."""
    oven = WOOD_OVEN if fierce or _FIERCE.search(f"{name} {line.typed}") else OVEN
    of_place = next((usual for words, usual in _OF_PLACE if words.search(name)), ANYWHERE)
    for field in line.fields:
        where, usual = _OF_FIELD.get(field.name, ("", of_place))
        if field.name == "oven" or usual is OVEN:
            where, usual = "oven", oven
        if isinstance(field.value, Temperature):
            yield where, usual, field.value
        elif isinstance(field.value, Heat):
            yield from ((where, usual, degrees) for degrees in field.value.temperatures)
    for found in _OF_WATER.finditer(line.typed):
        yield "water", WATER, Temperature(number(found["degrees"]), Scale(found["scale"][0].upper()))


def _asked(where: str, name: str, usual: Band, degrees: Temperature) -> Iterator[Slip]:
    if usual.holds(degrees.celsius):
        return
    what = f"{where} of the {name}" if where else name
    yield Slip(
        about=f"heat of the {what}",
        message=f"The {what} would be at {shown(degrees)}; {_span(usual, degrees.scale)} is usual."
        f"{_probably(usual, degrees)}",
    )


# What a thermometer in a bakery can have shown, and what is usual there.
_REACH = {
    "dough temperature": (band("-5", "60"), DOUGH),
    "core": (band("0", "110"), CORE),
    "core temperature": (band("0", "110"), CORE),
    "room": (band("-20", "60"), ROOM),
}
_REACH_OF_PLACE = (band("-40", "600"), OVEN)


def out_of_reach(name: str, degrees: Temperature) -> str | None:
    """Of what was read off: None where it can have been so, otherwise the slip it probably was, or ""."""
    reach, usual = _REACH.get(name, _REACH_OF_PLACE)
    return None if reach.holds(degrees.celsius) else _probably(usual, degrees).strip()


def heat_words(name: str, degrees: Temperature, step: str = "") -> str:
    """A heat that was read off, as a baker says it: `the oven at 900 °C`, `core 205 °C in bake`, `room 70 °C`."""
    if step and name not in _REACH:
        place = next((usual for words, usual in _OF_PLACE if words.search(step)), ANYWHERE)
        return f"{'the oven' if place is OVEN or name == 'oven' else step} at {shown(degrees)}"
    return f"{name} {shown(degrees)}{f' in {step}' if step else ''}"


def shown(degrees: Temperature) -> str:
    """The temperature with its sign: `25 °C`."""
    return f"{plain(degrees.value)} °{degrees.scale}"


def _span(usual: Band, scale: Scale) -> str:
    ends = [end if scale is Scale.C else end * Decimal("1.8") + 32 for end in (usual.low, usual.high)]
    return f"{plain(rounded(ends[0], 0))} to {plain(rounded(ends[1], 0))} °{scale}"


def _probably(usual: Band, degrees: Temperature) -> str:
    """The slip that would make a usual heat into this one, as a question; "" where none would.

    Dough at 77 °C was 77 °F, dough at 250 °C was 25 °C, an oven at 22 °C was at 220 °C.
    """
    other = Temperature(degrees.value, Scale.F if degrees.scale is Scale.C else Scale.C)
    if usual.holds(other.celsius):
        is_c = f", which is {plain(rounded(other.celsius, 0))} °C" if other.scale is Scale.F else ""
        return f" Was it {shown(other)}{is_c}?"
    for times in (Decimal("0.1"), Decimal(10)):
        moved = Temperature((degrees.value * times).normalize(), degrees.scale)
        if usual.holds(moved.celsius):
            return f" Was it {shown(moved)}?"
    return ""
