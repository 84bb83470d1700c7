"""Weigh a formula up for a batch: bowls on a real scale, losses, swaps, water, a schedule."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import UTC
from typing import TYPE_CHECKING

from ovenleaf.book.steps import weighing as told
from ovenleaf.book.steps.bakes import read_trials
from ovenleaf.book.steps.new_files import check_free, write_new
from ovenleaf.book.steps.opening import OpenBook, open_pantry, open_to_read
from ovenleaf.book.steps.sheets import kept_sheet
from ovenleaf.book.steps.shelf import Kept, Shelf, newest, reads_as_draft, revision_of, take
from ovenleaf.book.steps.spoons import by_spoon, measures
from ovenleaf.book.steps.swapping import swapped
from ovenleaf.book.steps.unsettled import refuse_unsettled
from ovenleaf.book.steps.watering import preferment_that_counts, water_answer
from ovenleaf.book.steps.weigh_options import WeighOptions, check_options, nth, water_alone
from ovenleaf.domain.book import KEEPER
from ovenleaf.domain.dilution import dilutions
from ovenleaf.domain.numbers import plain, rounded
from ovenleaf.domain.revision import as_typed
from ovenleaf.domain.scaling import BadBatch, Wanted, as_weighed, batch, weigh_up
from ovenleaf.domain.schedule import NoTimes, Slot, schedule
from ovenleaf.domain.together import builds_together, flours_together
from ovenleaf.errors import Next, Refusal
from ovenleaf.results import Weighed, WeighUp

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import datetime
    from pathlib import Path

    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.losses import Loss
    from ovenleaf.domain.scaling import Batch, Bowl, Scale
    from ovenleaf.domain.sheet import Sheet
    from ovenleaf.domain.temperature import WaterAnswer
    from ovenleaf.domain.trial import Trial

__all__ = [
    "BakeLossWanted",
    "NoTimesKnown",
    "WeighOptions",
    "check_free",
    "formulas_and_revision",
    "preferment_to_ask",
    "weigh",
    "write_new",
]


class BakeLossWanted(Refusal):
    """A piece is told as baked, and nothing says what the oven takes. Fact: `formula`."""

    def __init__(self, formula: str) -> None:
        super().__init__(
            "Not weighed up: how much does the oven take?",
            detail=(
                f"{formula} says no bake loss, and no bake of it has measured one. Usual is 15 to 22 % for small"
                " rolls, 20 to 28 % for baguettes, 12 to 18 % for hearth loaves (common practice, no source).",
                "Say it as --bake-loss 15%.",
            ),
            next=(Next(f"ovenleaf weigh {formula} --baked --bake-loss 15%"),),
        )
        self.formula = formula


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
    """Weigh up one formula, or several at once with one list of the flour they need together.

    `now` carries the kitchen's time zone: clock times are given and told in it.
    """
    book = open_to_read(given, start)
    pantry = open_pantry(book.root)
    check_options(options, len(formulas))
    trials = tuple(trial for trial in read_trials(book.root)[0] if trial.counts)
    ups = tuple(
        _weigh_one(book, take(book.root, name), revision, nth(options, place), pantry, trials, now)
        for place, name in enumerate(formulas)
    )
    return Weighed(
        ups=ups,
        flours=flours_together([up.bowls for up in ups], pantry),
        builds=builds_together([up.bowls for up in ups], pantry),
        unit="oz" if options.ounces else "g",
        now=now,
        water_alone=water_alone(options),
        calendar=options.calendar,
        sheet_path=options.sheet,
        findings=book.findings,
    )


def preferment_to_ask(given: Path | None, start: Path, formulas: Sequence[str], revision: str) -> str:
    """The preferment whose temperature a baker should be asked for; "" where none counts, or for several doughs."""
    book = open_to_read(given, start)
    shelves = [take(book.root, name) for name in formulas]
    if len(shelves) > 1:
        return ""
    part = preferment_that_counts(kept_sheet(shelves[0], _which(shelves[0], revision), open_pantry(book.root)))
    return part.name if part else ""


def _weigh_one(
    book: OpenBook,
    shelf: Shelf,
    revision: str,
    options: WeighOptions,
    pantry: Pantry,
    trials: tuple[Trial, ...],
    now: datetime,
) -> WeighUp:
    kept = _which(shelf, revision)
    sheet = kept_sheet(shelf, kept, pantry)
    refuse_unsettled(shelf.name, sheet.formula, "weigh {} {}")
    sheet, swaps, others = swapped(sheet, options.swaps, pantry)
    own = tuple(trial for trial in trials if trial.formula == shelf.name)
    wanted, bench, bake = _with_losses(sheet, options, own)
    made = _batch(wanted, sheet)
    scale = _scale(options, book.page.scales, made)
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
        weighed=as_weighed(bowls, pantry, sheet.worked.whole),
        keeper=str(kept.name) == shelf.keeper,
        older="" if kept.name == newest(shelf).name else as_typed(shelf.names, kept.name),
        newer_draft=_edited(shelf),
        swaps=swaps,
        other_swaps=others,
        household=by_spoon(bowls, pantry) if options.household else (),
        measures=measures(bowls, pantry) if options.household else (),
        water=_water(options, sheet, bowls, trials, pantry),
        slots=_slots(sheet, options, pantry, now),
    )


def _edited(shelf: Shelf) -> bool:
    """True if the page says something else than what was saved, be it that it cannot be read any more."""
    try:
        return reads_as_draft(shelf)
    except Refusal:
        return True


def _with_losses(sheet: Sheet, options: WeighOptions, trials: Sequence[Trial]) -> tuple[Wanted, Loss, Loss]:
    """What is wanted, and what of it is lost on the bench and in the oven; `trials` are the formula's own."""
    bench = told.loss("bench", options.bench_loss, sheet.formula, trials)
    bake = told.loss("bake", options.bake_loss, sheet.formula, trials)
    wanted = replace(_wanted(sheet, options), bench_loss=bench.pct, bake_loss=bake.pct)
    if wanted.baked and bake.source == "none":
        raise BakeLossWanted(sheet.formula.name)
    return wanted, bench, bake


