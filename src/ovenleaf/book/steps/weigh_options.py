"""What `weigh` was told, as typed, and what of it cannot stand together."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from ovenleaf.book.steps.weighing import CannotWeigh


@dataclass(frozen=True, slots=True, kw_only=True)
class WeighOptions:
    """What `weigh` was told, as typed; "" is not told. Several formulas part theirs by commas."""

    pieces: str = ""
    each: str = ""
    baked: bool = False
    dough: str = ""
    flour: str = ""
    factor: str = ""
    bench_loss: str = ""
    bake_loss: str = ""
    scale: str = ""
    water: bool = False
    room: str = ""
    flour_temp: str = ""
    preferment_temp: str = ""
    target: str = ""
    warming: str = ""
    tap: str = ""
    swaps: tuple[str, ...] = ()
    household: bool = False
    ready: str = ""
    begin: str = ""
    ounces: bool = False
    calendar: str = ""
    sheet: str = ""


_LISTED = ("pieces", "each", "dough", "flour")  # of these several formulas may have one each


def check_options(options: WeighOptions, formulas: int) -> None:
    """Refuse what contradicts itself, before anything is worked out. Raises CannotWeigh."""
    given = [name for name in ("pieces", "dough", "flour", "factor") if getattr(options, name)]
    if len(given) > 1:
        named = f"{', '.join(given[:-1])} and {given[-1]} cannot {'both' if len(given) == 2 else 'all'}"
        raise CannotWeigh("batch", f"{named} say how much.", "Give one of them.")
    if given and given[0] != "pieces" and (options.each or options.baked):
        word = "each" if options.each else "baked"
        raise CannotWeigh(
            word, f"{given[0]} says how much already; {word} goes with pieces.", "As in --pieces 24 --each 85g."
        )
    if options.ready and options.begin:
        raise CannotWeigh("ready", "ready and begin cannot both say when.", "Give one of them.")
    if options.calendar and not (options.ready or options.begin):
        raise CannotWeigh(
            "calendar", "a calendar needs a time.", "Add --ready or --begin, as in --ready 2026-11-29T07:00."
        )
    if options.calendar and options.calendar == options.sheet:
        raise CannotWeigh("sheet", "the calendar and the sheet cannot be one file.", "Give two names.")
    for name in _LISTED:
        typed = getattr(options, name)
        parts = len(_parted(name, typed))
        if parts > formulas:
            doughs = "one formula" if formulas == 1 else f"{formulas} formulas"
            raise CannotWeigh(
                name, f"{name} {typed} are {parts} values for {doughs}.", "Give one for all, or one for each."
            )


def nth(options: WeighOptions, place: int) -> WeighOptions:
    """The options of the formula at `place`: of values parted by commas its own, of one value that one."""

    def own(name: str, typed: str) -> str:
        parts = _parted(name, typed)
        return parts[place] if place < len(parts) else parts[-1]

    return replace(
        options,
        pieces=own("pieces", options.pieces),
        each=own("each", options.each),
        dough=own("dough", options.dough),
        flour=own("flour", options.flour),
    )


def _parted(name: str, typed: str) -> list[str]:
    """Pieces are whole numbers, so that a comma parts them; a weight has a unit before the comma: `85g,900g`.

    A comma with a digit on both sides of it is a decimal comma in a weight: `1,5kg` is one.
    """
    return [part.strip() for part in re.split("," if name == "pieces" else r"(?<=[A-Za-z]),", typed)]


_OF_WATER = ("room", "flour_temp", "preferment_temp", "target", "warming", "tap")


def water_alone(options: WeighOptions) -> bool:
    """True where the water's temperature was asked for, and nothing beside it."""
    told = replace(
        options, water=False, room="", flour_temp="", preferment_temp="", target="", warming="", tap="", scale=""
    )
    asked = options.water or any(getattr(options, name) for name in _OF_WATER)
    return asked and replace(told, ounces=False) == WeighOptions()
