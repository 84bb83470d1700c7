"""A formula's page that git brought together by our rules: the revision of both that it says it is, not kept yet."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book.steps.keeping import Keep
from ovenleaf.book.steps.shelf import kept_page_of, standing_on
from ovenleaf.domain.revision import RevisionName, next_number
from ovenleaf.records.codec.formulas import read_formula
from ovenleaf.records.reshape import with_value

if TYPE_CHECKING:
    from ovenleaf.book.steps.shelf import Shelf

_OF_TWO = b"\nmade_from: ["


def combined_name(shelf: Shelf) -> RevisionName | None:
    """The revision that the current page is to be kept as; None where it is not one that came of two kept ones."""
    if shelf.data is None or _OF_TWO not in shelf.data:
        return None
    formula = shelf.formula()
    behind = [kept.name for kept in shelf.kept if str(kept.name) in formula.made_from]
    handles = tuple(sorted({handle for name in behind for handle in name.handles}))
    if len(behind) != len(formula.made_from) or formula.by != handles or standing_on(shelf) is not None:
        return None
    return RevisionName(next_number(shelf.names), handles)


def keep_combined(shelf: Shelf, name: RevisionName) -> Keep:
    """The page as it stands, and the kept one; only its number may have to follow one that this side did not know."""
    text = with_value(shelf.page(), ("revision",), name.number).text
    page = kept_page_of(shelf.name, name)
    return Keep(
        revision=name,
        pages={shelf.path: text, page: text},
        expect={shelf.path: shelf.data, page: None},
        formula=read_formula(shelf.page(), name=shelf.name),
    )
