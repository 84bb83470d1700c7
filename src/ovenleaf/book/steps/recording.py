"""Look over what a baker tells of a bake before it is written down; nothing doubtful gets in unseen."""

from __future__ import annotations

import difflib
import re
from datetime import date, datetime
from typing import TYPE_CHECKING

from ovenleaf.domain import benchline
from ovenleaf.domain.batch import flour_in_batch
from ovenleaf.domain.benchparts import in_two_ways
from ovenleaf.domain.benchvalues import Heat
from ovenleaf.domain.heats import heat_words, out_of_reach
from ovenleaf.domain.numbers import plain
from ovenleaf.domain.quantity import (
    GRAMS_PER,
    Amount,
    AmountFault,
    Temperature,
    Unit,
    amount,
    split_note,
    temperature,
)
from ovenleaf.domain.revision import is_slug
from ovenleaf.domain.said import Said
from ovenleaf.domain.scaling import FINAL
from ovenleaf.errors import Next, Refusal
from ovenleaf.records.codec.amounts import amount_words
from ovenleaf.records.codec.trials import read_told
from ovenleaf.records.page_bytes import decode
from ovenleaf.records.yaml_text import read

if TYPE_CHECKING:
    from decimal import Decimal

    from ovenleaf.domain.book import BookPage
    from ovenleaf.domain.sheet import Sheet
    from ovenleaf.domain.trial import Marks, Trial


EARLIEST = 1900  # the year; a day before it is a slip of the hand
_SCALE = ("A temperature needs its scale, as in 24C or 75F.",)


class CannotRecord(Refusal):
    """What was told of a bake cannot be written down so. Facts: `about`, the thing that was told; `reason`."""

    def __init__(self, about: str, what: str, *detail: str, next: tuple[Next, ...] = ()) -> None:
        super().__init__(f"Not recorded: {what}", detail=detail, next=next)
        self.about = about
        self.reason = what


def said_on_page(data: bytes, source: str) -> tuple[Said, Trial]:
    """What a typed-up page tells, and the page as far as it names formula and revision."""
    trial = read_told(read(decode(data, source), path=source))
    return (
        Said(
            bake_date=trial.bake_date,
            started=trial.started,
            baker=trial.baker,
            batch=trial.batch,
            question=trial.question,
            weighed=trial.weighed,
            as_planned=trial.as_planned,
            flours=trial.flours,
            kitchen=trial.kitchen,
            steps=tuple((step.name, step.line.typed) for step in trial.steps),
            measured=trial.measured,
            marks=trial.scores,
            log=trial.log,
            left_out=trial.left_out,
            plan=trial.plan,
        ),
        trial,
    )


def check_said(said: Said, sheet: Sheet, book: BookPage, today: date) -> None:
    """Raise CannotRecord for the first thing that cannot be so."""
    for doubt in said.doubts:
        raise CannotRecord(doubt, f"{doubt}.", *(_SCALE if "no scale" in doubt else ()))
    check_day(said.bake_date, today)
    if said.baker and not is_slug(said.baker):
        raise CannotRecord("baker", f"{said.baker} cannot be a baker's name.", "Small letters, as in tomas.")
    _check_batch(said, sheet)
    _check_weighed(said, sheet)
    _check_steps(said)
    _check_measured(said)
    for marks in said.marks:
        check_marks(marks, book)


def check_day(typed: str, today: date) -> None:
    """Raise CannotRecord for a day that is none, or is still to come."""
    if not typed:
        return
    try:
        day = date.fromisoformat(typed)
    except ValueError:
        day = None
    if day is None or day.isoformat() != typed:
        raise CannotRecord("bake_date", f"{typed} is not a day.", f"Write it as {today.isoformat()}.")
    if day > today:
        raise CannotRecord(
            "bake_date", f"{typed} is still to come; today is {today.isoformat()}.", "Record it when it is baked."
        )
    if day.year < EARLIEST:
        raise CannotRecord("bake_date", f"{typed} is too long ago.", f"Write it as {today.isoformat()}.")


