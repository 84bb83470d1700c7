"""Two books that came of one, combined page by page into one book. Pure but for reading bytes by their id.

Symmetric: the same two give the same book, whoever combines them. What cannot be combined, since it cannot
be read, is put aside and told of; nothing is dropped.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.book.names import FORMULAS, kept_page_of
from ovenleaf.book.steps.combining_pages import CombinedPage, combine_formulas, combine_pages
from ovenleaf.book.steps.onlooker import counted
from ovenleaf.book.steps.opening import INGREDIENTS_PAGE, built_in
from ovenleaf.book.steps.same_codes import part_codes
from ovenleaf.book.steps.same_names import follow_trials, part_revisions, part_trials
from ovenleaf.book.steps.sides import Blobs, Tree, highest_number, kind_of
from ovenleaf.domain.ingredients import Pantry
from ovenleaf.errors import Refusal
from ovenleaf.records.codec.ingredients import read_ingredients
from ovenleaf.records.meant import SpliceFault
from ovenleaf.records.page_bytes import decode
from ovenleaf.records.upgrade import refuse_newer
from ovenleaf.records.yaml_text import read

if TYPE_CHECKING:
    from collections.abc import Iterable

    from ovenleaf.compare.news import Renamed
    from ovenleaf.domain.revision import RevisionName
    from ovenleaf.records.nodes import Page

ASIDE = "aside"


@dataclass(frozen=True, slots=True, kw_only=True)
class CombinedBook:
    """The book that came out, by path and id, and what is to be told of it.

    `pages` were changed by both and combined; `revisions` are formulas of which there is a new one;
    `aside` are pages that could not be read, and so not combined, with the place they lie now.
    """

    tree: Tree
    pages: tuple[str, ...] = ()
    revisions: tuple[tuple[str, RevisionName], ...] = ()
    renamed: tuple[Renamed, ...] = ()
    aside: tuple[tuple[str, str], ...] = ()


def combine_books(blobs: Blobs, base: Tree, one: Tree, other: Tree, at: str) -> CombinedBook:
    """The book that holds what both changed since `base`. `at` is the time that corrections are given."""
    base, one, other = dict(base), dict(one), dict(other)
    follow_trials(blobs, base, one, other)
    renamed = (
        *part_revisions(blobs, base, one, other),
        *part_trials(blobs, base, one, other),
        *part_codes(blobs, base, one, other, at),
    )
    work = _Work(blobs=blobs, base=base, one=one, other=other, tree={}, pages=[], revisions=[], aside=[])
    clashes = [path for path in sorted({*one, *other}) if not _taken_whole(work, path)]
    blobs.fetch(side[path] for side in (base, one, other) for path in clashes if path in side)
    with counted("pages brought together", len(clashes)) as one_more:
        for path in sorted(clashes, key=lambda path: (path != INGREDIENTS_PAGE, path)):
            _combine_at(work, path)
            one_more()
    return CombinedBook(
        tree=work.tree,
        pages=tuple(work.pages),
        revisions=tuple(work.revisions),
        renamed=renamed,
        aside=tuple(work.aside),
    )


def fold(blobs: Blobs, trees: Iterable[Tree], base: Tree, at: str) -> Tree:
    """One ancestor made of several, in their order, by the same rules."""
    first, *rest = trees
    for tree in rest:
        first = combine_books(blobs, base, first, tree, at).tree
    return first


@dataclass(frozen=True, slots=True, kw_only=True)
class _Work:
    blobs: Blobs
    base: Tree
    one: Tree
    other: Tree
    tree: Tree
    pages: list[str]
    revisions: list[tuple[str, RevisionName]]
    aside: list[tuple[str, str]]


def _taken_whole(work: _Work, path: str) -> bool:
    """Take what one of them changed, or neither; False where both did, in two ways."""
    was, left, right = (tree.get(path) for tree in (work.base, work.one, work.other))
    if left == right or right == was:
        stands = left
    elif left == was:
        stands = right
    elif left is None or right is None:  # taken away by one, changed by the other: nothing is lost
        stands = left or right
    else:
        return False
    if stands is not None:
        work.tree[path] = stands
    return True


def _combine_at(work: _Work, path: str) -> None:
    kind = kind_of(path)
    left, right = work.one[path], work.other[path]
    pages = [_page(work, tree, path) for tree in (work.one, work.other)]
    if kind in ("", "kept") or None in pages:
        readable = [name for name, page in zip((left, right), pages, strict=True) if page is not None]
        _put_aside(work, path, readable[0] if len(readable) == 1 else min(left, right))
        return
    try:
        made = _combined(work, path, kind, *(page for page in pages if page is not None))
    except SpliceFault:
        _put_aside(work, path, min(left, right))
        return
    work.tree[path] = work.blobs.keep(made.text.encode())
    work.pages.append(path)
    if made.revision is not None:
        formula = path.removeprefix(f"{FORMULAS}/").removesuffix(".yaml")
        work.tree[kept_page_of(formula, made.revision)] = work.tree[path]
        work.revisions.append((formula, made.revision))


def _combined(work: _Work, path: str, kind: str, one: Page, other: Page) -> CombinedPage:
    before = _page(work, work.base, path)
    if kind != "formula":
        return combine_pages(kind, before, one, other)
    top = highest_number(path.removeprefix(f"{FORMULAS}/").removesuffix(".yaml"), work.one, work.other)
    return combine_formulas(before, one, other, pantry=_pantry(work), top=top)


def _page(work: _Work, tree: Tree, path: str) -> Page | None:
    """A page of one of the three; None where there is none, or where it cannot be read."""
    if path not in tree or not path.endswith(".yaml"):
        return None
    try:
        page = read(decode(work.blobs.get(tree[path]), path), path=path)
        refuse_newer(page)
    except Refusal:
        return None
    return page


def _pantry(work: _Work) -> Pantry:
    """What the book knows of ingredients, once both lists are combined."""
    page = _page(work, work.tree, INGREDIENTS_PAGE)
    try:
        return Pantry((*built_in(), *(read_ingredients(page) if page is not None else ())))
    except Refusal:
        return Pantry(built_in())


def _put_aside(work: _Work, path: str, stands: str) -> None:
    """Keep both: one in its place, the other beside it (a photograph) or in the folder for such pages."""
    work.tree[path] = stands
    for name in (work.one[path], work.other[path]):
        if name != stands:
            stem, dot, ending = path.rpartition(".")
            place = f"{stem or ending}.{name[:8]}{dot}{ending if stem else ''}"
            place = f"{ASIDE}/{place}" if path.endswith(".yaml") else place
            work.tree[place] = name
            work.aside.append((path, place))
