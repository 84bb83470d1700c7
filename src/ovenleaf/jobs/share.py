"""Exchange a book with co-bakers: fetch, combine, look the whole over, send."""

from __future__ import annotations

import shlex
from typing import TYPE_CHECKING

from ovenleaf.book import addresses, git, histories, layout, remotes, sharing
from ovenleaf.book.steps.exchanging import Exchanged, NoFolder, exchange
from ovenleaf.book.steps.news import contents, news
from ovenleaf.book.steps.open_pages import all_asked
from ovenleaf.book.steps.opening import OpenBook, open_book, open_pantry, settle_baker
from ovenleaf.book.steps.sides import Blobs, kind_of
from ovenleaf.book.steps.signing import PREVIEW, Stamp
from ovenleaf.book.steps.together_words import brought_together
from ovenleaf.compare.news import News
from ovenleaf.domain.revision import slug_of
from ovenleaf.errors import Next, Refusal
from ovenleaf.results import Invited, Shared

if TYPE_CHECKING:
    from datetime import datetime
    from pathlib import Path

    from ovenleaf.book.addresses import Address
    from ovenleaf.book.steps.combining_books import CombinedBook
    from ovenleaf.book.steps.sides import Tree


class SharedWithNobody(Refusal):
    """The book has no address yet."""

    def __init__(self) -> None:
        super().__init__(
            "This book is shared with nobody yet: say where.",
            detail=(
                "A folder on a stick will do, or one that both your computers reach; so will an address that begins"
                " with ssh://, https:// or git://, of a place that somebody keeps for you.",
            ),
            next=(
                Next("ovenleaf share --at ../shared --preview", "what would go into a folder beside the book"),
                Next("ovenleaf share --at ../shared", "send it there"),
            ),
        )


def share(given: Path | None, start: Path, *, to: str, baker: str, at: datetime, preview: bool = False) -> Shared:
    """Exchange with the place `to`, or with the one the book is shared at. With `preview` nothing is sent or taken in.

    A place that does not answer is no refusal where it is known: what is written waits.
    """
    book = open_book(given, start)
    me = settle_baker(book.root, baker)
    known = sharing.load(book.root)
    place = _place(to, known, start)
    first = known.at != place.text
    if place.folder is not None and not place.folder.is_dir():
        if not first:
            return _unreached(book, me, place, at, "is not there now; the stick may be out")
        if not place.folder.parent.is_dir():
            raise NoFolder(place.shown, f"there is no folder {place.folder.parent}")
    if preview:
        return _preview(book, me, place, known, at)
    try:
        done = exchange(book.root, place, known, Stamp(by=me, at=at, verb="share"), book.page.title)
    except remotes.NotReached as unreached:
        if first:
            again = shlex.join(("ovenleaf", "share", "--at", place.shown))
            unreached.next = (Next(again, "again, when it can be reached"),)
            raise
        return _unreached(book, me, place, at, unreached.what.partition(" ")[2].rstrip("."))
    return _told(book, me, place, done, at, first=first)


def _place(to: str, known: sharing.Sharing, start: Path) -> Address:
    if not to and not known.at:
        raise SharedWithNobody
    return addresses.address(to or known.at, start)


def _entry(root: Path) -> str:
    entry = git.head(root)
    assert entry is not None, "a book begins with an entry"
    return entry


def _unreached(book: OpenBook, me: str, place: Address, at: datetime, why: str) -> Shared:
    return Shared(
        title=book.page.title,
        me=me,
        at=at.isoformat(timespec="seconds"),
        shown=place.shown,
        reached=False,
        why_not=why,
        contents=contents(Blobs(root=book.root), git.tree_ids(book.root)),
        came=News(),
        went=News(),
        asked=all_asked(book.root),
        waiting=sharing.waiting(book.root) or 0,
    )


def _preview(book: OpenBook, me: str, place: Address, known: sharing.Sharing, at: datetime) -> Shared:
    """What would go; the place itself is not asked."""
    first = known.at != place.text
    blobs, now = Blobs(root=book.root), git.tree_ids(book.root)
    was = git.tree_ids(book.root, known.there) if not first and known.there else {}
    return Shared(
        title=book.page.title,
        me=me,
        at=at.isoformat(timespec="seconds"),
        shown=place.shown,
        first=first,
        contents=contents(blobs, now),
        came=News(),
        went=News() if first else news(blobs, was, now, open_pantry(book.root)),
        waiting=sharing.waiting(book.root) or 0,
        unsaved=_unsaved(book.root),
        ahead=PREVIEW,
    )


def _told(book: OpenBook, me: str, place: Address, done: Exchanged, at: datetime, *, first: bool) -> Shared:
    """All that came in, went out, and was brought together."""
    root = book.root
    blobs, pantry = Blobs(root=root), open_pantry(root)
    before, after = git.tree_ids(root, done.before), git.tree_ids(root, done.after)
    combined = {path for made in done.combined for path in made.pages if kind_of(path) == "formula"}
    new = {f"formulas/{name}/{revision}.yaml" for made in done.combined for name, revision in made.revisions}
    there = _there(root, done)
    went = news(blobs, there, before, pantry) if there or not first else News()
    asked = all_asked(root, (path for path in after if before.get(path) != after[path]))
    return Shared(
        title=book.page.title,
        me=me,
        at=at.isoformat(timespec="seconds"),
        shown=place.shown,
        sent=done.sent,
        first=first and not done.arrived,
        contents=contents(blobs, after),
        came=news(blobs, before, after, pantry, without=frozenset(combined | new)),
        went=went if done.sent else News(),
        together=tuple(
            brought_together(root, blobs, after, name, revision, pantry)
            for made in done.combined
            for name, revision in made.revisions
        ),
        asked=asked or all_asked(root),
        renamed=tuple(one for made in done.combined for one in made.renamed),
        notes=(*done.notes, *(note for made in done.combined for note in _notes(made))),
        unsaved=_unsaved(root),
        ahead=done.recovered,
    )


def _there(root: Path, done: Exchanged) -> Tree:
    """What was at the place before we sent: all that was found there, as far as we had it too."""
    found: Tree = {}
    for tip in done.arrived:
        for entry in histories.where_parted(root, done.before, tip):
            found |= git.tree_ids(root, entry)
    return found


def _notes(made: CombinedBook) -> tuple[str, ...]:
    """What could not be combined, in sentences."""
    return tuple(
        f"{path} was changed by both and could not be combined. Both are kept; the other one is {there}."
        for path, there in made.aside
    )


def _unsaved(root: Path) -> tuple[str, ...]:
    """Pages edited by hand and not saved: they are not sent."""
    pages = set(layout.working_pages(root))
    return tuple(page for page in git.changed(root) if page in pages)


def invite(given: Path | None, start: Path) -> Invited:
    """The note for somebody who is to join. Raises SharedWithNobody."""
    book = open_book(given, start)
    known = sharing.load(book.root)
    place = _place("", known, start)
    blobs = Blobs(root=book.root)
    names = contents(blobs, git.tree_ids(book.root)).names
    return Invited(
        title=book.page.title,
        shown=place.shown,
        folder=slug_of(book.page.title) or "book",
        by=" and ".join(names[:2]),
        shared=bool(known.there),
    )
