"""What can be mended beside a book's pages: leftovers, lists gone bad, a history that a power cut has spoiled.

Each mending is a sentence and what is to be done, so that it can be told before it is done. Whatever may still be
worth something is moved and not deleted. Must not know what a page says.
"""

from __future__ import annotations

import hashlib
import zlib
from contextlib import suppress
from typing import TYPE_CHECKING

from ovenleaf.book import bundles, git, index, journal, layout, lock, sharing
from ovenleaf.book.lost_entries import Mending, last_entry

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from pathlib import Path

STALE = 3600  # seconds; no program keeps a lock file of git's as long as that unless it was cut off
_HALF_MADE = (
    "pending.tmp", "page.tmp", "room", "entry-index", "entry-index.lock", "combined-index", "combined-index.lock",
    "part.bundle", "part.bundle.lock", "baker.new", "sharing.new", "put-back-index", "put-back-index.lock",
)  # fmt: skip
_BLOCK = 1 << 16


def mendings(root: Path, now: float, *, pass_fds: Sequence[int] = ()) -> Iterator[Mending]:
    """Everything that can be mended, in the order in which it must be: each is looked for once the one before is done.

    `now` is in seconds since 1970. To be called under the book's lock, unless nothing is done.
    """
    yield from _spoiled(root)
    yield from last_entry(root)
    yield from _old_locks(root, now)
    yield from _cut_off(root, pass_fds)
    yield from _half_made(root, now)
    if index.is_spoiled(root):
        told = "What was remembered of pages already read was spoiled. It is thrown away, and they are read again."
        yield Mending(told=told, act=lambda: index.throw_away(root))
    yield from _list_of_files(root, pass_fds)


def fresh_locks(root: Path, now: float) -> tuple[str, ...]:
    """git's lock files that may still be somebody's."""
    return tuple(_told(root, path) for path in git.pending_locks(root) if not _is_stale(path, now))


def _is_stale(path: Path, now: float) -> bool:
    with suppress(OSError):
        return now - path.lstat().st_mtime > STALE
    return False


def _old_locks(root: Path, now: float) -> Iterator[Mending]:
    for path in git.pending_locks(root):
        if _is_stale(path, now):
            told = (
                f"{_told(root, path)} was left behind more than an hour ago by a program that was cut off. It is gone."
            )
            yield Mending(told=told, act=path.unlink)


def _cut_off(root: Path, pass_fds: Sequence[int]) -> Iterator[Mending]:
    try:
        pending = journal.load(root)
    except journal.JournalUnreadable:
        place = layout.state_folder(root) / "pending"
        told = (
            "An earlier entry was cut off, and the note of it cannot be read, so nothing could be made of it. The note"
            " now lies in .git/ovenleaf/spoiled; look at the pages you worked on last."
        )
        yield Mending(told=told, act=lambda: _put_by(root, place))
        return
    if pending is not None:
        told = f"An entry had been cut off: {pending.what.rstrip('.')}. It is finished if it was whole, else dropped."
        yield Mending(told=told, act=lambda: journal.recover(root, pass_fds=pass_fds))


def _half_made(root: Path, now: float) -> Iterator[Mending]:
    state = layout.state_folder(root)
    found = [path for name in _HALF_MADE if (path := state / name).is_file()]
    known = sharing.load(root)
    if known.at and (root / known.at).is_dir():
        found += [path for path in bundles.half_written(root / known.at) if _is_stale(path, now)]
    if found:
        names = ", ".join(path.name for path in found)
        yield Mending(told=f"Half-made files were left behind and are gone: {names}.", act=lambda: _remove(found))


def _remove(found: Sequence[Path]) -> None:
    for path in found:
        path.unlink(missing_ok=True)


def _list_of_files(root: Path, pass_fds: Sequence[int]) -> Iterator[Mending]:
    """The list in which git notes which files there are: it can be made anew from the last entry."""
    path = layout.git_folder(root) / "index"
    if not path.exists() or _is_whole(path):
        return

    def make_anew() -> None:
        _put_by(root, path)
        git.read_tree(root, git.head(root), pass_fds=pass_fds)
        git.refresh_index(root, git.tree_ids(root), pass_fds=pass_fds)

    yield Mending(told="The list of files that is kept for git was spoiled. It is made anew.", act=make_anew)


def _is_whole(path: Path) -> bool:
    """True if the list ends in the digest of all that stands before it, or in none at all."""
    if not path.is_file():
        return False
    data = path.read_bytes()
    end = data[-20:]
    if not data.startswith(b"DIRC") or len(data) < 32:
        return False
    return end == bytes(20) or hashlib.sha1(data[:-20], usedforsecurity=False).digest() == end


def _spoiled(root: Path) -> Iterator[Mending]:
    """Files of the history whose bytes are not what their name says: they only stand in the way of sound ones."""
    found = [path for path in sorted((layout.git_folder(root) / "objects").glob("??/*")) if not _is_sound(path)]
    if found:
        many = "One file of the history was" if len(found) == 1 else f"{len(found)} files of the history were"
        told = f"{many} spoiled. What is spoiled now lies in .git/ovenleaf/spoiled, out of the way."
        yield Mending(told=told, act=lambda: _put_by(root, *found))


def _is_sound(path: Path) -> bool:
    """True if a file of the history holds what its name says; read piece by piece, whatever it may swell to."""
    if len(path.name) != 38 or not path.is_file():
        return True  # not such a file
    digest, inflate = hashlib.sha1(usedforsecurity=False), zlib.decompressobj()
    try:
        with path.open("rb") as stream:
            while piece := stream.read(_BLOCK):
                while piece:
                    digest.update(inflate.decompress(piece, _BLOCK))
                    piece = inflate.unconsumed_tail
    except zlib.error:
        return False
    return inflate.eof and digest.hexdigest() == path.parent.name + path.name


def _put_by(root: Path, *found: Path) -> None:
    """Moves files out of the way, beside those that were put by before."""
    folder = layout.state_folder(root) / "spoiled"
    folder.mkdir(exist_ok=True)
    for number, path in enumerate(found, start=len(list(folder.iterdir()))):
        name = path.name if path.parent.name in (".git", "ovenleaf") else f"{path.parent.name}{path.name}"
        path.rename(folder / f"{number:03}-{name}")


def _told(root: Path, path: Path) -> str:
    return path.relative_to(root).as_posix()


def under_lock(root: Path, now: float) -> tuple[str, ...]:
    """Mends all that can be mended; what was done, sentence by sentence. BookInUse while another ovenleaf writes."""
    told = []
    with lock.held(root, 10.0) as inherited, lock.ctrl_c_held_back():
        for one in mendings(root, now, pass_fds=inherited):
            one.act()
            told.append(one.told)
    return tuple(told)
