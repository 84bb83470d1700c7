"""What was understood at the bench, in sentences: one or two for each thing, the time of the next look last."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain.bench_clock import minutes_between
from ovenleaf.domain.bench_echo import (
    AsWords,
    Begun,
    Bread,
    Echo,
    Ended,
    EndUnknown,
    Folded,
    Kept,
    Measured,
    Note,
    Stands,
    Weighed,
)
from ovenleaf.domain.bench_plan import Kind
from ovenleaf.domain.bench_readings import differs
from ovenleaf.domain.benchvalues import Field, alike, show
from ovenleaf.domain.durations import Duration
from ovenleaf.domain.figures import grams, pct
from ovenleaf.domain.numbers import number, plain
from ovenleaf.present.screen import clock

if TYPE_CHECKING:
    from collections.abc import Iterator
    from datetime import datetime

    from ovenleaf.domain.hearing import Heard

_DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


def when(at: datetime, now: datetime) -> str:
    """A clock time on the clock of `now`, with its day where that is another: `Saturday 07:36`, `tomorrow 07:36`.

    The next day is `tomorrow`, the one before `yesterday`.
    """
    here = at.astimezone(now.tzinfo)
    days = (here.date() - now.date()).days
    if not days:
        return clock(here)
    near = {1: "tomorrow", -1: "yesterday"}.get(days, _DAYS[here.weekday()])
    return f"{near} {clock(here)}" if abs(days) < 7 else f"{here.day}.{here.month}. {clock(here)}"


def about(at: datetime, now: datetime) -> str:
    """About when: `about 07:36`, `about 07:36 tomorrow`, `about 07:15 on Sunday`."""
    here = at.astimezone(now.tzinfo)
    days = (here.date() - now.date()).days
    near = {0: "", 1: " tomorrow", -1: " yesterday"}.get(days, f" on {_DAYS[here.weekday()]}")
    return f"about {clock(here)}{near}"


def sentences(heard: Heard, code: str, *, prompt: bool = False) -> tuple[str, ...]:
    """What was understood, line by line: steps and readings in the first, then one line for each other thing."""
    first: list[str] = []
    lines: list[str] = []
    for echo in _with_heat(heard.echoes):
        said = _said(echo, heard, code, prompt)
        ahead = isinstance(echo, Begun) and not first and echo.step.kind is Kind.AHEAD
        if (isinstance(echo, Ended | Folded | Measured) or ahead) and not lines:
            first.append(said)
        else:
            lines.append(said)
    told = (" ".join(first), *lines) if first else tuple(lines)
    return told or ("Noted.",)


def _with_heat(echoes: tuple[Echo, ...]) -> Iterator[Echo]:
    """What was made ahead is told before its temperature."""
    ahead = [echo for echo in echoes if isinstance(echo, Begun) and echo.step.kind is Kind.AHEAD]
    yield from ahead
    yield from (echo for echo in echoes if echo not in ahead)


def _said(echo: Echo, heard: Heard, code: str, prompt: bool) -> str:
    match echo:
        case Begun():
            return _begun(echo, heard)
        case Ended():
            return _ended(echo)
        case EndUnknown():
            return f"When {echo.step.said} ended was not told. If you know it: jot {echo.step.said} 55 min."
        case Folded():
            return f"Folded, {plain(echo.folds)} in all in {echo.step.said}." if echo.folds > 1 else "Folded."
        case Measured():
            return _measured(echo, prompt)
        case Stands():
            return (
                f"{_capital(echo.name)}: {degrees(echo.said)} is in the log. The page has {degrees(echo.stands)},"
                f" and that stands; ovenleaf correct {code} puts it right."
            )
        case Weighed():
            return _weighed(echo)
        case Kept():
            return f"{_capital(echo.name)}: {degrees(echo.text)}."
        case Bread():
            return _bread(echo)
        case Note():
            return f"Note kept: {echo.text}.{f' {echo.hint}' if echo.hint else ''}"
        case AsWords():
            return f"Kept as words only: {echo.text}. {_capital(echo.why)}. If it was a slip, say it again."


def _capital(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}"


def degrees(text: str) -> str:
    """`26 C` with its degree sign, where it stands alone."""
    figure, _, scale = text.rpartition(" ")
    return f"{figure} °{scale}" if scale in ("C", "F") and figure[-1:].isdigit() else text


def _begun(echo: Begun, heard: Heard) -> str:
    name = _capital(echo.step.said)
    look = about(echo.look, heard.told) if echo.look else ""
    sign = f": {echo.until}" if echo.until else ""
    past = echo.look is not None and echo.look < heard.told
    if echo.step.kind is Kind.AHEAD:
        return f"{name} mixed.{f' Ripe {look}{sign}.' if look else ''}"
    if echo.step.kind is Kind.BAKE:
        due = f" It was to come out {look}." if past else f" Out {look}{sign}."
        return f"In the oven.{due if look else ''}"
    since = "now" if echo.since == heard.told else when(echo.since, heard.told)
    more = f" Look at it {'now' if past else look}{sign}." if look and echo.step.kind is Kind.WAIT else ""
    return f"{name} runs from {since}.{more}"


_DONE = {"divide": "Divided.", "shape": "Shaped.", "preshape": "Preshaped.", "score": "Scored."}


def _ended(echo: Ended) -> str:
    name = _capital(echo.step.said)
    if not echo.step.planned:
        return f"{name} {echo.took or 'done'}; the page has no such step, so it is kept as one of this bake."
    planned = ""
    if echo.planned is not None:
        planned = ", as planned" if echo.planned == echo.took else f", planned {echo.planned}"
    clocked = f" By the clock it was {echo.clock}." if echo.clock is not None else ""
    match echo.step.kind:
        case Kind.HAND:
            return _DONE.get(echo.step.name.lower().replace("-", ""), f"{name} done.")
        case Kind.MIX if echo.took is None:
            return "Mixing ended."
        case Kind.BAKE:
            return (f"Out after {echo.took}{planned}." if echo.took else "Out of the oven.") + clocked
        case Kind.AHEAD:
            return f"{name} stood {echo.took}{planned}." if echo.took else f"{name} used."
        case _ if echo.took is None:
            return f"{name} ended. When it began was not told, so how long it took is not recorded."
    return f"{name} {echo.took}{planned}.{clocked}"


def _measured(echo: Measured, prompt: bool) -> str:
    shown = show(Field(name=echo.name, value=echo.value))
    name = {"ph": "", "temperature": f"{_capital(echo.step)} at"}.get(echo.name, _capital(echo.name))
    where = f" in {echo.step}" if echo.step and echo.name in ("dough temperature", "ph", "rise") else ""
    planned = ""
    if echo.planned is not None and echo.name == "dough temperature":
        same = alike(echo.value, echo.planned)
        planned = ", as planned" if same else f", planned {show(Field(name=echo.name, value=echo.planned))}"
    elif differs(echo):
        planned = f", planned {show(Field(name=echo.name, value=echo.planned or ''))}"
    said = f"{f'{name} {shown}'.strip()}{where}{planned}."
    if not echo.usual:
        return said
    slip = " If it was a slip, say undo." if prompt else ""
    return f"{said} {echo.usual} Kept as you said it.{slip}"


def _weighed(echo: Weighed) -> str:
    now = grams(echo.grams)
    instead = "" if echo.instead in (None, echo.grams) else f" instead of {grams(echo.instead or echo.grams)}"
    share = ""
    if echo.pct is not None and echo.planned_pct is not None:
        planned = ", as planned" if echo.pct == echo.planned_pct else f", planned {pct(echo.planned_pct)}"
        share = f": {pct(echo.pct)} of the flour{planned}"
    later = f" If it goes in later, say +{grams(echo.instead)} {echo.item}." if echo.instead and not echo.grams else ""
    return f"{_capital(echo.item)} {now}{instead}{share}.{later}"


def _bread(echo: Bread) -> str:
    after = f", {echo.after} after baking" if echo.after is not None else ""
    verb = "weighs" if echo.pieces.startswith("1 ") or not echo.pieces else "weigh"
    said = f"{echo.pieces or 'The bread'} {verb} {echo.weight}{after}."
    if echo.loss is None or echo.dough is None:
        return said
    of = f", which is {echo.of}" if echo.of else ""
    usual = f" {echo.usual}" if echo.usual else ""
    return f"{said} Bake loss {pct(echo.loss)} of {grams(echo.dough)} of dough{of}.{usual}"


def running(begun: Begun, now: datetime) -> str:
    """How long a step has run, and when to look at it, for the screen of what is in hand."""
    minutes = number(str(max(0, minutes_between(begun.since, now))))
    age = f"for {Duration(low=minutes, high=minutes)}" if minutes else "just begun"
    look = "" if begun.look is None else about(begun.look, now)
    name = begun.step.said
    match begun.step.kind:
        case Kind.AHEAD:
            return f"{name} {age.removeprefix('for ')}{' old' if minutes else ''}{f', ripe {look}' if look else ''}"
        case Kind.BAKE:
            return f"in the oven {age}{f', out {look}' if look else ''}"
        case Kind.WAIT:
            return f"{name} {age}{f', look at it {look}' if look else ''}"
    return f"{name} {age}"
