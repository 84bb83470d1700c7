"""A copy of a book that somebody shares, in a folder of its own, written in under a name of its own."""

from __future__ import annotations

import shlex
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

from ovenleaf.book import addresses, combiner, git, histories, remotes, sharing
from ovenleaf.book.steps.bringing_together import bring_together
from ovenleaf.book.steps.exchanging import go_on_to, receive
from ovenleaf.book.steps.new_folder import gone_if_not_made, refuse_taken
from ovenleaf.book.steps.news import contents
from ovenleaf.book.steps.opening import BadHandle, open_book, remember_baker
from ovenleaf.book.steps.pages import lay_out_schemas
from ovenleaf.book.steps.sides import Blobs
from ovenleaf.book.steps.signing import PREVIEW, Stamp
from ovenleaf.domain.revision import is_slug
from ovenleaf.errors import Next, NoBaker, Refusal
from ovenleaf.results import Joined

if TYPE_CHECKING:
    from datetime import datetime

    from ovenleaf.book.addresses import Address


class NoBookThere(Refusal):
    """Nothing is shared at the address. Fact: `shown`."""

    def __init__(self, shown: str, notes: tuple[str, ...] = ()) -> None:
        super().__init__(
            f"No book is shared at {shown}.",
            detail=notes or ("See how it is spelled; and whoever invited you has to share first.",),
        )
        self.shown = shown


class HandleTaken(Refusal):
    """Another copy of the book writes under this name. Facts: `handle`, `offered`."""

    def __init__(self, handle: str, offered: str, command: str) -> None:
        super().__init__(
            f"Somebody bakes as {handle} in this book already.",
            detail=(
                "Each copy of a book writes under a name of its own, so that no two pages ever have one name.",
                "If that is you at another place, say which place this is.",
            ),
            next=(Next(f"{command} {offered}"),),
        )
        self.handle = handle
        self.offered = offered


def join(
    typed: str, folder: Path, *, start: Path, shown: Path, baker: str, at: datetime, preview: bool = False
) -> Joined:
    """Make `folder` (new or empty) a copy of the book at the address `typed`; `shown` is the folder as typed.

    With `preview` the copy is made elsewhere, told of and thrown away. Raises FolderTaken, NoBaker, BadHandle,
    HandleTaken, NoBookThere and the refusals of its steps.
    """
    if not baker:
        raise NoBaker
    if not is_slug(baker):
        raise BadHandle(baker)
    git.require()
    place = addresses.address(typed, start)
    command = f"join {shlex.quote(place.shown)}"
    refuse_taken(folder, shown, command)
    if preview:
        with TemporaryDirectory(prefix="ovenleaf-", ignore_cleanup_errors=True) as elsewhere:
            git.init(Path(elsewhere))
            return replace(_filled(Path(elsewhere), place, shown, baker, at), ahead=PREVIEW)
    with gone_if_not_made(folder, shown, command):
        folder.mkdir(parents=True, exist_ok=True)
        git.init(folder)
        combiner.set_up(folder)
        return _filled(folder, place, shown, baker, at)


def _filled(folder: Path, place: Address, shown: Path, baker: str, at: datetime) -> Joined:
    try:
        found = receive(folder, place, sharing.Sharing())
    except remotes.NotReached as unreached:
        again = shlex.join(("ovenleaf", "--baker", baker, "join", place.shown, str(shown)))
        unreached.next = (Next(again, "again, when it can be reached"),)
        raise
    if not found.tips:
        raise NoBookThere(place.shown, found.notes)
    goal = found.tips[0]
    for tip in found.tips[1:]:
        goal = bring_together(folder, goal, tip).entry
    command = shlex.join(("ovenleaf", "join", place.shown, str(shown), "--baker"))
    _refuse_taken_handle(folder, goal, baker, command)
    remember_baker(folder, baker)
    lay_out_schemas(folder)
    go_on_to(folder, goal, None, Stamp(by=baker, at=at, verb="join"), "the book that is shared")
    sharing.save(folder, sharing.Sharing(at=place.text, there=goal, seen=found.seen))
    last = histories.signed(folder, goal)
    return Joined(
        title=open_book(folder, folder).page.title,
        folder=shown,
        me=baker,
        contents=contents(Blobs(root=folder), git.tree_ids(folder)),
        last_by=last.name,
        last_at=last.at.isoformat(timespec="seconds"),
        now=at.isoformat(timespec="seconds"),
    )


def _refuse_taken_handle(root: Path, entry: str, baker: str, command: str) -> None:
    taken = histories.writers(root, entry)
    if baker not in taken:
        return
    offers = (f"{baker}-{place}" for place in ("shop", "home", *map(str, range(2, 100))))
    raise HandleTaken(baker, next(offer for offer in offers if offer not in taken), command)