def _batch(wanted: Wanted, sheet: Sheet) -> Batch:
    try:
        return batch(wanted, sheet.worked.total)
    except BadBatch as bad:
        raise told.CannotWeigh("batch", f"{bad.why}.") from None


def _scale(options: WeighOptions, book: str, made: Batch) -> Scale:
    scale = told.scale_of(options.scale, book, ounces=options.ounces)
    if scale.step > made.dough / 10:
        raise told.CannotWeigh(
            "scale",
            f"a scale that shows {plain(scale.step)} g is too coarse for {rounded(made.dough, 0)} g of dough.",
            "Make a larger batch, or say the scale you have, as in --scale 0.1g.",
        )
    return scale


def _which(shelf: Shelf, revision: str) -> Kept:
    """The revision that is named, otherwise the keeper, otherwise the newest."""
    if revision:
        return revision_of(shelf, revision)
    return revision_of(shelf, KEEPER) if shelf.keeper or shelf.marks_fault else newest(shelf)


def _wanted(sheet: Sheet, options: WeighOptions) -> Wanted:
    usual = told.wanted_by_page(sheet)
    if options.dough:
        return Wanted(dough=told.weight("dough", options.dough))
    if options.flour:
        return Wanted(flour=told.weight("flour", options.flour))
    if options.factor:
        return told.times_the_page(sheet, told.factor(options.factor))
    each = told.weight("each", options.each) if options.each else usual.each
    pieces = told.pieces(options.pieces) if options.pieces else usual.pieces
    if (options.pieces or options.baked) and each is None:
        raise told.CannotWeigh("each", "how heavy is a piece?", "Say it as --each 85g.")
    if (options.each or options.baked) and pieces is None:
        raise told.CannotWeigh("pieces", "how many pieces?", "Say it as --pieces 24.")
    if pieces is None or each is None:
        return usual
    return Wanted(pieces=pieces, each=each, baked=options.baked)


def _water(
    options: WeighOptions, sheet: Sheet, bowls: tuple[Bowl, ...], trials: tuple[Trial, ...], pantry: Pantry
) -> WaterAnswer | None:
    """The water's temperature where it was asked for, or where a temperature was told that is of use for nothing else.

    The room is of use for a schedule too.
    """
    typed = {
        "room": options.room,
        "flour": options.flour_temp,
        "preferment": options.preferment_temp,
        "target": options.target,
        "tap": options.tap,
    }
    timed = bool(options.ready or options.begin)
    for_water = [text for name, text in typed.items() if text and not (timed and name == "room")]
    if not (options.water or for_water or options.warming):
        return None
    degrees = {name: told.degrees(name, text) for name, text in typed.items() if text}
    if options.warming:
        degrees["warming"] = told.risen(options.warming)
    fahrenheit = any(told.in_fahrenheit(text) for text in (*typed.values(), options.warming))
    return water_answer(degrees, sheet, bowls, trials, pantry, fahrenheit=fahrenheit)


def _slots(sheet: Sheet, options: WeighOptions, pantry: Pantry, now: datetime) -> tuple[Slot, ...]:
    if not options.ready and not options.begin:
        return ()
    ready = told.moment("ready", options.ready, now) if options.ready else None
    if ready is not None and ready.astimezone(UTC) <= now.astimezone(UTC):
        raise told.CannotWeigh("ready", f"{options.ready} is past.", "Give a time that is still to come.")
    try:
        return schedule(
            sheet.formula,
            ready=ready,
            begin=told.moment("begin", options.begin, now) if options.begin else None,
            room=told.degrees("room", options.room) if options.room else None,
            parts=told.standing(sheet, pantry),
            yeasted=told.raised_by_yeast_alone(sheet, pantry),
        )
    except NoTimes:
        raise NoTimesKnown(sheet.formula.name) from None


def formulas_and_revision(words: Sequence[str]) -> tuple[tuple[str, ...], str]:
    """Formulas, and a revision where a single formula is followed by one.

    >>> formulas_and_revision(["market-roll", "r2"]), formulas_and_revision(["a-roll", "a-rye"])
    ((('market-roll',), 'r2'), (('a-roll', 'a-rye'), ''))
    """
    if len(words) == 2 and re.fullmatch(r"r\d.*|\d+|keeper", words[1]):
        return (words[0],), words[1]
    return tuple(words), ""
