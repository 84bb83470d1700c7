"""Take a typed formula page in: as revision 1, or as the next revision of a formula that is there."""

from __future__ import annotations

import shlex
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.book.steps.handing_in import page_bytes
from ovenleaf.book.steps.keeping import Checked, DoesNotComeOut, WhyWanted, check_page, keep_as_next
from ovenleaf.book.steps.opening import open_book, open_pantry, settle_baker
from ovenleaf.book.steps.questioning import ask_back
from ovenleaf.book.steps.remarks import refuse_unsaved
from ovenleaf.book.steps.sheets import kept_sheet
from ovenleaf.book.steps.shelf import Shelf, newest, refuse_draft, shelf_of, spoken
from ovenleaf.book.steps.signing import Stamp, put
from ovenleaf.compare.formula_diff import compare
from ovenleaf.compare.headline import headline
from ovenleaf.domain.faults import FlourSum
from ovenleaf.domain.formula import same_content
from ovenleaf.domain.readings import Reading, two_readings
from ovenleaf.domain.revision import is_slug, slug_of
from ovenleaf.domain.sheet import sheet
from ovenleaf.errors import Next, PageRefused, Place, Refusal
from ovenleaf.records.codec.editing import with_amount
from ovenleaf.records.codec.formulas import formula_name_on
from ovenleaf.records.nodes import line_of
from ovenleaf.records.page_bytes import decode
from ovenleaf.records.page_fault import line_text
from ovenleaf.records.wording import share_text
from ovenleaf.records.yaml_text import read
from ovenleaf.results import Entered

if TYPE_CHECKING:
    from collections.abc import Collection
    from datetime import datetime
    from pathlib import Path

    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.records.nodes import Page

__all__ = ["STANDARD_INPUT", "Typed", "enter", "page_bytes"]

NOT_ENTERED = "Not entered"
STANDARD_INPUT = "what was typed in"


@dataclass(frozen=True, slots=True, kw_only=True)
class Typed:
    """What was handed in: the bytes, and the name of the file as the baker knows it."""

    data: bytes
    source: str


class NoName(Refusal):
    """The page does not say which formula it is. Fact: `said`."""

    def __init__(self, said: str, page: Page) -> None:
        about = f"{said} cannot be the name of a formula." if said else "the page does not say its formula's name."
        near = slug_of(said) if is_slug(slug_of(said)) else "market-roll"
        such = "" if near == slug_of(said) else "such as "
        line = line_of(page, ("formula",)) if said else None
        super().__init__(
            f"{NOT_ENTERED}: {about}",
            where=Place(page.path, line, line_text(page.text, line) if line else ""),
            detail=(f"Write a line {such}formula: {near} (small letters, figures, hyphens).",),
        )
        self.said = said


class NothingNew(Refusal):
    """The page says what the newest revision says already. Fact: `formula`."""

    def __init__(self, formula: str, spoken: str) -> None:
        super().__init__(
            f"Nothing to enter: this is what {spoken} of {formula} says already.",
            next=(Next(f"ovenleaf show {formula}"),),
        )
        self.formula = formula


def enter(
    given: Path | None,
    start: Path,
    typed: Typed,
    *,
    why: str,
    baker: str,
    at: datetime,
    preview: bool = False,
    reading: str = "",
    new: Collection[str] = (),
    meant: str = "",
) -> Entered:
    """Check a page whole and keep it as the next revision of its formula.

    `reading` (`on-top` or `counted-in`) settles what 100 % of flour beside a culture means; `new`
    names ingredients that are meant although a known one is spelled nearly so.
    """
    book = open_book(given, start)
    who = settle_baker(book.root, baker)
    pantry = open_pantry(book.root)
    page = read(decode(typed.data, typed.source), path=typed.source)
    name = _name_of(page, typed.source)
    shelf = shelf_of(book.root, name)
    refuse_draft(shelf)
    checked = _check(page, name, pantry, reading, frozenset(new))
    stamp = Stamp(by=who, at=at, verb="enter", preview=preview)
    if not shelf.in_force:
        return _first(book.root, shelf, checked, stamp, why, pantry, meant)
    return _as_next(book.root, shelf, checked, stamp, why, pantry, meant)


