"""What a filled-in box means: marks, temperatures, weights, days. Nothing is guessed; blank is not zero.

Each box becomes a part of `Heard`: what was told, what could not be read, what is kept word for word,
and what is so doubtful that the baker is asked to write it again.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.domain import benchline
from ovenleaf.domain.benchvalues import Field, show
from ovenleaf.domain.days import day
from ovenleaf.domain.ingredients import Kind
from ovenleaf.domain.numbers import NumberFault, number
from ovenleaf.domain.quantity import GRAMS_PER, AmountFault, Unit, amount, split_note, temperature
from ovenleaf.domain.revision import is_slug, place_of
from ovenleaf.domain.said import Said, in_words, together
from ovenleaf.domain.trial import Marks

if TYPE_CHECKING:
    from collections.abc import Callable
    from datetime import date

    from ovenleaf.domain.paper import Written
    from ovenleaf.domain.sheet import Sheet

NOTHING = Said()
_BLANK = re.compile(r"[-–—.]*")
_UNREAD_AS = {"trial": "its code", "core": "core temperature"}
_UNREADABLE = re.compile(r"(?i)\W*(?:unreadable|illegible|smudged|can(?:not|'?t| not) (?:be )?read|not readable)\W*")


@dataclass(frozen=True, slots=True, kw_only=True)
class Doubt:
    """Something on a line of the sheet that has to be written again: what it is, and how."""

    line: int
    about: str
    what: str
    how: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Heard:
    """What some boxes tell. `code` is a trial's code that was written down; `kept` holds (line, words)."""

    said: Said = NOTHING
    code: str = ""
    unread: tuple[str, ...] = ()
    kept: tuple[tuple[int, str], ...] = ()
    doubts: tuple[Doubt, ...] = ()


def heard_together(first: Heard, second: Heard) -> Heard:
    """Both, the second after the first."""
    return Heard(
        said=together(first.said, second.said),
        code=second.code or first.code,
        unread=first.unread + second.unread,
        kept=first.kept + second.kept,
        doubts=first.doubts + second.doubts,
    )


def is_blank(text: str) -> bool:
    """True where nothing was written, a dash at most."""
    return _BLANK.fullmatch(text) is not None


def is_unread(text: str) -> bool:
    """True for what its writer says cannot be read: `?`, `2?6`, `unreadable`.

    >>> is_unread("2?6 g"), is_unread("unreadable"), is_unread("236 g")
    (True, True, False)
    """
    return "?" in text or _UNREADABLE.fullmatch(text) is not None


@dataclass(frozen=True, slots=True, kw_only=True)
class Reader:
    """What a box is read by: the formula's sheet, the day it is, who tastes (`scored`: marks were given)."""

    sheet: Sheet
    today: date
    taster: str
    ounces: bool
    scored: bool

    def heard(self, box: Written) -> Heard:
        """What one box tells; of an empty one nothing."""
        if is_blank(box.text):
            return Heard()
        if is_unread(box.text) and box.name != "note":
            return Heard(unread=(_UNREAD_AS.get(box.name, box.name),), kept=_kept_partly(box))
        return _READ_AS[box.name](self, box)

    def _day(self, box: Written) -> Heard:
        meant = day(box.text, self.today)
        if meant is None:
            return _doubt(box, f"{box.text} is not a day", f"write it as {self.today.isoformat()}")
        return Heard(said=Said(bake_date=meant.isoformat()))

    def _baker(self, box: Written) -> Heard:
        name = box.text.lower()
        return Heard(said=Said(baker=name)) if is_slug(name) else _kept(box)

    def _code(self, box: Written) -> Heard:
        code = box.text.upper()
        return Heard(code=code) if place_of(code) is not None else _kept(box)

    def _oven(self, box: Written) -> Heard:
        """Which oven it was, or how hot: a heat belongs to the step in which it baked."""
        line = benchline.read(box.text if "oven" in box.text.lower() else f"oven {box.text}")
        heat = line.get("oven")
        if heat is None:
            return _asked_again(box, line.doubts) or Heard(said=Said(kitchen=(("oven", box.text),)))
        shown = show(Field(name="oven", value=heat)).replace("°", "")
        words = f"{line.words} oven" if re.search(r"(?i)\w oven\b", box.text) else line.words
        which = Said(kitchen=(("oven", words),)) if line.words else Said()
        return Heard(said=together(Said(steps=(("bake", shown),)), which))

    def _warmth(self, box: Written) -> Heard:
        """How warm the room and what goes in was; a flour's box may hold which flour it was instead."""
        try:
            return Heard(said=Said(kitchen=((box.name, str(temperature(box.text))),)))
        except AmountFault as fault:
            if fault.kind == "no scale":
                return _no_scale(box)
        flours = [item for item, kind in self.sheet.kinds if kind is Kind.FLOUR]
        if box.name == "flour" and len(flours) == 1:
            return Heard(said=Said(flours=((flours[0], box.text),)))
        return _kept(box)

    def _measured_warmth(self, box: Written) -> Heard:
        name = {"core": "core temperature"}.get(box.name, box.name)
        try:
            return Heard(said=Said(measured=((name, str(temperature(box.text))),)))
        except AmountFault as fault:
            return _no_scale(box) if fault.kind == "no scale" else _kept(box)

    def _pieces(self, box: Written) -> Heard:
        found = re.fullmatch(r"([1-9]\d*)(?: ?[a-z ]+)?", box.text.lower())
        return Heard(said=Said(measured=(("pieces", found[1]),))) if found else _kept(box)

    def _weight(self, box: Written) -> Heard:
        text, doubt = weight_in(box.text, box.name, box.line, ounces=self.ounces)
        if doubt:
            return Heard(doubts=(doubt,))
        return Heard(said=Said(measured=((box.name, text),))) if text else _kept(box)

    def _cooled(self, box: Written) -> Heard:
        line = benchline.read(box.text)
        time = line.get("time")
        if time is None or line.words:
            bare = re.fullmatch(r"\d+(?:[.,]\d+)?", box.text)
            return (
                _doubt(box, f"{box.text} has no unit", f"write {box.text} h or {box.text} min") if bare else _kept(box)
            )
        return Heard(said=Said(measured=((box.name, str(time)),)))

    def _mark(self, box: Written) -> Heard:
        said = in_words(f"{box.name} {box.text}", taster=self.taster, steps=(), flours=())
        if not said.marks or said.log:
            return _kept(box)
        return Heard(said=Said(marks=said.marks), doubts=tuple(_doubted(box, told) for told in said.doubts))

    def _hours(self, box: Written) -> Heard:
        try:
            hours = number(re.sub(r"(?i)\s*h(?:ours?|rs?)?$", "", box.text))
        except NumberFault:
            return _kept(box)
        return Heard(said=Said(marks=(Marks(taster=self.taster, hours_after=hours),)))

    def _note(self, box: Written) -> Heard:
        """What a taster says beside marks, or a line of the log."""
        told = Said(marks=(Marks(taster=self.taster, note=box.text),)) if self.scored else Said(log=(box.text,))
        return Heard(said=told)


