"""Begin a new formula from one that is there: a side road that leaves the old one alone."""

from __future__ import annotations

from dataclasses import replace
from itertools import count
from typing import TYPE_CHECKING

from ovenleaf.book.steps.keeping import check_page, keep_as_next
from ovenleaf.book.steps.opening import open_book, open_pantry, settle_baker
from ovenleaf.book.steps.shelf import formula_names, revision_of, shelf_of, spoken, take
from ovenleaf.book.steps.signing import Stamp, put
from ovenleaf.domain.revision import is_slug, slug_of
from ovenleaf.domain.sheet import sheet
from ovenleaf.errors import Next, Refusal
from ovenleaf.records.codec.editing import as_copy
from ovenleaf.results import Copied

if TYPE_CHECKING:
    from datetime import datetime
    from pathlib import Path


class NameTaken(Refusal):
    """A formula cannot have that name. Facts: `name`, `why`."""

    def __init__(self, formula: str, name: str, why: str, names: tuple[str, ...]) -> None:
        free = next(new for number in count(2) if (new := f"{formula}-{number}") not in names)
        super().__init__(f"Not copied: {why}", next=(Next(f"ovenleaf copy {formula} {free}", "a name that is free"),))
        self.name = name
        self.why = why


def copy(
    given: Path | None,
    start: Path,
    formula: str,
    name: str,
    *,
    revision: str = "",
    title: str = "",
    why: str = "",
    baker: str,
    at: datetime,
    preview: bool = False,
) -> Copied:
    """Keep revision 1 of the new formula `name`, which says what another formula's revision says."""
    book = open_book(given, start)
    who = settle_baker(book.root, baker)
    shelf = take(book.root, formula)
    kept = revision_of(shelf, revision)
    new = slug_of(name)
    names = formula_names(book.root)
    if not is_slug(new):
        raise NameTaken(shelf.name, name, f"{name} cannot be the name of a formula.", names)
    if new in names:
        raise NameTaken(shelf.name, new, f"there is a formula {new} already.", names)
    title = title or name[:1].upper() + name[1:].replace("-", " ")
    source = f"{shelf.name} {kept.name}"
    target = shelf_of(book.root, new)
    page = as_copy(replace(kept.page(), path=target.path), new, title, source)
    pantry = open_pantry(book.root)
    checked = check_page(page, new, pantry, "Not copied")
    stamp = Stamp(by=who, at=at, verb="copy", preview=preview)
    keep = keep_as_next(target, checked, stamp, why=why, made_from=())
    subject = f"{new} {keep.revision}: begun from {source}"
    ahead = put(book.root, keep.pages, stamp, subject, why, expect=keep.expect)
    made_from = f"{shelf.name.replace('-', ' ')}, {spoken(shelf.names, kept.name)}"
    return Copied(sheet=sheet(keep.formula, checked.worked, pantry, keep.revision), source=made_from, ahead=ahead)