def begun_at(typed: str, at: datetime, day: str) -> datetime | None:
    """When a dough was begun: a day and a clock time, or a clock time alone on the day of baking; None if not told.

    Raises CannotRecord for what is no time, or still to come, or after the day of baking.
    """
    if not typed:
        return None
    try:
        moment = datetime.fromisoformat(f"{day}T{typed.zfill(5)}" if ":" in typed[:3] else typed)
    except ValueError:
        example = f"As in --begun {at:%H:%M} or --begun {at:%Y-%m-%dT%H:%M}"
        raise CannotRecord("started", f"{typed} is not a time.", example) from None
    moment = moment if moment.tzinfo else moment.replace(tzinfo=at.tzinfo)
    if moment > at:
        raise CannotRecord("started", f"{typed} is still to come.", "Say when the dough was begun.")
    if moment.date().isoformat() > day:
        raise CannotRecord("started", f"begun at {typed}, it would be baked before that, on {day}.")
    return moment


def check_marks(marks: Marks, book: BookPage, of: str = "this book") -> None:
    """Raise CannotRecord for a mark that is off the scale, or out of another; `of` says whose scale it is."""
    if (other := book.scale.another(marks.out_of)) is not None:
        raise CannotRecord(
            "scale",
            f"a mark out of {plain(other)} is on another scale; that of {of} is {book.scale}.",
            f"Give a mark from {book.scale}, as in 7.",
        )
    for attribute in ("crumb", "crust", "flavour"):
        mark: Decimal | None = getattr(marks, attribute)
        if mark is not None and not book.scale.low <= mark <= book.scale.high:
            top = f"; {book.scale.high} means: {book.top}" if book.top else ""
            raise CannotRecord(
                attribute,
                f"{attribute} {mark} is off the scale of {of}, {book.scale}.",
                f"Give a mark from {book.scale}{top}.",
            )
    if marks.hours_after is not None and marks.hours_after < 0:
        raise CannotRecord(
            "hours_after", f"{marks.hours_after} h after baking is before it.", "Say it as in --hours-after 3"
        )


def _check_batch(said: Said, sheet: Sheet) -> None:
    if said.batch and not flour_in_batch(said.batch, sheet.worked):
        raise CannotRecord(
            "batch",
            f"how big a batch {said.batch} is cannot be told.",
            "Say it as 600 g flour, 1020 g dough, or 12 rolls of 85 g.",
        )


def _check_weighed(said: Said, sheet: Sheet) -> None:
    known = tuple(item for item, _ in sheet.kinds)
    inner = {part.name: tuple(line.item for line in part.lines) for part in sheet.worked.parts}
    inner[FINAL] = tuple(share.item for share in sheet.worked.final)
    for name, text in said.weighed:
        bowl, _, item = name.rpartition(":")
        if bowl and bowl not in inner:
            raise CannotRecord("weighed", *_no_part(bowl, tuple(inner), sheet))
        items = inner[bowl] if bowl else known
        if item not in items:
            raise CannotRecord("weighed", *_not_in(item, items, sheet, bowl))
        check_weight(item, text)


def _no_part(bowl: str, parts: tuple[str, ...], sheet: Sheet) -> tuple[str, str]:
    near = difflib.get_close_matches(bowl, parts, n=1, cutoff=0.6)
    mean = f" Did you mean {near[0]}?" if near else ""
    return f"{sheet.formula.label} has no part called {bowl}.{mean}", f"Its parts: {', '.join(parts) or 'none'}."


def _not_in(item: str, items: tuple[str, ...], sheet: Sheet, bowl: str) -> tuple[str, str]:
    near = difflib.get_close_matches(item, items, n=1, cutoff=0.6)
    sharing = [known for known in items if item in known.split()]
    guess = near or sharing
    where = bowl or sheet.formula.label
    mean = f" Did you mean {guess[0]}?" if guess else ""
    return f"{where} has no {item}.{mean}", f"Its ingredients: {', '.join(items) or 'none'}."


