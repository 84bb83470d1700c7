"""One exchange with the place a book is shared at: what is there comes in, is checked, combined, and ours is sent.

Whatever goes wrong leaves the book as it was, or with what came in wholly in it; nothing of ours is lost.
"""

from __future__ import annotations

import contextlib
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from ovenleaf.book import arrivals, bundles, combiner, git, histories, layout, remotes, sharing, store
from ovenleaf.book.steps.bringing_together import bring_together
from ovenleaf.book.write_faults import FULL, READ_ONLY, CannotWrite, mending, reason_of
from ovenleaf.domain.revision import slug_of
from ovenleaf.errors import Next, Refusal

if TYPE_CHECKING:
    from pathlib import Path

    from ovenleaf.book.addresses import Address
    from ovenleaf.book.steps.combining_books import CombinedBook
    from ovenleaf.book.steps.signing import Stamp

TRIES = 5
_LOOK = "See that the stick is in, or that the folder is spelled as it is on this computer."
# Of the folder that is shared in, by what the disk says: in words, and what is to be done.
_AT_THE_PLACE = {
    FULL: ("it is full", "Make room there, and share again."),
    READ_ONLY: ("it may not be written in", "Some sticks have a switch for it. Share again when it may be."),
}
_CAME_IN = "What came in is in your book, and nothing of yours is lost; it waits to be sent."


class TooBusy(Refusal):
    """Others were faster each time. Fact: `tries`."""

    def __init__(self, shown: str, tries: int) -> None:
        super().__init__(
            f"Others were sending to {shown} at the same time, {tries} times over.",
            detail=(_CAME_IN,),
            next=(Next("ovenleaf share", "try again in a moment"),),
        )
        self.tries = tries


def _after(came_in: bool) -> str:
    return _CAME_IN if came_in else "Your book is as it was, and nothing was sent."


class NoFolder(Refusal):
    """The folder to share in cannot be made, read or written in. Fact: `shown`."""

    def __init__(self, shown: str, why: str, *detail: str) -> None:
        super().__init__(f"{shown} cannot be shared in: {why}.", detail=detail or (_LOOK,))
        self.shown = shown


class NotShared(Refusal):
    """The disk that the book is on does not take it. Facts: `reason`; `came_in`, whether anything did before."""

    def __init__(self, reason: str, *, came_in: bool) -> None:
        super().__init__(f"The book could not be shared: {reason}.", detail=(_after(came_in), mending(reason)))
        self.reason = reason
        self.came_in = came_in


class EditsInTheWay(Refusal):
    """Pages that would change were edited by hand and are not saved. Fact: `pages`."""

    def __init__(self, pages: tuple[str, ...]) -> None:
        more = f", and {len(pages) - 1} more" if len(pages) > 1 else ""
        super().__init__(
            f"{pages[0]}{more} was edited by hand and is not saved, and what came in changes it too.",
            detail=("Nothing was changed or sent. Save your edits first, and share again.",),
            next=(Next('ovenleaf save --why "..."', "keep what was edited"), Next("ovenleaf share")),
        )
        self.pages = pages


@dataclass(frozen=True, slots=True, kw_only=True)
class Exchanged:
    """How it went. `before` and `after` are the book's last entries; `there` what was known to be there before,
    `arrived` what was found; `combined` every combining on the way."""

    before: str
    after: str
    there: str
    arrived: tuple[str, ...]
    combined: tuple[CombinedBook, ...]
    sent: bool
    notes: tuple[str, ...] = ()
    recovered: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Found:
    """What lies at the place."""

    tips: tuple[str, ...]
    notes: tuple[str, ...] = ()
    seen: dict[str, str] = field(default_factory=dict)


def exchange(root: Path, place: Address, known: sharing.Sharing, stamp: Stamp, title: str) -> Exchanged:
    """Take in, combine and send, again where others were faster. Raises the refusals of its steps, NoFolder,
    NotShared and TooBusy."""
    before = _head(root)
    try:
        return _exchange(root, place, known, stamp, title)
    except bundles.PlaceFault as fault:
        why, mend = _AT_THE_PLACE.get(reason_of(fault) or "", (f"the disk answered: {fault.strerror}", _LOOK))
        raise NoFolder(place.shown, why, _after(git.head(root) != before), mend) from fault
    except (OSError, git.GitFault, CannotWrite) as fault:
        reason = reason_of(fault)
        if reason is None or (isinstance(fault, CannotWrite) and not fault.put_back):
            raise
        raise NotShared(reason, came_in=git.head(root) != before) from fault


