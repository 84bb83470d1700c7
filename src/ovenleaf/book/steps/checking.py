"""What `check` looks at in formulas and their marks, and the form of any page.

Every fault is a finding; nothing stops the look at the rest.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple, TypeVar

from ovenleaf.book.names import FORMULAS
from ovenleaf.book.steps.bakes import refused
from ovenleaf.book.steps.card_pages import card_page_of
from ovenleaf.book.steps.keeping import check_kept, check_page, salts_by_spoon
from ovenleaf.book.steps.marking import marks_page_of
from ovenleaf.book.steps.opening import BOOK_PAGE, pantry_digest, working_page
from ovenleaf.book.steps.remembering import remembered
from ovenleaf.book.steps.shelf import Kept, Shelf, is_draft
from ovenleaf.domain.formula import all_lines
from ovenleaf.domain.household import SALT
from ovenleaf.domain.numbers import NumberFault, number
from ovenleaf.errors import Refusal
from ovenleaf.findings import Finding, Severity
from ovenleaf.records import schema
from ovenleaf.records.codec.books import read_book, read_marks
from ovenleaf.records.codec.cards import read_card_page
from ovenleaf.records.codec.formulas import read_formula
from ovenleaf.records.codec.ingredients import read_ingredients
from ovenleaf.records.codec.tastings import read_tasting
from ovenleaf.records.codec.trials import read_trial
from ovenleaf.records.nodes import line_of
from ovenleaf.records.schema_fault import listed

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping
    from pathlib import Path

    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.trial import ScoreScale
    from ovenleaf.records.nodes import Page

Said = TypeVar("Said")
_READERS = {
    "book": read_book,
    "ingredients": read_ingredients,
    "marks": read_marks,
    "trial": read_trial,
    "tasting": read_tasting,
    "card": read_card_page,
}


def check_page_form(root: Path, path: str, kind: str) -> tuple[Finding, ...]:
    """The form of one page: that it parses, fits its schema, and says what can be understood."""

    def nothing_wrong(page: Page) -> tuple[Finding, ...]:
        _READERS[kind](page)
        return ()

    return look_at_page(root, path, kind, nothing_wrong)


def look_at_page(
    root: Path, path: str, kind: str, read: Callable[[Page], Said | tuple[Finding, ...]]
) -> Said | tuple[Finding, ...]:
    """What one page says, or what is wrong with its form."""
    try:
        page = working_page(root, path)
        return schema.faults(kind, page, kept=True) or read(page)
    except Refusal as refusal:
        return refused(path, refusal)


def check_anchors(root: Path) -> tuple[Finding, ...]:
    """What the marks mean, where the scale was changed and these words were not."""
    try:
        page = working_page(root, BOOK_PAGE)
        book = read_book(page)
    except Refusal:
        return ()  # told of as a page that cannot be read
    off = [typed for typed, _ in book.anchors if _is_off(typed, book.scale)]
    if not off:
        return ()
    low, high = book.scale.low, book.scale.high
    verb = "lies" if len(off) == 1 else "lie"
    return (
        Finding(
            code="off-scale",
            severity=Severity.WARNING,
            path=page.path,
            line=line_of(page, ("anchors", off[0])),
            message=f"Under anchors, {listed(off, 'and')} {verb} off the book's scale of {book.scale}.",
            fix=f"Say there what {high} and {low} mean now, and whatever lies between.",
        ),
    )


def _is_off(typed: str, scale: ScoreScale) -> bool:
    try:
        return not scale.low <= number(typed) <= scale.high
    except NumberFault:
        return False  # a word may stand for a mark


class Looked(NamedTuple):
    """What was found on a kept page: what is wrong, what can be weighed for it, what it was made from."""

    findings: tuple[Finding, ...] = ()
    items: tuple[str, ...] = ()
    made_from: tuple[str, ...] = ()


def look_at_kept(root: Path, shelves: Iterable[Shelf], pantry: Pantry) -> dict[str, Looked]:
    """Every kept page, by where it lies."""
    kept = {one.path: (shelf, one) for shelf in shelves for one in shelf.kept}
    by = f"{schema.digest('formula')} {pantry_digest(root)}"
    found = remembered(root, f"{FORMULAS}/", tuple(kept), "kept", lambda path: _kept(*kept[path], pantry), by=by)
    return {path: Looked(*said) for path, said in found}


def check_formula(root: Path, shelf: Shelf, looked: Mapping[str, Looked], pantry: Pantry) -> tuple[Finding, ...]:
    """A formula's current page, its kept revisions as they were looked at, and its marks."""
    findings: list[Finding] = []
    for kept in shelf.kept:
        findings += looked[kept.path].findings
        unknown = [base for base in looked[kept.path].made_from if base not in map(str, shelf.names)]
        findings += [_unknown_base(kept.page(), shelf, base) for base in unknown]
    if shelf.data is None:
        findings += [_gone(shelf)] if shelf.in_force else []
    else:
        findings += _current(shelf, pantry)
    if (root / marks_page_of(shelf.name)).is_file():
        findings += check_page_form(root, marks_page_of(shelf.name), "marks")
    if (root / card_page_of(shelf.name)).is_file():
        findings += check_page_form(root, card_page_of(shelf.name), "card")
    return tuple(findings)


