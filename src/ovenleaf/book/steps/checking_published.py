"""What `check` looks at in pages that went out: whether revision, allergens and bakes still stand."""

from __future__ import annotations

import shlex
from typing import TYPE_CHECKING

from ovenleaf.book.steps.leaning import moved
from ovenleaf.book.steps.marking import marks_page_of, readable_marks
from ovenleaf.book.steps.sheets import kept_sheet
from ovenleaf.book.steps.shelf import spoken
from ovenleaf.domain.book import KEEPER, Published
from ovenleaf.domain.revision import revision_name
from ovenleaf.errors import Refusal
from ovenleaf.findings import Finding, Severity

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from ovenleaf.book.steps.leaning import Bakes
    from ovenleaf.book.steps.shelf import Shelf
    from ovenleaf.domain.book import MarksPage
    from ovenleaf.domain.ingredients import Pantry


def check_published(root: Path, shelf: Shelf, pantry: Pantry, bakes: Bakes) -> Iterator[Finding]:
    """The pages of one formula that grew old since they were published; `bakes` as in `leaning.moved`."""
    marks = readable_marks(root, shelf.name)
    for page in marks.out:
        why = _old(shelf, marks, page) or _other_allergens(shelf, page, pantry)
        other, righted = ("", False) if why else _other_bakes(bakes, shelf, page, pantry)
        if why or other:
            yield _finding(shelf, page, why or other, Severity.WARNING if why or righted else Severity.NOTE)
        elif newer := _newer(shelf, marks, page):
            yield _finding(shelf, page, newer, Severity.NOTE)


def _old(shelf: Shelf, marks: MarksPage, page: Published) -> str:
    """Why the revision it tells is no longer the one to tell; "" where it still is."""
    standing = marks.standing.get(page.revision, "")
    if standing not in ("", KEEPER):
        return f"that revision is {'taken back' if page.revision in marks.taken_back else standing} since."
    same = marks.keeper in ("", page.revision, page.keeper)
    return "" if same else f"the keeper is {_words(shelf, marks.keeper)} since."


def _newer(shelf: Shelf, marks: MarksPage, page: Published) -> str:
    """Where no revision is the keeper: that there is a newer one."""
    last = shelf.in_force[-1].name if shelf.in_force else None
    told = revision_name(page.revision)
    if marks.keeper or last is None or told is None or last.number <= told.number:
        return ""
    return f"there is {_words(shelf, str(last))} since, and none is marked keeper."


def _other_allergens(shelf: Shelf, page: Published, pantry: Pantry) -> str:
    """That the ingredient list names other allergens for that revision by now."""
    kept = next((one for one in shelf.kept if str(one.name) == page.revision), None)
    if kept is None:
        return "that revision is not in the book."
    try:
        now = kept_sheet(shelf, kept, pantry).allergens
    except Refusal:
        return ""  # a page that cannot be read is told of elsewhere
    come, gone = [a for a in now if a not in page.contains], [a for a in page.contains if a not in now]
    told = [f"{', '.join(come)} came in"] if come else []
    told += [f"{', '.join(gone)} went out"] if gone else []
    return f"by the ingredient list {' and '.join(told)} since." if told else ""


def _other_bakes(bakes: Bakes, shelf: Shelf, page: Published, pantry: Pantry) -> tuple[str, bool]:
    """That what it says of bakes is not so by now; and whether a bake was put right since."""
    kept = next((one for one in shelf.kept if str(one.name) == page.revision), None)
    try:
        return moved(bakes, shelf, kept, page, pantry) if kept and page.leans_on else ("", False)
    except (Refusal, ValueError):
        return "", False  # a page that cannot be read is told of elsewhere


def _words(shelf: Shelf, revision: str) -> str:
    name = revision_name(revision)
    return revision if name is None else spoken(shelf.names, name)


def _finding(shelf: Shelf, page: Published, why: str, severity: Severity) -> Finding:
    again = f"ovenleaf publish {shelf.name} --as {page.kind} --out {shlex.quote(page.file)}"
    return Finding(
        code="published-page-old",
        severity=severity,
        path=marks_page_of(shelf.name),
        message=f"{page.file}, published as {page.kind} on {page.at[:10]} from {_words(shelf, page.revision)} of"
        f" {shelf.name}, grew old: {why}",
        fix=f"Publish it again under a new name: ovenleaf publish {shelf.name} --as {page.kind} --out NEW-FILE\n"
        f"Or, if it is out no more: {again} --taken-down",
    )
