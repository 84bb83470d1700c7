"""The note of what is being written, kept in the book until it is done; and how to finish or drop it.

A writer that fails and the next writer after a killed one go through the same `settle`. Knows
nothing of what pages say. All of it is called under the book's lock.
"""

from __future__ import annotations

import base64
import json
import os
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from ovenleaf.book import git, layout, lock
from ovenleaf.errors import Next, Place, Refusal

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from pathlib import Path

SHARED_INDEX_WAIT = 1.0  # seconds; an editor's git takes the index for moments only
ENTRIES_LOOKED_AT = 1000  # how far another program may have gone on since, before we stop looking


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One page: its bytes before (None: there was none) and the id of its bytes after (None: gone)."""

    path: str
    old: bytes | None
    new: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Pending:
    """What is being written: a phrase for the baker, the last entry before, and the pages."""

    what: str
    base: str | None
    changes: tuple[Change, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Settled:
    """How it ended: the entry's id if it is in the book; pages that were edited by hand and so left."""

    entry: str | None
    left_alone: tuple[str, ...]


class JournalUnreadable(Refusal):
    """The note of an entry that was cut off makes no sense, so nothing can be made of it."""

    def __init__(self) -> None:
        super().__init__(
            "An earlier entry was cut off, and the note of it cannot be read.",
            where=Place(".git/ovenleaf/pending"),
            detail=(
                "Look at the pages you worked on last: the entry may be on them in part. Then put the note by, and run"
                " the command again.",
            ),
            next=(Next("ovenleaf check --repair", "puts the note by"),),
        )


def private_index(root: Path) -> Path:
    """The index in which the next entry is put together, apart from the one git users see."""
    return layout.state_folder(root) / "entry-index"


def temporary_page(root: Path) -> Path:
    """Where a page lies while it is being written."""
    return layout.state_folder(root) / "page.tmp"


def save(root: Path, pending: Pending) -> None:
    """Puts the note in place, lasting, before anything else is written; and keeps room for going back.

    The room is a file as large as the largest page before: `tidy` gives it up, so that a page can be
    put back on a disk that filled up meanwhile.
    """
    _room(root).write_bytes(max((one.old for one in pending.changes if one.old), key=len, default=b""))
    changes = [
        {"path": one.path, "old": None if one.old is None else base64.b64encode(one.old).decode(), "new": one.new}
        for one in pending.changes
    ]
    text = json.dumps({"what": pending.what, "base": pending.base, "changes": changes}, indent=1)
    layout.replace_file(_path(root), text.encode(), temporary=_temporary(root))


def is_there(root: Path) -> bool:
    """True while something is being written, or was cut off."""
    return _path(root).exists()


def load(root: Path) -> Pending | None:
    """The note of an entry that was cut off, None if there is none.

    JournalUnreadable if it makes no sense or names a page outside the book: a copied book may bring
    a note of anyone's making.
    """
    path = _path(root)
    if not os.path.lexists(path):
        return None
    try:
        if not path.is_file():
            raise JournalUnreadable
        pending = _parse(json.loads(path.read_bytes()))
        for change in pending.changes:
            layout.page_path(root, change.path)
    except (OSError, ValueError, KeyError, TypeError, RecursionError, layout.NotAPage):
        raise JournalUnreadable from None
    return pending


def _parse(data: Any) -> Pending:
    changes = tuple(
        Change(
            path=_text(one["path"]),
            old=None if one["old"] is None else base64.b64decode(one["old"], validate=True),
            new=_id(one["new"]),
        )
        for one in data["changes"]
    )
    return Pending(what=_text(data["what"]), base=_id(data["base"]), changes=changes)


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise TypeError
    return value


def _id(value: object) -> str | None:
    if value is None:
        return None
    if not isinstance(value, str) or len(value) != 40 or set(value) - set("0123456789abcdef"):
        raise ValueError
    return value


def remove(root: Path) -> None:
    """Takes the note away: the entry is done, or dropped."""
    _path(root).unlink(missing_ok=True)
    layout.flush_folder(layout.state_folder(root))


