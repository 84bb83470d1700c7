"""Keep what was edited by hand: formula pages as new revisions or touch-ups, other pages as they are."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.book import git, layout, settings
from ovenleaf.book.steps.bakes import trial_pages
from ovenleaf.book.steps.card_pages import card_page_of, is_card
from ovenleaf.book.steps.combined_drafts import combined_name, keep_combined
from ovenleaf.book.steps.hand_edits import explained, unexplained
from ovenleaf.book.steps.keeping import WhyWanted, check_page, keep_as_next
from ovenleaf.book.steps.opening import (
    BOOK_PAGE,
    open_book,
    open_pantry,
    settle_baker,
    working_page,
)
from ovenleaf.book.steps.questioning import ask_back
from ovenleaf.book.steps.sheets import kept_sheet
from ovenleaf.book.steps.shelf import (
    Shelf,
    formula_names,
    is_draft,
    newest,
    shelf_of,
    spoken,
    standing_on,
    take,
)
from ovenleaf.book.steps.signing import Stamp, put
from ovenleaf.book.steps.unsettled import StillOpen
from ovenleaf.compare.formula_diff import compare
from ovenleaf.compare.headline import headline
from ovenleaf.domain.sheet import sheet
from ovenleaf.errors import Next, PageRefused, Refusal
from ovenleaf.findings import Severity
from ovenleaf.records import schema
from ovenleaf.records.codec.questions import open_questions
from ovenleaf.results import Entered, Saved

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from datetime import datetime
    from pathlib import Path

    from ovenleaf.domain.ingredients import Pantry

NOT_SAVED = "Not saved"


class NothingToSave(Refusal):
    """Nothing was edited."""

    def __init__(self) -> None:
        super().__init__(
            "Nothing to save: every page is as it was last saved.",
            next=(Next("ovenleaf list", "what is in the book"),),
        )


def save(
    given: Path | None,
    start: Path,
    *,
    formula: str = "",
    why: str,
    baker: str,
    at: datetime,
    preview: bool = False,
    meant: str = "",
) -> Saved:
    """Keep every page that was edited by hand, or those of one formula. Every page is checked first."""
    book = open_book(given, start)
    who = settle_baker(book.root, baker)
    pantry = open_pantry(book.root)
    settings.check(book.root)
    changed = git.changed(book.root)
    names = (take(book.root, formula).name,) if formula else formula_names(book.root)
    edited = [shelf for name in names if _is_edited(shelf := shelf_of(book.root, name), changed)]
    others = _cards(book.root, changed, names) if formula else _others(book.root, changed, names)
    trials = () if formula else unexplained(book.root, trial_pages(book.root))
    if not edited and not others and not trials:
        raise NothingToSave
    stamp = Stamp(by=who, at=at, verb="save", preview=preview)
    work = [_revise(book.root, shelf, stamp, why, pantry, meant) for shelf in edited]
    if others or trials:
        pages: dict[str, str | bytes | None] = {page: layout.read_file(book.root, page) for page in others}
        pages |= {found.page: explained(book.root, found, stamp, why) for found in trials}
        subject = f"{', '.join(pages)}: edited by hand ({who})"
        work.append(_Revised(entered=None, pages=pages, expect={}, subject=subject))
    ahead = _put_all(book.root, work, stamp, why)
    saved = tuple(zip(edited, work, strict=False))
    return Saved(
        revisions=tuple(revised.entered for _, revised in saved if revised.entered is not None),
        touched=tuple(shelf.name for shelf, revised in saved if revised.entered is None and not revised.combined),
        combined=tuple((shelf.name, revised.combined) for shelf, revised in saved if revised.combined),
        pages=others,
        corrected=tuple((found.after.code, found.fields) for found in trials),
        ahead=ahead,
    )


def _put_all(root: Path, work: Sequence[_Revised], stamp: Stamp, why: str) -> str:
    """An entry for each; where one cannot be written, those before it are told of, since they stay."""
    ahead = ""
    done: list[str] = []
    for revised in work:
        try:
            ahead = put(root, revised.pages, stamp, revised.subject, why, expect=revised.expect) or ahead
        except Refusal as refusal:
            if done:
                rest = (line.replace("The book is as", "Apart from that the book is as") for line in refusal.detail)
                refusal.detail = (f"Before that, this was saved and stays: {'; '.join(done)}.", *rest)
            raise
        done.append(revised.subject)
    return ahead


def _is_edited(shelf: Shelf, changed: tuple[str, ...]) -> bool:
    if shelf.data is None:
        return False
    return shelf.path in changed or not shelf.in_force or combined_name(shelf) is not None


@dataclass(frozen=True, slots=True, kw_only=True)
class _Revised:
    """What to write in one entry; `entered` is None for a touch-up and for pages that are no formula's.

    `combined` is the number of a revision of two bakers, which says no more than both of theirs.
    """

    entered: Entered | None
    combined: int = 0
    pages: Mapping[str, str | bytes | None]
    expect: Mapping[str, bytes | None]
    subject: str


def _revise(root: Path, shelf: Shelf, stamp: Stamp, why: str, pantry: Pantry, meant: str) -> _Revised:
    """What to write for one edited page: the next revision, or the page alone for a touch-up."""
    if not shelf.kept and (left := open_questions(shelf.page())):
        raise StillOpen(shelf.name, left)
    checked = check_page(shelf.page(), shelf.name, pantry, NOT_SAVED)
    if (both := combined_name(shelf)) is not None:
        keep = keep_combined(shelf, both)
        subject = f"{shelf.name} {both}: combined"
        return _Revised(entered=None, combined=both.number, pages=keep.pages, expect=keep.expect, subject=subject)
    if shelf.in_force and not is_draft(shelf):
        subject = f"{shelf.name}: a touch-up of its page ({stamp.by})"
        return _Revised(entered=None, pages={shelf.path: shelf.data}, expect={shelf.path: shelf.data}, subject=subject)
    before = (standing_on(shelf) or newest(shelf)) if shelf.in_force else None
    if before is not None:
        why = why or (checked.formula.why if checked.formula.why != before.formula().why else "")
        if not why:
            raise WhyWanted(shelf.name, f"ovenleaf save {shelf.name}")
    made_from = () if before is None else (str(before.name),)
    keep = keep_as_next(shelf, checked, stamp, why=why or checked.formula.why, made_from=made_from)
    after = sheet(keep.formula, checked.worked, pantry, keep.revision)
    old = None if before is None else kept_sheet(shelf, before, pantry)
    diff = None if old is None else compare(old, after, pantry)
    asked = ask_back(root, shelf.name, after, old, stamp, meant)
    return _Revised(
        entered=Entered(
            sheet=after,
            diff=diff,
            before="" if before is None else spoken(shelf.names, before.name),
            slips=asked.slips,
        ),
        pages={**keep.pages, **asked.pages},
        expect=keep.expect | asked.expect,
        subject=f"{shelf.name} {keep.revision}: {'a new formula' if diff is None else headline(diff)}",
    )


def _others(root: Path, changed: tuple[str, ...], formulas: tuple[str, ...]) -> tuple[str, ...]:
    """Edited pages that are no formula's current page, each checked. Kept revisions are left as they are."""
    current = {f"formulas/{name}.yaml" for name in formulas}
    working = set(layout.working_pages(root))
    others = tuple(p for p in changed if p in working and p not in current and not _is_kept(p))
    for page in others:
        _check_other(root, page)
    return others


def _cards(root: Path, changed: tuple[str, ...], formulas: tuple[str, ...]) -> tuple[str, ...]:
    """The cards of these formulas that were edited, each checked."""
    cards = tuple(page for name in formulas if (page := card_page_of(name)) in changed)
    for page in cards:
        _check_other(root, page)
    return cards


def _is_kept(page: str) -> bool:
    return (
        page.startswith("formulas/") and page.count("/") == 2 and not page.endswith("/marks.yaml") and not is_card(page)
    )


def _check_other(root: Path, page: str) -> None:
    read = working_page(root, page)
    kinds = {BOOK_PAGE: "book", "ingredients.yaml": "ingredients"}
    kind = kinds.get(page, {"trials": "trial", "tastings": "tasting"}.get(page.split("/")[0], "marks"))
    kind = "card" if is_card(page) else kind
    findings = schema.faults(kind, read)
    if any(finding.severity is Severity.NOTE for finding in findings):
        return  # by a newer ovenleaf: kept as it is
    if findings:
        raise PageRefused(NOT_SAVED, findings)
    if kind == "ingredients":
        open_pantry(root)
