"""Settle what two bakers changed in two ways: one's value, the other's, or any between; or keep both apart."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from ovenleaf.book import layout, sharing
from ovenleaf.book.steps.answering import Answer, NothingOpen, answers
from ovenleaf.book.steps.bakes import find_trial
from ovenleaf.book.steps.bakes import page_of as trial_page_of
from ovenleaf.book.steps.exchanging import waiting
from ovenleaf.book.steps.keeping import Keep, check_page, keep_as_next
from ovenleaf.book.steps.open_pages import all_asked
from ovenleaf.book.steps.opening import open_book, open_pantry, settle_baker, working_page
from ovenleaf.book.steps.settled_pages import settled_page
from ovenleaf.book.steps.shelf import Shelf, formula_names, refuse_draft, shelf_of, spoken, standing_on, take
from ovenleaf.book.steps.signing import Stamp, put
from ovenleaf.compare.open_questions import LEFT_OUT
from ovenleaf.domain.revision import is_slug, slug_of
from ovenleaf.domain.trial import Correction
from ovenleaf.errors import Next, PageRefused, Refusal
from ovenleaf.records import schema
from ovenleaf.records.codec import trial_edits
from ovenleaf.records.codec.editing import as_copy
from ovenleaf.records.codec.questions import open_questions
from ovenleaf.records.nodes import find, plain
from ovenleaf.results import Settled, SettledRow

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from datetime import datetime
    from pathlib import Path

    from ovenleaf.domain.formula import OpenQuestion
    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.records.nodes import Page

OTHER_PAGES = ("book", "ingredients")


class NewNameTaken(Refusal):
    """The name for the other proposal cannot be used. Facts: `name`, `why`."""

    def __init__(self, formula: str, name: str, why: str) -> None:
        super().__init__(f"Not settled: {why}", next=(Next(f"ovenleaf settle {formula} --keep-both ANOTHER-NAME"),))
        self.name = name
        self.why = why


class NotYours(Refusal):
    """Neither proposal is by whoever types, so it is not known which becomes a formula of its own. Fact: `formula`."""

    def __init__(self, formula: str, item: str) -> None:
        super().__init__(
            f"Neither proposal for {item} in {formula} is yours, so which of them should get the new name?",
            detail=("Settle the question with one of the values, and copy the other baker's revision:",),
            next=(Next(f"ovenleaf copy {formula} NEW-NAME --revision REVISION"),),
        )
        self.formula = formula


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
) -> Settled:
    """Settle questions of a formula, a trial, the book's page or its ingredient list, each ITEM=VALUE.

    Raises NothingOpen, NotOpen and the refusals of its steps.
    """
    book = open_book(given, start)
    stamp = Stamp(by=settle_baker(book.root, baker), at=at, verb="settle", preview=preview)
    if slug_of(page) in formula_names(book.root):
        return _formula(book.root, take(book.root, page), edits, why, stamp, keep_both)
    if page in OTHER_PAGES:
        return _page(book.root, f"{page}.yaml", page, edits, why, stamp)
    if (tasting := f"tastings/{page}.yaml") in layout.working_pages(book.root):
        return _page(book.root, tasting, "tasting", edits, why, stamp)
    return _page(book.root, trial_page_of(find_trial(book.root, page).name), "trial", edits, why, stamp)


def _formula(root: Path, shelf: Shelf, edits: Sequence[str], why: str, stamp: Stamp, keep_both: str) -> Settled:
    before = shelf.page()
    questions = open_questions(before)
    if not questions:
        raise NothingOpen(shelf.name)
    refuse_draft(shelf)
    pantry = open_pantry(root)
    mine = _mine(shelf, questions, stamp.by) if keep_both else ""
    given = tuple(_others(questions, mine)) if keep_both else answers(shelf, shelf.name, questions, edits, stamp.by)
    page = settled_page(before, shelf, given, pantry)
    checked = check_page(page, shelf.name, pantry, "Not settled")
    standing = standing_on(shelf)
    assert standing is not None, "no draft"
    reason = why or "; ".join(f"{one.item} {one.text}" for one in given)
    keep = keep_as_next(shelf, checked, stamp, why=reason, made_from=(str(standing.name),))
    beside = _as_its_own(root, shelf, mine, keep_both, stamp, pantry) if keep_both else None
    pages = keep.pages | (beside.pages if beside else {})
    expect = keep.expect | (beside.expect if beside else {})
    subject = f"{shelf.name} {keep.revision}: settled {', '.join(one.item for one in given)}"
    ahead = put(root, pages, stamp, subject, why, expect=expect)
    known = sharing.load(root)
    return Settled(
        title=checked.formula.label,
        page=shelf.name,
        me=stamp.by,
        spoken=f"revision {keep.revision.number}",
        made_from=spoken(shelf.names, standing.name),
        rows=tuple(SettledRow(item=one.item, value=one.text, whose=one.whose) for one in given),
        left=tuple(question.item for question in keep.formula.open),
        kept=standing.formula().made_from,
        waiting=waiting(root, known),
        shares=bool(known.at),
        new_name=slug_of(keep_both) if keep_both else "",
        ahead=ahead,
    )


def _mine(shelf: Shelf, questions: Sequence[OpenQuestion], me: str) -> str:
    """The name under which the one who types proposed something. Raises NotYours."""
    for question in questions:
        for by, _ in question.proposals:
            if me in by.split("."):
                return by
    raise NotYours(shelf.name, questions[0].item)


def _others(questions: Sequence[OpenQuestion], mine: str) -> Iterator[Answer]:
    """Every question settled as the other baker proposes."""
    for question in questions:
        by, text = next(((by, text) for by, text in question.proposals if by != mine), question.proposals[0])
        yield Answer(item=question.item, text=text, whose=by)


def _as_its_own(root: Path, shelf: Shelf, mine: str, typed: str, stamp: Stamp, pantry: Pantry) -> Keep:
    """The revision behind one's own proposal as revision 1 of a new formula."""
    new = slug_of(typed)
    if not is_slug(new) or new in formula_names(root):
        why = f"there is a formula {new} already." if is_slug(new) else f"{typed} cannot be the name of a formula."
        raise NewNameTaken(shelf.name, typed, why)
    own = [kept for kept in shelf.kept if ".".join(kept.name.handles) == mine]
    if not own:
        raise NotYours(shelf.name, mine)
    target = shelf_of(root, new)
    title = new[:1].upper() + new[1:].replace("-", " ")
    page = as_copy(replace(own[-1].page(), path=target.path), new, title, f"{shelf.name} {own[-1].name}")
    checked = check_page(page, new, pantry, "Not settled")
    return keep_as_next(target, checked, stamp, why=f"kept apart from {shelf.name}", made_from=())


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
    known = sharing.load(root)
    return Settled(
        title=f"trial {code}" if kind == "trial" else f"the page {path}",
        page=code,
        me=stamp.by,
        spoken="",
        made_from="",
        rows=tuple(SettledRow(item=one.item, value=one.text, whose=one.whose) for one in given),
        left=tuple(question.item for question in open_questions(page)),
        kept=(),
        waiting=waiting(root, known),
        shares=bool(known.at),
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