_READ_AS: dict[str, Callable[[Reader, Written], Heard]] = {
    "bake date": Reader._day,
    "baker": Reader._baker,
    "trial": Reader._code,
    "oven": Reader._oven,
    "room": Reader._warmth,
    "flour": Reader._warmth,
    "water": Reader._warmth,
    "preferment": Reader._warmth,
    "dough temperature": Reader._measured_warmth,
    "core": Reader._measured_warmth,
    "pieces": Reader._pieces,
    "dough weight": Reader._weight,
    "baked weight": Reader._weight,
    "cooled": Reader._cooled,
    "crumb": Reader._mark,
    "crust": Reader._mark,
    "taster": lambda reader, box: Heard(),  # read ahead of the marks, which are under this name
    "hours after": Reader._hours,
    "note": Reader._note,
}


def weight_in(typed: str, about: str, line: int, *, ounces: bool) -> tuple[str, Doubt | None]:
    """A weight as a page has it, `236 g`; a bare figure is in g on a sheet in g. "" for what is no weight.

    On a sheet in ounces a bare figure is a doubt, since the scale may show either.
    """
    head, note = split_note(typed)
    try:
        read = amount(head, bare=None if ounces else Unit.G)
    except AmountFault as fault:
        if fault.kind != "no unit":
            return "", None
        return "", Doubt(line=line, about=about, what=f"{head} has no unit", how=f"write {head} g or {head} oz")
    if read.unit not in GRAMS_PER:
        return "", None
    return f"{read}, {note}" if note else str(read), None


def _kept(box: Written) -> Heard:
    return Heard(kept=((box.line, f"{box.name} {box.text}" if box.name != "note" else box.text),))


def _kept_partly(box: Written) -> tuple[tuple[int, str], ...]:
    """What can be made out of a box that cannot be read, if there is any of it."""
    return (
        ((box.line, f"{box.name} {box.text}"),)
        if re.search(r"[^\W_]", box.text.replace("?", "")) and "?" in box.text
        else ()
    )


def _no_scale(box: Written) -> Heard:
    return _doubt(box, f"{box.text} has no scale", f"write {box.text} C or {box.text} F")


def _doubt(box: Written, what: str, how: str) -> Heard:
    return Heard(doubts=(Doubt(line=box.line, about=box.name, what=what, how=how),))


def _asked_again(box: Written, doubts: tuple[str, ...]) -> Heard | None:
    return Heard(doubts=tuple(_doubted(box, told) for told in doubts)) if doubts else None


def _doubted(box: Written, told: str) -> Doubt:
    """A doubt of the bench line's, `dough 25 has no scale; write 25 C or 77 F`, in its two halves."""
    what, _, how = told.partition("; ")
    return Doubt(line=box.line, about=box.name, what=what, how=how or "write it again")
