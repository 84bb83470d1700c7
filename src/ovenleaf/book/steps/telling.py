"""What options tell of a bake, still as typed, turned into what goes on a trial's page."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.book.steps.recording import CannotRecord
from ovenleaf.domain.benchparts import in_two_ways
from ovenleaf.domain.numbers import NumberFault, number
from ovenleaf.domain.quantity import AmountFault, amount
from ovenleaf.domain.said import Pairs, Said
from ovenleaf.domain.trial import ATTRIBUTES, Marks, mark_out_of

if TYPE_CHECKING:
    from decimal import Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkOptions:
    """A taster's marks as typed; "" is not said."""

    crumb: str = ""
    crust: str = ""
    flavour: str = ""
    bake_again: bool | None = None
    faults: tuple[str, ...] = ()
    hours_after: str = ""
    blind: bool | None = None
    note: str = ""


NO_MARKS = MarkOptions()


@dataclass(frozen=True, slots=True, kw_only=True)
class Options:
    """A bake as told by options; "" and () are not said. Pairs are typed as NAME=VALUE."""

    marks: MarkOptions = NO_MARKS
    baked_on: str = ""
    begun: str = ""
    baked_by: str = ""
    batch: str = ""
    question: str = ""
    weighed: tuple[str, ...] = ()
    as_planned: str = ""
    flours: tuple[str, ...] = ()
    kitchen: tuple[str, ...] = ()
    measured: tuple[str, ...] = ()
    dough_temp: str = ""
    steps: tuple[str, ...] = ()
    left_out: str = ""


NO_OPTIONS = Options()


def said_by_options(options: Options, taster: str) -> Said:
    """What the options tell. Raises CannotRecord for one that cannot be read."""
    measured = _pairs("measured", options.measured)
    if options.dough_temp:
        measured = (("dough temperature", options.dough_temp), *measured)
    marks = marks_by_options(options.marks, taster)
    return Said(
        bake_date=options.baked_on,
        started=options.begun,
        baker=options.baked_by,
        batch=options.batch,
        question=options.question,
        weighed=_pairs("weighed", options.weighed),
        as_planned=options.as_planned,
        flours=_pairs("flour", options.flours),
        kitchen=_pairs("kitchen", options.kitchen),
        measured=measured,
        steps=tuple(_step(typed) for typed in options.steps),
        marks=() if marks == Marks(taster=taster) else (marks,),
        left_out=options.left_out,
    )


def marks_by_options(options: MarkOptions, taster: str) -> Marks:
    """One taster's marks. Raises CannotRecord for a mark that is no number."""
    told = {name: _mark(name, getattr(options, name)) for name in ATTRIBUTES}
    return Marks(
        taster=taster,
        crumb=told["crumb"][0],
        crust=told["crust"][0],
        flavour=told["flavour"][0],
        bake_again=options.bake_again,
        faults=options.faults,
        hours_after=_hours(options.hours_after.removesuffix("h").strip()),
        blind=options.blind,
        note=options.note,
        out_of=tuple(top for _, out_of in told.values() for top in out_of),
    )


def _mark(name: str, typed: str) -> tuple[Decimal | None, tuple[Decimal, ...]]:
    """The mark, and what it is out of where that is said."""
    try:
        return mark_out_of(typed) if typed else (None, ())
    except NumberFault:
        raise _no_number(name, typed) from None


def _hours(typed: str) -> Decimal | None:
    try:
        return number(typed) if typed else None
    except NumberFault:
        raise _no_number("--hours-after", typed) from None


def _no_number(name: str, typed: str) -> CannotRecord:
    return CannotRecord(name, f"{name} {typed} is not a number.", f"Give it as in {name} 7 or {name} 6.5.")


def _pairs(option: str, typed: tuple[str, ...]) -> Pairs:
    return tuple(_pair(option, one) for one in typed)


def _pair(option: str, typed: str) -> tuple[str, str]:
    name, equals, value = typed.partition("=")
    if not equals or not name.strip() or not value.strip():
        raise CannotRecord(
            option, f"{typed} does not say what is how much.", f"Say it as in --{option} {_EXAMPLE[option]}"
        )
    return name.strip(), spaced(value.strip())


def spaced(value: str) -> str:
    """An amount with a space before its unit, as pages have it: `396g` is `396 g`. Other words stay."""
    if in_two_ways(value):
        return value  # refused later, in the words it was typed in
    try:
        return str(amount(value))
    except AmountFault:
        return value


_EXAMPLE = {
    "weighed": "water=396g",
    "flour": '"strong wheat flour=Mill Lane, lot B-114"',
    "kitchen": "room=21C",
    "measured": '"baked weight=884 g"',
}


def _step(typed: str) -> tuple[str, str]:
    """`bulk: 58 min at 26 C`, or with an equals sign."""
    for mark in (":", "="):
        name, found, line = typed.partition(mark)
        if found and name.strip():
            return name.strip(), line.strip()
    raise CannotRecord(
        "step", f"{typed} does not say which step was how.", 'Say it as in --step "bulk: 58 min at 26 C"'
    )