def _name_of(page: Page, source: str) -> str:
    said = formula_name_on(page)
    stem = source.rsplit("/", 1)[-1].rsplit("\\", 1)[-1].removesuffix(".yaml").removesuffix(".yml")
    name = said or ("" if source == STANDARD_INPUT else slug_of(stem))
    if not is_slug(name):
        raise NoName(said, page)
    return name


def _check(page: Page, name: str, pantry: Pantry, reading: str, new: frozenset[str]) -> Checked:
    try:
        return check_page(page, name, pantry, NOT_ENTERED, new=new)
    except DoesNotComeOut as refusal:
        fault = refusal.fault
        readings = two_readings(dict(fault.masses), pantry) if isinstance(fault, FlourSum) else ()
        chosen = next((one for one in readings if one.name == reading), None)
        if chosen is not None:
            return check_page(_with_shares(page, fault.path, chosen), name, pantry, NOT_ENTERED, new=new)
        if readings:
            command = _command(page.path)
            commands = [Next(f"{command} --levain {one.name}", _MEANS[one.name]) for one in readings]
            raise PageRefused(refusal.what, refusal.findings, next=commands) from None
        raise


def _command(source: str) -> str:
    """The command that hands the same page in again."""
    return f"ovenleaf enter {'-' if source == STANDARD_INPUT else shlex.quote(source)}"


_MEANS = {"on-top": "the culture comes on top of the 100 %", "counted-in": "the 100 % counts what is in it"}


def _with_shares(page: Page, block: tuple[str, ...], chosen: Reading) -> Page:
    """The page with the lines of the reading that was chosen in the block that did not come out; notes stay."""
    for item, share in chosen.lines:
        page = with_amount(page, (*block, item), share_text(share))
    return page


def _first(root: Path, shelf: Shelf, checked: Checked, stamp: Stamp, why: str, pantry: Pantry, meant: str) -> Entered:
    keep = keep_as_next(shelf, checked, stamp, why=why or checked.formula.why, made_from=())
    line = f"{shelf.name} {keep.revision}: a new formula"
    on = sheet(keep.formula, checked.worked, pantry, keep.revision)
    asked = ask_back(root, shelf.name, on, None, stamp, meant)
    pages, expect = keep.pages | asked.pages, keep.expect | asked.expect
    ahead = put(root, pages, stamp, line, keep.formula.why, expect=expect)
    return Entered(sheet=on, slips=asked.slips, ahead=ahead)


def _as_next(root: Path, shelf: Shelf, checked: Checked, stamp: Stamp, why: str, pantry: Pantry, meant: str) -> Entered:
    refuse_unsaved(root, shelf)
    before = newest(shelf)
    if same_content(before.formula(), checked.formula):
        raise NothingNew(shelf.name, spoken(shelf.names, before.name))
    why = why or (checked.formula.why if checked.formula.why != before.formula().why else "")
    if not why:
        raise WhyWanted(shelf.name, _command(checked.page.path))
    keep = keep_as_next(shelf, checked, stamp, why=why, made_from=(str(before.name),))
    after = sheet(keep.formula, checked.worked, pantry, keep.revision)
    old = kept_sheet(shelf, before, pantry)
    diff = compare(old, after, pantry)
    asked = ask_back(root, shelf.name, after, old, stamp, meant)
    line = f"{shelf.name} {keep.revision}: {headline(diff)}"
    ahead = put(root, keep.pages | asked.pages, stamp, line, why, expect=keep.expect | asked.expect)
    made_from = spoken(shelf.names, before.name)
    return Entered(sheet=after, diff=diff, before=made_from, slips=asked.slips, ahead=ahead)