def tidy(root: Path) -> None:
    """Takes away our own half-made files; they mean nothing without a writer at work."""
    index = private_index(root)
    locked_index = index.with_name(index.name + ".lock")
    for path in (_temporary(root), temporary_page(root), _room(root), index, locked_index):
        path.unlink(missing_ok=True)


def entry_of(root: Path, pending: Pending) -> str | None:
    """The entry that holds what the note names, None if it never came to be.

    Entries after `base` are looked through, since another program may have gone on from ours.
    """
    head = git.head(root)
    if head is None or head == pending.base:
        return None
    meant = {change.path: change.new for change in pending.changes}
    for entry in git.entries_since(root, pending.base, limit=ENTRIES_LOOKED_AT):
        if git.ids_at(root, entry, meant) == meant:
            return entry
    return None


def settle(root: Path, pending: Pending, entry: str | None, *, pass_fds: Sequence[int]) -> Settled:
    """Finishes the entry if it came to be (`entry`, by `entry_of`), else puts the pages back.

    A page in neither its old nor its new state was edited by hand meanwhile and stays as it is.
    The note goes last: until then this can be done again.
    """
    tidy(root)
    kept = git.read_blobs(root, _new_ids(pending)) if entry else {}
    left_alone = []
    # New pages go before old ones come back: on a full disk that gives room.
    for change in sorted(pending.changes, key=lambda change: change.old is not None):
        now = layout.read_file(root, change.path)
        is_new, is_old = _id_of(now) == change.new, now == change.old
        if entry and is_old and not is_new:
            put_page(root, change.path, kept[change.new] if change.new else None)
        elif entry is None and is_new and not is_old:
            put_page(root, change.path, change.old)
        elif not is_new and not is_old:
            left_alone.append(change.path)
    if entry:
        # As the last entry has them: another program may have gone on from ours.
        paths = [change.path for change in pending.changes]
        update_shared_index(root, git.ids_at(root, "HEAD", paths), pass_fds=pass_fds)
    remove(root)
    return Settled(entry=entry, left_alone=tuple(left_alone))


def put_page(root: Path, page: str, data: bytes | None) -> None:
    """Makes a page hold `data`, or takes it away where that is None; lasting."""
    target = layout.page_path(root, page)
    if data is None:
        layout.remove_file(root, target)
    else:
        layout.replace_file(target, data, temporary=temporary_page(root))


def update_shared_index(root: Path, ids: Mapping[str, str | None], *, pass_fds: Sequence[int]) -> None:
    """Lets the index that git users see know of our pages, and of nothing else."""
    lock.wait_for_others(root, SHARED_INDEX_WAIT)
    if not (layout.git_folder(root) / "index").exists():
        git.read_tree(root, git.head(root), pass_fds=pass_fds)
    git.set_in_index(root, ids, pass_fds=pass_fds)
    git.refresh_index(root, (path for path, found in ids.items() if found), pass_fds=pass_fds)


def recover(root: Path, *, pass_fds: Sequence[int]) -> str | None:
    """Settles what a cut-off writer left; a sentence on which entry and whether it is saved, or None.

    git's lock files that lie beside a note are ours, left by a child that was ended with us.
    """
    tidy(root)
    pending = load(root)
    if pending is None:
        return None
    git.remove_locks(root)
    settled = settle(root, pending, entry_of(root, pending), pass_fds=pass_fds)
    return _sentence(pending, settled)


def _sentence(pending: Pending, settled: Settled) -> str:
    told = f"An earlier entry had been cut off: {pending.what.rstrip('.')}."
    if settled.entry:
        return f"{told} It is saved."
    told = f"{told} It was not saved, so nothing of it is in the book"
    if settled.left_alone:
        return f"{told}, but {', '.join(settled.left_alone)} was edited since and stays as it is."
    return f"{told}."


def _new_ids(pending: Pending) -> list[str]:
    return [one.new for one in pending.changes if one.new]


def _id_of(data: bytes | None) -> str | None:
    return None if data is None else git.blob_id(data)


def _path(root: Path) -> Path:
    return layout.state_folder(root) / "pending"


def _temporary(root: Path) -> Path:
    return layout.state_folder(root) / "pending.tmp"


def _room(root: Path) -> Path:
    return layout.state_folder(root) / "room"