def _exchange(root: Path, place: Address, known: sharing.Sharing, stamp: Stamp, title: str) -> Exchanged:
    recovered = store.recover(root) or ""
    with contextlib.suppress(OSError):  # a copy that was begun before there was this
        combiner.set_up(root)
    before = entry = _head(root)
    combined: list[CombinedBook] = []
    for _ in range(TRIES):
        found = receive(root, place, known)
        made = _taken_in(root, entry, found, stamp)
        entry, combined = made[0], [*combined, *made[1]]
        sent = deliver(root, place, found, entry, stamp.by, title)
        if sent is not None:
            there = known.there if known.at == place.text else ""
            sharing.save(root, sharing.Sharing(at=place.text, there=entry, seen=found.seen))
            return Exchanged(
                before=before,
                after=entry,
                there=there,
                arrived=found.tips,
                combined=tuple(combined),
                sent=sent,
                notes=found.notes,
                recovered=recovered,
            )
    raise TooBusy(place.shown, TRIES)


def _head(root: Path) -> str:
    entry = git.head(root)
    assert entry is not None, "a book begins with an entry"
    return entry


def receive(root: Path, place: Address, known: sharing.Sharing) -> _Found:
    """What lies there, taken in and checked; nothing in the book has moved."""
    if place.folder is None:
        tip = remotes.fetch(root, place)
        found = _Found(tips=(tip,) if tip else (), notes=_missed(root, place, known, tip))
    else:
        seen = known.seen if known.at == place.text else {}
        got = bundles.receive(root, place.folder, seen)
        found = _Found(tips=got.tips, notes=_notes(got), seen=got.seen)
    ours = git.head(root)
    for tip in found.tips:
        if ours is None or not histories.follows(root, ours, tip):  # what the book grew from was looked at before
            arrivals.check(root, tip)
    return found


def _missed(root: Path, place: Address, known: sharing.Sharing, tip: str | None) -> tuple[str, ...]:
    """What is to be told of a place where what was shared before is not there any more."""
    there = known.there if known.at == place.text else ""
    if not there or not histories.has(root, there) or (tip and histories.follows(root, tip, there)):
        return ()
    safe = "Your book has all of it still, and it is there again now."
    if tip is None:
        return (f"Nothing was at {place.shown} any more, though the book had been shared there. {safe}",)
    return (f"What had been shared at {place.shown} was no longer all there: somebody rewrote it there. {safe}",)


def _notes(got: bundles.Received) -> tuple[str, ...]:
    """What is to be told of a folder's parts."""
    again = "Whoever wrote it can share again; nothing of yours is lost."
    return (
        *(f"{name} is missing there, so what follows it could not be read. {again}" for name in got.missing),
        *(f"{name} is damaged and was left alone. {again}" for name in got.damaged),
        *(
            f"{name} is no longer what it was when it was last read: somebody rewrote it. What it holds now was"
            " taken in beside what your book had."
            for name in got.rewritten
        ),
    )


def _taken_in(root: Path, entry: str, found: _Found, stamp: Stamp) -> tuple[str, list[CombinedBook]]:
    """Bring the book together with every tip that it does not follow yet; its last entry now, and the combinings."""
    goal, combined = entry, []
    for tip in found.tips:
        if not histories.follows(root, goal, tip):
            made = bring_together(root, goal, tip)
            goal = made.entry
            combined += [made.combined] if made.combined else []
    if goal != entry:
        go_on_to(root, goal, entry, stamp, "what came in from the others")
    return goal, combined


def go_on_to(root: Path, goal: str, entry: str | None, stamp: Stamp, what: str) -> str | None:
    """Make the book what the entry `goal` holds, its pages too; a sentence on an earlier entry that was cut off.

    Raises EditsInTheWay, before anything is written, for a page that was edited by hand and would change.
    """
    was = git.tree_ids(root, entry) if entry else {}
    now = git.tree_ids(root, goal)
    paths = [path for path in sorted({*was, *now}) if was.get(path) != now.get(path)]
    ids = {name for path in paths for name in (was.get(path), now.get(path)) if name}
    data = git.read_blobs(root, sorted(ids)) if ids else {}
    here = {path: layout.read_file(root, path) for path in paths}
    wanted = {path: data[now[path]] if path in now else None for path in paths}
    saved = {path: data[was[path]] if path in was else None for path in paths}
    edited = tuple(path for path in paths if here[path] not in (saved[path], wanted[path]))
    if edited:
        raise EditsInTheWay(edited)
    made = store.Entry(subject=what, by=stamp.by, at=stamp.at, ready=goal, after=entry)
    return store.write(root, wanted, made, expect=here).recovered


def deliver(root: Path, place: Address, found: _Found, entry: str, by: str, title: str) -> bool | None:
    """Send what is not there yet: True if anything was sent, None where somebody else was faster."""
    there = any(histories.follows(root, tip, entry) for tip in found.tips)
    if place.folder is None:
        return False if there else True if remotes.send(root, place, entry) else None
    own = bundles.own_series(place.folder, by)
    if there and own.whole:
        return False
    since = own.tip if own.tip is not None and own.tip != entry and histories.has(root, own.tip) else None
    name, tip = bundles.send(root, place.folder, slug_of(title) or "book", by, since)
    found.seen[name] = tip
    return True
