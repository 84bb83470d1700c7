"""What comes in from the tasters of a blind tasting, by three-digit code; and a tasting to look at.

When all is in the key is laid open, and the marks go to the trials they were given to, marked blind.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book import layout
from ovenleaf.book.steps.bakes import find_trial
from ovenleaf.book.steps.bakes import page_of as trial_page_of
from ovenleaf.book.steps.hand_edits import refuse_edited
from ovenleaf.book.steps.opening import OpenBook, open_book, settle_baker, working_page
from ovenleaf.book.steps.signing import Stamp, put
from ovenleaf.book.steps.taking_down import (
    NotTold,
    awaited,
    check_plate,
    corrections_of,
    marks_told,
    whom_to_leave_out,
)
from ovenleaf.book.steps.tasting import settle_taster
from ovenleaf.book.steps.tastings import breads_of, find_tasting, key_of, page_of, said_of, tasting_with
from ovenleaf.book.steps.telling import MarkOptions
from ovenleaf.domain.late_marks import late_lines
from ovenleaf.errors import Next
from ovenleaf.evidence.tasting import come_out, marks_by_bread
from ovenleaf.records.codec.scoring import with_marks
from ovenleaf.records.codec.tastings import opened, read_tasting, with_absent, with_correction, with_told
from ovenleaf.records.yaml_text import read
from ovenleaf.results import TastingSetUp, TastingShown, TastingTold

if TYPE_CHECKING:
    from datetime import datetime
    from pathlib import Path

    from ovenleaf.domain.tasting import Tasting
    from ovenleaf.records.nodes import Page

__all__ = ["MarkOptions", "TastingShown", "TastingTold", "absent", "labels", "open_now", "shown", "told"]


def shown(given: Path | None, start: Path, name: str = "") -> TastingShown:
    """A tasting by its name or its day; where none is named the one under way, else the last."""
    book = open_book(given, start)
    return _shown(book, find_tasting(book.root, name))


def labels(given: Path | None, start: Path, name: str = "") -> TastingSetUp:
    """A tasting with its key, for the sheets, and for the list of whoever cuts and serves."""
    book = open_book(given, start)
    tasting = find_tasting(book.root, name)
    aims, allergens = said_of(book.root, tasting.breads)
    return TastingSetUp(shown=_shown(book, tasting), key=key_of(tasting), aims=aims, allergens=allergens)


def told(
    given: Path | None,
    start: Path,
    code: str,
    words: str,
    options: MarkOptions,
    *,
    odd: bool = False,
    taster: str = "",
    why: str = "",
    baker: str,
    at: datetime,
    preview: bool = False,
) -> TastingTold:
    """What a taster says of the bread under a code: marks, or (`odd`) that it is the odd one of the three.

    A mark that was told already changes only with `why`. The last of all opens the tasting.
    """
    book = open_book(given, start)
    who = settle_baker(book.root, baker)
    tasting = tasting_with(book.root, code)
    name = settle_taster(book.root, book.page, taster, who)
    check_plate(tasting, name, code)
    marks = marks_told(tasting, name, code, words, options, book.page, odd=odd)
    stamp = Stamp(by=who, at=at, verb="taste", preview=preview)
    before, page = _read(book, page_of(tasting.name))
    corrections = corrections_of(tasting, name, code, marks, why, stamp)
    page = with_told(page, name, code, marks)
    for made in corrections:
        page = with_correction(page, made)
    subject = f"tasting {tasting.name}: {name} on {code}"
    shown_now, kept, ahead = _keep(book, before, page, stamp, subject, why)
    return TastingTold(
        shown=shown_now, taster=name, code=code, marks=marks, corrected=bool(corrections), kept=kept, ahead=ahead
    )


def absent(
    given: Path | None,
    start: Path,
    taster: str,
    *,
    name: str = "",
    why: str,
    baker: str,
    at: datetime,
    preview: bool = False,
) -> TastingTold:
    """Nothing (more) will come from a taster: the tasting does not wait, and marks that came in still count."""
    book = open_book(given, start)
    who = settle_baker(book.root, baker)
    tasting = _under_way(book, name)
    if taster not in dict(tasting.still_to_come):
        raise NotTold(
            "taster",
            f"Nothing is awaited from {taster}.",
            *awaited(tasting),
            next=(Next(f"ovenleaf taste {tasting.name}", "what has come in and what is awaited"),),
        )
    if not why:
        command = f"ovenleaf taste --absent {taster}"
        raise NotTold("why", f"Why will nothing come from {taster}?", next=(Next(f'{command} --why "had to leave"'),))
    stamp = Stamp(by=who, at=at, verb="taste", preview=preview)
    before, page = _read(book, page_of(tasting.name))
    page = with_absent(page, taster, why)
    shown_now, kept, ahead = _keep(book, before, page, stamp, f"tasting {tasting.name}: nothing from {taster}", why)
    return TastingTold(shown=shown_now, taster=taster, why_absent=why, kept=kept, ahead=ahead)


def open_now(
    given: Path | None, start: Path, *, name: str = "", baker: str, at: datetime, preview: bool = False
) -> TastingTold:
    """Open a tasting in which every plate was told but some marks are blank, and will stay so."""
    book = open_book(given, start)
    who = settle_baker(book.root, baker)
    tasting = _under_way(book, name)
    if tasting.still_to_come:
        raise NotTold(
            "open",
            f"Tasting {tasting.name} is not all in yet, and opened it would be blind no more.",
            *awaited(tasting),
            next=(whom_to_leave_out(tasting),),
        )
    stamp = Stamp(by=who, at=at, verb="taste", preview=preview)
    before, page = _read(book, page_of(tasting.name))
    shown_now, kept, ahead = _keep(
        book, before, page, stamp, f"tasting {tasting.name}: opened ({who})", "", blanks=True
    )
    return TastingTold(shown=shown_now, kept=kept, ahead=ahead)


def _under_way(book: OpenBook, name: str) -> Tasting:
    tasting = find_tasting(book.root, name)
    if tasting.is_open:
        raise NotTold(
            "open", f"Tasting {tasting.name} is open already.", next=(Next(f"ovenleaf taste {tasting.name}", "see it"),)
        )
    return tasting


def _read(book: OpenBook, path: str) -> tuple[bytes, Page]:
    """A page and the bytes it is expected to hold still when it is written."""
    return layout.read_page(book.root, path), working_page(book.root, path)


def _keep(
    book: OpenBook, before: bytes, page: Page, stamp: Stamp, subject: str, body: str, *, blanks: bool = False
) -> tuple[TastingShown, tuple[tuple[str, str], ...], str]:
    """Write the page; and if now all is in, lay the key open and take the marks to their trials, in one entry."""
    tasting = read_tasting(page)
    pages: dict[str, str] = {}
    expect = {page.path: before}
    kept: tuple[tuple[str, str], ...] = ()
    if not tasting.still_to_come and (blanks or not tasting.blanks(book.page.weights)):
        page = opened(page, stamp.saved, key_of(tasting))
        tasting = read_tasting(page)
        pages, of_trials, kept = _to_their_trials(book, tasting, stamp)
        expect |= of_trials
    pages[page.path] = page.text
    ahead = put(book.root, pages, stamp, subject, body, expect=expect)
    return _shown(book, tasting), kept, ahead


def _to_their_trials(
    book: OpenBook, tasting: Tasting, stamp: Stamp
) -> tuple[dict[str, str], dict[str, bytes], tuple[tuple[str, str], ...]]:
    """The trials' pages with the blind marks, and as they were read; marks that stood there before stay as they are."""
    pages: dict[str, str] = {}
    expect: dict[str, bytes] = {}
    kept: list[tuple[str, str]] = []
    for bread, given in marks_by_bread(tasting).items():
        trial = find_trial(book.root, bread)
        path = trial_page_of(trial.name)
        refuse_edited(book.root, path, "Not taken down")
        expect[path], page = _read(book, path)
        for marks in given:
            if any(one.taster == marks.taster and one.is_marked for one in trial.scores):
                kept.append((marks.taster, bread))
                continue
            late = late_lines(trial, marks, stamp.by, stamp.at)
            page = read(with_marks(page, marks, trial.scale or book.page.scale, (), late), path=path)
            pages[path] = page.text
    return pages, expect, tuple(kept)


def _shown(book: OpenBook, tasting: Tasting) -> TastingShown:
    verdict, triangle = come_out(tasting, book.page.weights)
    return TastingShown(
        tasting=tasting,
        book=book.page,
        breads=breads_of(book.root, tasting),
        blanks=tasting.blanks(book.page.weights),
        verdict=verdict,
        triangle=triangle,
    )
