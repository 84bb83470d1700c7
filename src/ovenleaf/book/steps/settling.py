"""What a value put right is to be on the page: with its unit, on its scale, a code that is there."""

from __future__ import annotations

import re
from datetime import datetime
from typing import TYPE_CHECKING

from ovenleaf.book.steps.correcting import WEIGHTS, CannotCorrect
from ovenleaf.book.steps.shelf import revision_of
from ovenleaf.book.steps.telling import spaced
from ovenleaf.domain.benchline import read as read_line
from ovenleaf.domain.numbers import NumberFault, number, plain
from ovenleaf.domain.putting_right import folded
from ovenleaf.domain.quantity import AmountFault, amount, split_note
from ovenleaf.domain.trial import ATTRIBUTES, State
from ovenleaf.errors import Next
from ovenleaf.records.codec.editing import line_with_field

if TYPE_CHECKING:
    from collections.abc import Collection

    from ovenleaf.book.steps.shelf import Shelf
    from ovenleaf.domain.putting_right import Change
    from ovenleaf.domain.trial import Trial

_BARE = re.compile(r"-?[\d.,]+")
_GLUED = re.compile(r"(?<=\d)(?=[a-z°])", re.IGNORECASE)
_UNITLESS = ("pieces", "ph")
_TRUTH = {"yes": "true", "true": "true", "no": "false", "false": "false"}


def settled(change: Change, trial: Trial, shelf: Shelf, codes: Collection[str], at: datetime) -> str:
    """The value as the page is to hold it, with its unit apart. Raises CannotCorrect, UnknownRevision."""
    value = change.value
    match change.block:
        case _ if not value:
            return _taken_away(change)
        case "weighed":
            return _with_unit(change)
        case "scores":
            return _mark(change)
        case "steps":
            return _step(change)
        case "kitchen" | "measured":
            return _measured(change)
        case "revision":
            return str(revision_of(shelf, value).name)
        case "state":
            return _state(change)
        case "shares_dough_with":
            return _code(change, trial, codes)
        case "started":
            return _moment(change, at)
    return value


_ALWAYS = ("revision", "state", "bake_date", "baker")


def _taken_away(change: Change) -> str:
    if change.field in _ALWAYS:
        raise CannotCorrect(change.typed, f"a trial always has a {folded(change.field)}.", "Say what it should be.")
    return ""


def _with_unit(change: Change) -> str:
    """A weight, whose unit must be said: 10 could be grams or ounces."""
    head, _ = split_note(change.value)
    try:
        amount(head)
    except AmountFault as fault:
        if fault.kind == "no unit":
            raise _no_unit(change, f"{head}g") from None
        raise CannotCorrect(change.typed, f"{change.value} is not a weight.", f"As in {change.field}=396g") from None
    return spaced(change.value)


def _no_unit(change: Change, example: str) -> CannotCorrect:
    word = f"{change.field}={example}"
    shown = f'"{word}"' if " " in word else word
    return CannotCorrect(change.typed, f"{change.typed} has no unit.", f"Write it as in {shown}")


def _mark(change: Change) -> str:
    mark = change.rest.rpartition(".")[2]
    if ".faults." in change.rest or mark == "note":
        return change.value
    if mark in ("bake_again", "blind"):
        if change.value.lower() not in _TRUTH:
            raise CannotCorrect(change.typed, f"{folded(mark)} is yes or no.", f"As in {change.field}=yes")
        return _TRUTH[change.value.lower()]
    if mark in ATTRIBUTES and "/" in change.value and " " not in change.value:
        raise CannotCorrect(
            change.typed, f"{change.value} is a mark out of something.", f"Give the mark alone, as in {change.field}=7"
        )
    try:
        return plain(number(change.value.removesuffix("h").strip() if mark == "hours_after" else change.value))
    except NumberFault:
        raise CannotCorrect(change.typed, f"{change.value} is not a mark.", f"As in {change.field}=7") from None


def _step(change: Change) -> str:
    """A step's line, or one field of it, that the bench line reads as what it is meant for."""
    field = change.rest.rpartition(".")[2] if "." in change.rest else ""
    line = read_line(line_with_field("", field, change.value) if field else change.value)
    if field and (line.doubts or line.get(field) is None):
        about = "scale" if "temperature" in field or field == "core" else "unit"
        what = f"{change.typed} has no {about}" if _BARE.fullmatch(change.value) else f"{change.value} is no {field}"
        raise CannotCorrect(change.typed, f"{what}.", 'As in steps.bulk.time="58 min" or steps.bake.temperature=230C')
    return _GLUED.sub(" ", change.value) if field else change.value


def _measured(change: Change) -> str:
    if change.rest in WEIGHTS:
        return _with_unit(change)
    if _BARE.fullmatch(change.value) and change.rest.lower() not in _UNITLESS and not _is_heat(change):
        raise _no_unit(change, f"{change.value}mm" if change.rest in ("height", "width") else f"{change.value}...")
    return _GLUED.sub(" ", change.value)


def _is_heat(change: Change) -> bool:
    """A temperature without its scale is refused in its own words."""
    return "temperature" in change.rest or change.rest == "room"


def _state(change: Change) -> str:
    if change.value.lower() not in list(State):
        raise CannotCorrect(change.typed, f"a trial cannot be {change.value}.", f"It can be {', '.join(State)}.")
    return change.value.lower()


def _code(change: Change, trial: Trial, codes: Collection[str]) -> str:
    code = change.value.upper()
    if code not in codes or code == trial.code:
        what = "a dough is not shared with itself." if code == trial.code else f"there is no trial {change.value}."
        raise CannotCorrect(change.typed, what, next=(Next("ovenleaf list", "the last trials and their codes"),))
    return code


def _moment(change: Change, at: datetime) -> str:
    try:
        moment = datetime.fromisoformat(change.value)
    except ValueError:
        raise CannotCorrect(
            change.typed, f"{change.value} is not a day and a clock time.", f"As in started={at:%Y-%m-%dT%H:%M}"
        ) from None
    moment = moment if moment.tzinfo else moment.replace(tzinfo=at.tzinfo)
    if moment > at:
        raise CannotCorrect(change.typed, f"{change.value} is still to come.")
    return moment.isoformat(timespec="seconds")
