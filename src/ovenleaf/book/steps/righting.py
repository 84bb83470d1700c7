"""A trial's page with values put right: each change settled, on the page, and named among its corrections."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.book.steps.bakes import read_trials
from ovenleaf.book.steps.correcting import CannotCorrect, check_value, field_names, named
from ovenleaf.book.steps.settling import settled
from ovenleaf.book.steps.sheets import kept_sheet
from ovenleaf.book.steps.shelf import revision_of
from ovenleaf.domain.late_marks import late_line
from ovenleaf.domain.putting_right import ChangeFault, change
from ovenleaf.domain.trial import ATTRIBUTES, Correction, Trial
from ovenleaf.domain.trial_facts import value_of
from ovenleaf.errors import Next, Refusal
from ovenleaf.records.codec.correcting import with_value_of
from ovenleaf.records.codec.editing import StepWrittenOut
from ovenleaf.records.codec.trial_edits import with_correction, with_field, with_line

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import datetime

    from ovenleaf.book.steps.opening import OpenBook
    from ovenleaf.book.steps.shelf import Shelf
    from ovenleaf.book.steps.signing import Stamp
    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.putting_right import Change
    from ovenleaf.records.nodes import Page


class RightAlready(Refusal):
    """The trial says that already. Facts: `code`, `field`, `value`."""

    def __init__(self, code: str, field: str, value: str) -> None:
        said = f"{field} is {value} already" if value else f"{field} is not recorded as it is"
        super().__init__(
            f"Nothing to put right: in trial {code}, {said}.",
            next=(Next(f"ovenleaf show {code}", "what it records"),),
        )
        self.code = code
        self.field = field
        self.value = value


@dataclass(frozen=True, slots=True, kw_only=True)
class Settled:
    """One change with the value as the page is to hold it, and what stood there before, "" for nothing."""

    change: Change
    was: str
    now: str


def settle(
    book: OpenBook, trial: Trial, shelf: Shelf, changes: Sequence[str], pantry: Pantry, at: datetime
) -> tuple[Settled, ...]:
    """Each change under its field's full name with its value. Raises what `named` and `settled` do, RightAlready."""
    sheet = kept_sheet(shelf, revision_of(shelf, trial.revision), pantry)
    names = field_names(trial, sheet)
    codes = {one.code for one in read_trials(book.root)[0]}
    found: dict[str, Settled] = {}
    for typed in changes:
        one = named(_read(typed), trial, names)
        if one.field in found:
            raise CannotCorrect(typed, f"{one.field} is told twice.", "Say it once.")
        was, now = value_of(trial, one.field), settled(one, trial, shelf, codes, at)
        check_value(one, now, trial, book.page, at.date())
        if _alike(was, now):
            raise RightAlready(trial.code, one.field, was)
        found[one.field] = Settled(change=one, was=was, now=now)
    return tuple(found.values())


def _read(typed: str) -> Change:
    try:
        return change(typed)
    except ChangeFault:
        raise CannotCorrect(
            typed, f"{typed} does not say what should be what.", "Say it as FIELD=VALUE, as in weighed.salt=10g"
        ) from None


def _alike(was: str, now: str) -> bool:
    return was.replace(" ", "").lower() == now.replace(" ", "").lower()


def parted(
    work: tuple[Settled, ...], stamp: Stamp, why: str
) -> tuple[tuple[Correction, ...], tuple[tuple[str, str], ...]]:
    """What is put right, and what is only added since it was not recorded."""
    corrections = tuple(
        Correction(field=one.change.field, was=one.was, now=one.now, by=stamp.by, at=stamp.saved, why=why)
        for one in work
        if one.was
    )
    return corrections, tuple((one.change.field, one.now) for one in work if not one.was)


def _late(field: str, value: str, stamp: Stamp) -> str:
    """The line of the log for what was not recorded before."""
    block, _, name = field.partition(".")
    taster, _, attribute = name.rpartition(".")
    if block == "scores" and attribute in ATTRIBUTES:
        return late_line(stamp.at, ((attribute, value),), taster, stamp.by)
    return f"{stamp.saved} {name or field} {value}, added by {stamp.by}"


def righted_page(
    page: Page,
    work: tuple[Settled, ...],
    shelf: Shelf,
    corrections: tuple[Correction, ...],
    added: tuple[tuple[str, str], ...],
    stamp: Stamp,
) -> Page:
    """The page with every value as it should be, what was added late in the log, and the corrections named."""
    for one in work:
        try:
            page = with_value_of(page, one.change.field, one.now)
        except StepWrittenOut as fault:
            raise CannotCorrect(
                one.change.typed,
                f"the fields of {fault.step} stand one by one on the page.",
                f"Name the field, as in steps.{fault.step}.time=...",
            ) from None
        if one.change.field == "revision":
            page = with_field(page, ("pin",), revision_of(shelf, one.now).pin)
    for field, value in added:
        page = with_line(page, ("log",), _late(field, value, stamp))
    for made in corrections:
        page = with_correction(page, made)
    return page