def _gone(shelf: Shelf) -> Finding:
    return Finding(
        code="no-current-page",
        severity=Severity.WARNING,
        path=shelf.path,
        message=f"The current page of {shelf.name} is gone; its {len(shelf.in_force)} saved revisions are there.",
        fix=f"Copy {shelf.in_force[-1].path} to {shelf.path}.",
    )


def _current(shelf: Shelf, pantry: Pantry) -> tuple[Finding, ...]:
    found: list[Finding] = []
    try:
        draft = is_draft(shelf)
        if not draft:
            found += _salts_once_let_in(shelf)
        meant = frozenset((SALT,)) if found else frozenset[str]()
        checked = check_page(shelf.page(), shelf.name, pantry, shelf.path, new=meant)
    except Refusal as refusal:
        return refused(shelf.path, refusal)
    if checked.formula.name != shelf.name:
        found.append(_misnamed(checked.page, shelf))
    if draft:
        found.append(_draft(shelf))
    return tuple(found)


def _salts_once_let_in(shelf: Shelf) -> list[Finding]:
    """Spoons of salt of no kind on a page that was saved before they were asked about: it goes on being used."""
    save = f'ovenleaf save {shelf.name} --why "which salt it is"'
    formula = read_formula(shelf.page(), name=shelf.name)
    return [
        replace(one, severity=Severity.WARNING, fix=f"{one.fix}. Then: {save}")
        for one in salts_by_spoon(shelf.page(), formula, frozenset())
    ]


def _misnamed(page: Page, shelf: Shelf) -> Finding:
    return Finding(
        code="misnamed",
        severity=Severity.ERROR,
        path=page.path,
        line=line_of(page, ("formula",)),
        message=f"This page lies where {shelf.name} lies, but says it is another formula.",
        fix=f"Write formula: {shelf.name}, or give the file the name that the page says.",
    )


def _draft(shelf: Shelf) -> Finding:
    return Finding(
        code="draft",
        severity=Severity.NOTE,
        path=shelf.path,
        message=f"{shelf.name} {'was edited by hand' if shelf.kept else 'is a draft'} and is not saved yet.",
        fix=f'ovenleaf save {shelf.name} --why "..."',
    )


def _kept(shelf: Shelf, kept: Kept, pantry: Pantry) -> Looked:
    try:
        page = kept.page()
        if findings := schema.faults("formula", page, kept=True):
            return Looked(findings)
        checked = check_kept(page, shelf.name, pantry, kept.path)
    except Refusal as refusal:
        return Looked(refused(kept.path, refusal))
    formula = checked.formula
    found = []
    if (formula.revision, formula.by, formula.name) != (kept.name.number, kept.name.handles, shelf.name):
        found.append(
            Finding(
                code="misnamed",
                severity=Severity.ERROR,
                path=kept.path,
                line=line_of(page, ("revision",)),
                message=f"This page is kept as {kept.name} of {shelf.name}, but says it is another revision.",
                fix="A kept revision is never edited; put its file back as it was.",
            )
        )
    parts = (*formula.preferments, *formula.soakers, *formula.stages)  # each goes into a bowl as a bowl of its own
    items = {*(line.item for _, line in all_lines(formula)), *(part.name for part in parts)}
    return Looked(tuple(found), tuple(sorted(items)), formula.made_from)


def _unknown_base(page: Page, shelf: Shelf, base: str) -> Finding:
    return Finding(
        code="unknown-revision",
        severity=Severity.WARNING,
        path=page.path,
        line=line_of(page, ("made_from",)),
        message=f"This was made from {base}, which is not among the revisions of {shelf.name}.",
    )