def check_weight(item: str, text: str) -> None:
    """Raise CannotRecord for what is no weighed amount."""
    head, note = split_note(text)
    if note[:1].isdigit() and head[-1:].isdigit():
        raise CannotRecord("weighed", *amount_words(item, AmountFault(head, "no unit"), note))
    try:
        read_amount = amount(head, bare=Unit.G)
    except AmountFault as fault:
        raise CannotRecord("weighed", *amount_words(item, fault, note)) from None
    if doubt := in_two_ways(head):
        raise CannotRecord("weighed", f"{item}: {doubt}.")
    if read_amount.is_share:
        raise CannotRecord("weighed", f"{item}: {text} is a share; what was weighed is a weight.", "As in 396 g.")


def _check_steps(said: Said) -> None:
    for name, text in said.steps:
        line = benchline.read(text)
        for doubt in line.doubts:
            raise CannotRecord("steps", f"{name}: {doubt}.")
        for field in line.fields:
            if isinstance(field.value, Heat | Temperature):
                _check_reach("steps", field.name, field.value, name)


def _check_measured(said: Said) -> None:
    measured = dict(said.measured)
    for name in ("dough temperature", "core temperature"):
        if text := measured.get(name):
            _check_temperature(name, text)
    if room := dict(said.kitchen).get("room"):
        _check_temperature("room", room)
    if (pieces := measured.get("pieces")) and not _is_count(pieces):
        raise CannotRecord("pieces", f"pieces: {pieces} is not a number of pieces.", "Write it as in pieces=12.")
    weights = {name: _weight(name, measured[name]) for name in ("dough weight", "baked weight") if name in measured}
    if len(weights) == 2 and weights["baked weight"] > weights["dough weight"]:
        raise CannotRecord(
            "baked weight",
            f"the bread, {measured['baked weight']}, would weigh more than its dough, {measured['dough weight']}.",
            "Weigh again, or leave one of the two out.",
        )


def _weight(name: str, text: str) -> Decimal:
    check_weight(name, text)
    read_amount: Amount = amount(split_note(text)[0], bare=Unit.G)
    if read_amount.unit not in GRAMS_PER:
        raise CannotRecord(name, f"{name}: {text} is not a weight.", "As in 884 g.")
    if not read_amount.value:
        raise CannotRecord(name, f"{name}: {text} is no weight.", "Leave it out if it was not weighed.")
    return read_amount.value * GRAMS_PER[read_amount.unit]


def _is_count(text: str) -> bool:
    """True for a number of pieces, above nothing; a word such as rolls may stand behind it."""
    found = re.match(r"\d+(?![.,]?\d)", text)
    return found is not None and int(found[0]) > 0


def _check_temperature(name: str, text: str) -> None:
    """A number without a scale is refused: 24 could be either."""
    heat = benchline.read(text).get("temperature")
    try:
        _check_reach(name, name, heat if isinstance(heat, Heat) else temperature(text))
    except AmountFault as fault:
        if fault.kind == "no scale":
            raise CannotRecord(
                name, f"{name} {text} has no scale: is it °C or °F?", f"Write {text}C or {text}F."
            ) from None
        raise CannotRecord(name, f"{name}: {text} is not a temperature.", "Write it as 24C, 24.5 C or 76F.") from None


def _check_reach(about: str, name: str, value: Heat | Temperature, step: str = "") -> None:
    """A heat that no thermometer in a bakery shows is refused, with the slip it probably was."""
    for degrees in value.temperatures if isinstance(value, Heat) else (value,):
        probably = out_of_reach(name, degrees)
        if probably is not None:
            hint = "Say it again as it was, or leave it out."
            raise CannotRecord(
                about, f"{heat_words(name, degrees, step)} is out of reach of a bakery.", f"{probably} {hint}".lstrip()
            )
