"""Mend what can be mended in a book, and say of each thing what was done. Nothing of worth is lost."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book import git, layout, lost_entries, mending, settings
from ovenleaf.book.steps.hand_edits import changes_by_others
from ovenleaf.book.steps.opening import find_root, settle_baker
from ovenleaf.book.steps.signing import PREVIEW, Stamp, put
from ovenleaf.book.steps.tampering import as_saved, tampered
from ovenleaf.book.steps.undoing import MENDED
from ovenleaf.book.write_faults import UNKNOWN, CannotWrite, reason_of
from ovenleaf.results import Repaired

if TYPE_CHECKING:
    from datetime import datetime
    from pathlib import Path

    from ovenleaf.book.steps.tampering import Tampered


def repair(given: Path | None, start: Path, *, baker: str, at: datetime, preview: bool = False) -> Repaired:
    """Mend the book beside its pages, then put back kept pages that were changed behind its back.

    Raises NoHistory, SettingsRefused, BookInUse, NoBaker where kept pages are to be put back.
    """
    root = find_root(given, start)
    _find_pointer(root)
    git.require()
    settings.check(root)
    now = at.timestamp()
    try:
        done = tuple(one.told for one in mending.mendings(root, now)) if preview else mending.under_lock(root, now)
    except OSError as fault:
        raise CannotWrite(reason_of(fault) or UNKNOWN) from fault
    found = _tampered(root)
    if found:
        stamp = Stamp(by=settle_baker(root, baker), at=at, verb=MENDED, preview=preview)
        pages = as_saved(root, found)
        names = ", ".join(one.page for one in found)
        put(root, pages, stamp, f"{names}: put back as saved ({stamp.by})", expect={one.page: one.now for one in found})
        done += tuple(_told(one) for one in found)
    return Repaired(done=done, left=_left(root, now), ahead=PREVIEW if preview else "")


def _find_pointer(root: Path) -> None:
    """A history of which only the pointer is gone is a history still."""
    folder = layout.git_folder(root)
    if not folder.is_symlink() and (folder / "refs" / "heads").is_dir() and not (folder / "HEAD").exists():
        layout.replace_file(folder / "HEAD", lost_entries.MAIN, temporary=folder / "HEAD.new")


def _tampered(root: Path) -> tuple[Tampered, ...]:
    try:
        return tampered(root, git.changed(root), changes_by_others(root))
    except git.HistoryDamaged:  # told of in what is left
        return ()


def _told(one: Tampered) -> str:
    if one.now is None:
        return f"{one.page} was gone. It is put back as it was saved."
    return f"{one.page} was not as it was saved. It is put back, and what lay there is kept in the folder aside."


def _left(root: Path, now: float) -> tuple[str, ...]:
    locks = tuple(
        f"{path} was put there within the last hour: a program may be at work. If none is, wait until it is an hour"
        " old and run ovenleaf check --repair again, or delete it."
        for path in mending.fresh_locks(root, now)
    )
    if lost_entries.is_whole(root):
        return locks
    return (
        *locks,
        "The history lacks files that nothing in this copy holds. The pages are all there and can be read. If the book"
        " is shared, take a whole copy (ovenleaf join --help says how), and carry over what was not shared yet.",
    )
