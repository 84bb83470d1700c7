"""Weigh a formula up for a batch: bowls on a real scale, losses, swaps, water, a schedule."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.book.steps import weighing as told
from ovenleaf.book.steps.bakes import read_trials
from ovenleaf.book.steps.opening import OpenBook, open_book, open_pantry
from ovenleaf.book.steps.sheets import kept_sheet
from ovenleaf.book.steps.shelf import Kept, Shelf, newest, revision_of, take
from ovenleaf.book.steps.swapping import swapped
from ovenleaf.book.steps.watering import water_answer
from ovenleaf.domain.household import household
from ovenleaf.domain.ingredients import Kind
from ovenleaf.domain.numbers import ZERO
from ovenleaf.domain.scaling import BadBatch, Wanted, as_weighed, batch, dilutions, weigh_up
from ovenleaf.domain.schedule import NoTimes, Slot, schedule
from ovenleaf.errors import ExitCode, Next, Refusal
from ovenleaf.results import Weighed, WeighUp

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import datetime
    from pathlib import Path

    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.scaling import Bowl
    from ovenleaf.domain.sheet import Sheet


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


class OpenQuestionsLeft(Refusal):
    """A combined revision whose questions are not settled cannot be weighed up. Facts: `formula`, `items`."""

    exit_code = ExitCode.OPEN

    def __init__(self, formula: str, items: tuple[str, ...], own: tuple[str, ...]) -> None:
        super().__init__(
            f"This revision of {formula} has open questions, so it cannot be weighed up: {', '.join(items)}.",
            next=tuple(Next(f"ovenleaf weigh {formula} {name}", "one baker's own") for name in own),
        )
        self.formula = formula
        self.items = items


class NoTimesKnown(Refusal):
    """The steps say no times, so nothing can be laid out. Fact: `formula`."""

    def __init__(self, formula: str) -> None:
        super().__init__(
            f"The steps of {formula} say no times, so they cannot be laid out on the clock.",
            next=(Next(f"ovenleaf show {formula}", "its steps"),),
        )
        self.formula = formula


def weigh(
    given: Path | None, start: Path, formulas: Sequence[str], revision: str, options: WeighOptions, now: datetime
) -> Weighed:
    """Weigh up one formula, or several at once with one list of the flour they need together."""
    book = open_book(given, start)
    pantry = open_pantry(book.root)
    ups = tuple(
        _weigh_one(book, take(book.root, name), revision, _nth(options, place), pantry, now)
        for place, name in enumerate(formulas)
    )
    if options.calendar and not ups[0].slots:
        raise told.CannotWeigh(
            "calendar", "a calendar needs a time.", "Add --ready or --begin, as in --ready 2026-11-29T07:00."
        )
    return Weighed(
        ups=ups,
        flours=_flours(ups, pantry),
        unit="oz" if options.ounces else "g",
        calendar=options.calendar,
        sheet_path=options.sheet,
    )


def _nth(options: WeighOptions, place: int) -> WeighOptions:
    """The options of the formula at `place`: of values parted by commas its own, of one value that one."""

    def own(typed: str) -> str:
        parts = [part.strip() for part in typed.split(",")]
        return parts[place] if place < len(parts) else parts[-1]

    return replace(
        options, pieces=own(options.pieces), each=own(options.each), dough=own(options.dough), flour=own(options.flour)
    )


def _weigh_one(
    book: OpenBook, shelf: Shelf, revision: str, options: WeighOptions, pantry: Pantry, now: datetime
) -> WeighUp:
    kept = _which(shelf, revision)
    sheet = kept_sheet(shelf, kept, pantry)
    if sheet.formula.open:
        raise OpenQuestionsLeft(shelf.name, tuple(q.item for q in sheet.formula.open), sheet.formula.made_from)
    trials = tuple(trial for trial in read_trials(book.root, shelf.name)[0] if not trial.left_out)
    sheet, swaps = swapped(sheet, options.swaps, pantry)
    bench = told.loss("bench", options.bench_loss, sheet.formula, trials)
    bake = told.loss("bake", options.bake_loss, sheet.formula, trials)
    wanted = replace(_wanted(sheet, options), bench_loss=bench.pct, bake_loss=bake.pct)
    try:
        made = batch(wanted, sheet.worked.total)
    except BadBatch as bad:
        raise told.CannotWeigh("batch", f"{bad.why}.") from None
    scale = told.scale_of(options.scale, book.page.scales)
    if scale.step > made.dough / 10:
        raise told.CannotWeigh(
            "scale", f"a scale that shows {scale.step} g is too coarse for {made.dough:.0f} g of dough."
        )
    bowls = weigh_up(sheet.worked, made.flour, scale, pantry)
    return WeighUp(
        sheet=sheet,
        wanted=wanted,
        batch=made,
        bench=bench,
        bake=bake,
        scale=scale,
        bowls=bowls,
        dilutions=dilutions(bowls, scale, pantry),
        weighed=as_weighed(bowls, pantry),
        keeper=str(kept.name) == shelf.keeper,
        swaps=swaps,
        household=_household(bowls, pantry) if options.household else (),
        water=water_answer(_water_told(options), sheet, bowls, trials, pantry) if options.water else None,
        slots=_slots(sheet, options, now),
    )


def _which(shelf: Shelf, revision: str) -> Kept:
    """The revision that is named, otherwise the keeper, otherwise the newest."""
    if revision:
        return revision_of(shelf, revision)
    return revision_of(shelf, shelf.keeper) if shelf.keeper else newest(shelf)


def _wanted(sheet: Sheet, options: WeighOptions) -> Wanted:
    given = [name for name in ("pieces", "dough", "flour", "factor") if getattr(options, name)]
    if len(given) > 1:
        raise told.CannotWeigh("batch", f"{' and '.join(given)} cannot both say how much.", "Give one of them.")
    usual = told.wanted_by_page(sheet.formula)
    if options.pieces:
        each = told.weight("each", options.each) if options.each else usual.each
        if each is None:
            raise told.CannotWeigh("each", "how heavy is a piece?", "Say it as --each 85g.")
        return Wanted(pieces=told.pieces(options.pieces), each=each, baked=options.baked)
    if options.dough:
        return Wanted(dough=told.weight("dough", options.dough))
    if options.flour:
        return Wanted(flour=told.weight("flour", options.flour))
    if options.factor:
        return Wanted(flour=(sheet.worked.flour_g or Decimal(1000)) * told.factor(options.factor))
    if options.each and usual.pieces:
        return Wanted(pieces=usual.pieces, each=told.weight("each", options.each), baked=options.baked)
    return replace(usual, baked=options.baked)


def _household(bowls: tuple[Bowl, ...], pantry: Pantry) -> tuple[tuple[str, str], ...]:
    """Cups and spoons for each line, by bowl and item."""
    names = {bowl.name for bowl in bowls}
    return tuple(
        (f"{bowl.name}:{line.item}", household(line.grams, pantry.get(line.item)))
        for bowl in bowls
        for line in bowl.lines
        if line.item not in names
    )


def _water_told(options: WeighOptions) -> dict[str, Decimal]:
    """The temperatures that were told, in degrees Celsius."""
    typed = {
        "room": options.room,
        "flour": options.flour_temp,
        "preferment": options.preferment_temp,
        "target": options.target,
        "tap": options.tap,
    }
    told_degrees = {name: told.degrees(name, text) for name, text in typed.items() if text}
    if options.warming:
        told_degrees["warming"] = told.risen(options.warming)
    return told_degrees


def _slots(sheet: Sheet, options: WeighOptions, now: datetime) -> tuple[Slot, ...]:
    if not options.ready and not options.begin:
        return ()
    room = told.degrees("room", options.room) if options.room else None
    try:
        return schedule(
            sheet.formula,
            ready=told.moment("ready", options.ready, now) if options.ready else None,
            begin=told.moment("begin", options.begin, now) if options.begin else None,
            room=room,
        )
    except NoTimes:
        raise NoTimesKnown(sheet.formula.name) from None


def _flours(ups: tuple[WeighUp, ...], pantry: Pantry) -> tuple[tuple[str, Decimal], ...]:
    """What all the doughs together need of each flour, in g."""
    found: dict[str, Decimal] = {}
    for up in ups:
        for bowl in up.bowls:
            for line in bowl.lines:
                if pantry.get(line.item).kind is Kind.FLOUR:
                    found[line.item] = found.get(line.item, ZERO) + line.grams
    return tuple(found.items())


def formulas_and_revision(words: Sequence[str]) -> tuple[tuple[str, ...], str]:
    """Formulas, and a revision where a single formula is followed by one.

    >>> formulas_and_revision(["market-roll", "r2"]), formulas_and_revision(["a-roll", "a-rye"])
    ((('market-roll',), 'r2'), (('a-roll', 'a-rye'), ''))
    """
    if len(words) == 2 and re.fullmatch(r"r\d.*|\d+|keeper", words[1]):
        return (words[0],), words[1]
    return tuple(words), ""


class FileThere(Refusal):
    """A file of that name is there already and is not written over. Fact: `shown`."""

    def __init__(self, shown: str) -> None:
        super().__init__(f"There is a file {shown} already, and it is not written over. Give another name.")
        self.shown = shown


def write_new(path: Path, shown: str, text: str) -> None:
    """Write a new file outside the book. Raises FileThere."""
    try:
        with path.open("x", encoding="utf-8", newline="") as file:
            file.write(text)
    except FileExistsError:
        raise FileThere(shown) from None
    except OSError as fault:
        raise Refusal(f"{shown} cannot be written: {str(fault.strerror or 'the disk refuses').lower()}.") from None
