"""Settle what two bakers changed in two ways: one's value, the other's, or any between; or keep both apart."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book import layout, sharing
from ovenleaf.book.steps.answering import Answer, NothingOpen, answers
from ovenleaf.book.steps.bakes import UnknownTrial, find_trial
from ovenleaf.book.steps.bakes import page_of as trial_page_of
from ovenleaf.book.steps.keeping import check_page, keep_as_next
from ovenleaf.book.steps.keeping_apart import as_its_own, mine_in, others_answers
from ovenleaf.book.steps.open_pages import all_asked
from ovenleaf.book.steps.opening import open_book, open_pantry, settle_baker, working_page
from ovenleaf.book.steps.settled_pages import settled_page
from ovenleaf.book.steps.settling_drafts import is_open_draft, settle_draft
from ovenleaf.book.steps.shelf import Shelf, formula_names, refuse_draft, spoken, standing_on, take
from ovenleaf.book.steps.signing import Stamp, put
from ovenleaf.compare.open_questions import LEFT_OUT
from ovenleaf.domain.revision import slug_of
from ovenleaf.domain.trial import Correction
from ovenleaf.errors import Next, PageRefused, Refusal
from ovenleaf.records import schema
from ovenleaf.records.codec import trial_edits
from ovenleaf.records.codec.questions import open_questions
from ovenleaf.records.nodes import find, plain
from ovenleaf.results import DraftSettled, Settled, SettledRow

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import datetime
    from pathlib import Path

    from ovenleaf.records.nodes import Page

OTHER_PAGES = ("book", "ingredients")


class NoSuchPage(Refusal):
    """Neither a formula, nor a trial, nor another page that can have questions. Fact: `page`."""

    def __init__(self, page: str) -> None:
        super().__init__(
            f"There is no formula, trial or tasting {page} in this book.",
            next=(Next("ovenleaf check", "the whole book, open questions among it"),),
        )
        self.page = page


def settle(
    given: Path | None,
    start: Path,
    page: str,
    edits: Sequence[str],
    *,
    why: str,
    baker: str,
    at: datetime,
    keep_both: str = "",
    preview: bool = False,
) -> Settled | DraftSettled:
    """Settle questions of a formula, a trial, the book's page or its ingredient list, each ITEM=VALUE.

    Questions of a draft are those of the card that it was adopted from.

    Raises NothingOpen, NotOpen and the refusals of its steps.
    """
    book = open_book(given, start)
    stamp = Stamp(by=settle_baker(book.root, baker), at=at, verb="settle", preview=preview)
    if slug_of(page) in formula_names(book.root):
        shelf = take(book.root, page)
        if is_open_draft(shelf):
            done = settle_draft(book.root, shelf, edits, why, stamp)
            return DraftSettled(name=shelf.name, title=done.title, rows=done.rows, left=done.left, ahead=done.ahead)
        return _formula(book.root, shelf, edits, why, stamp, keep_both)
    if page in OTHER_PAGES:
        return _page(book.root, f"{page}.yaml", page, edits, why, stamp)
    if (tasting := f"tastings/{page}.yaml") in layout.working_pages(book.root):
        return _page(book.root, tasting, "tasting", edits, why, stamp)
    try:
        trial = find_trial(book.root, page)
    except UnknownTrial:
        raise NoSuchPage(page) from None
    return _page(book.root, trial_page_of(trial.name), "trial", edits, why, stamp)


def _formula(root: Path, shelf: Shelf, edits: Sequence[str], why: str, stamp: Stamp, keep_both: str) -> Settled:
    before = shelf.page()
    questions = open_questions(before)
    if not questions:
        raise NothingOpen(shelf.name)
    refuse_draft(shelf)
    pantry = open_pantry(root)
    mine = mine_in(shelf, questions, stamp.by, slug_of(keep_both)) if keep_both else ""
    given = others_answers(questions, mine) if keep_both else answers(shelf, shelf.name, questions, edits, stamp.by)
    page = settled_page(before, shelf, given, pantry)
    checked = check_page(page, shelf.name, pantry, "Not settled")
    standing = standing_on(shelf)
    assert standing is not None, "no draft"
    reason = why or "; ".join(f"{one.item} {one.text}" for one in given)
    keep = keep_as_next(shelf, checked, stamp, why=reason, made_from=(str(standing.name),))
    beside = as_its_own(root, shelf, mine, keep_both, stamp, pantry) if keep_both else None
    pages = keep.pages | (beside.pages if beside else {})
    expect = keep.expect | (beside.expect if beside else {})
    subject = f"{shelf.name} {keep.revision}: settled {', '.join(one.item for one in given)}"
    ahead = put(root, pages, stamp, subject, why, expect=expect)
    waits = sharing.waiting(root)
    return Settled(
        title=checked.formula.label,
        page=shelf.name,
        me=stamp.by,
        spoken=f"revision {keep.revision.number}",
        made_from=spoken(shelf.names, standing.name),
        rows=tuple(SettledRow(item=one.item, value=one.text, whose=one.whose) for one in given),
        left=tuple(question.item for question in keep.formula.open),
        kept=standing.formula().made_from,
        waiting=(waits or 0) + stamp.preview,  # what is settled in a preview would be one more
        shares=waits is not None,
        new_name=slug_of(keep_both) if keep_both else "",
        ahead=ahead,
    )


def _page(root: Path, path: str, kind: str, edits: Sequence[str], why: str, stamp: Stamp) -> Settled:
    """A trial's page, the ingredient list or the book's own page."""
    data = layout.read_file(root, path)
    before = working_page(root, path)
    questions = open_questions(before)
    code = next((asked.page for asked in all_asked(root, (path,))), kind)
    if not questions:
        raise NothingOpen(code)
    given = answers(None, code, questions, edits, stamp.by)
    page = settled_page(before, None, given, open_pantry(root))
    if kind == "trial":
        for one in given:
            page = _corrected(before, page, one, why, stamp)
    if faults := schema.faults(kind, page, kept=True):
        raise PageRefused("Not settled", faults)
    ahead = put(root, {path: page.text}, stamp, f"{code}: settled {', '.join(one.item for one in given)}", why,
                expect={path: data})  # fmt: skip
    waits = sharing.waiting(root)
    return Settled(
        title=f"trial {code}" if kind == "trial" else f"the page {path}",
        page=code,
        me=stamp.by,
        spoken="",
        made_from="",
        rows=tuple(SettledRow(item=one.item, value=one.text, whose=one.whose) for one in given),
        left=tuple(question.item for question in open_questions(page)),
        kept=(),
        waiting=(waits or 0) + stamp.preview,  # what is settled in a preview would be one more
        shares=waits is not None,
        ahead=ahead,
    )


def _corrected(before: Page, page: Page, one: Answer, why: str, stamp: Stamp) -> Page:
    """A value of a trial that changes is named in its corrections."""
    node = find(before.root, tuple(one.item.split(".")))
    was = "" if node is None else str(plain(node))
    now = "" if one.text == LEFT_OUT else one.text
    if was in ("", now):
        return page
    made = Correction(field=one.item, was=was, now=now, by=stamp.by, at=stamp.saved, why=why or "settled between us")
    return trial_edits.with_correction(page, made)
