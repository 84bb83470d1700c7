"""Where things lie in a book's folder, and how one file is read or replaced for good.

Knows names, folders and bytes. Must not know git, what a page says, or who holds the book.
"""

from __future__ import annotations

import os
import re
import stat
import sys
import time
from typing import TYPE_CHECKING

from ovenleaf.book.places import HISTORY, STATE
from ovenleaf.errors import Place, Refusal

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

TOP_PAGES = ("book.yaml", "ingredients.yaml")
PAGE_FOLDERS = ("formulas", "trials", "tastings")
PAGE_LIMIT = 1_000_000  # bytes; the longest page anyone has typed is a hundredth of it
_IN_NO_NAME = re.compile(r'[\\:<>|?*"\x00-\x1f]')
REPLACE_TRIES = 20  # Windows only: a virus scanner or an editor lets go of a page within a second


class NotAPage(Refusal):
    """A name that does not lead to a plain page inside the book. Facts: `page`, `why`."""

    def __init__(self, page: str, why: str) -> None:
        super().__init__(f"{page} cannot be used as a page of this book.", where=Place(page), detail=(why,))
        self.page = page
        self.why = why


def git_folder(root: Path) -> Path:
    """The folder that holds the book's history."""
    return root / HISTORY


def state_folder(root: Path) -> Path:
    """The folder for what belongs to this copy alone: lock, journal, index, reports."""
    return git_folder(root) / STATE


def page_path(root: Path, page: str) -> Path:
    """Where `page` (relative, with `/`) lies; NotAPage if it leads out of the book or over a link."""
    way = str(root)
    for name in page.split("/"):
        if not _is_plain_name(name):
            raise NotAPage(page, "It would lie outside the book's own pages.")
        way = f"{way}/{name}"
        if os.path.islink(way):  # noqa: PTH114 - a path object for each part takes longer than the look
            raise NotAPage(page, "It is a link, or lies behind one, and links are not followed.")
    return root / page


def _is_plain_name(name: str) -> bool:
    if _IN_NO_NAME.search(name):
        return False
    # Windows drops dots and spaces at the end and knows .git by a short name as well.
    folded = name.lower().rstrip(". ")
    return folded not in ("", ".git", "git~1")


def read_file(root: Path, page: str) -> bytes | None:
    """The bytes of a page or photo, None if there is none; NotAPage if it is not a plain file."""
    path = page_path(root, page)
    size = _size(path, page)
    return None if size is None else _bytes(path)


def read_page(root: Path, page: str) -> bytes:
    """The bytes of a page; NotAPage if it is missing, a link, outside the book, or over 1 MB."""
    path = page_path(root, page)
    size = _size(path, page)
    if size is not None and size > PAGE_LIMIT:
        raise NotAPage(page, "It is longer than 1 MB.")
    data = None if size is None else _bytes(path)
    if data is None:
        raise NotAPage(page, "There is no such page.")
    return data


def _size(path: Path, page: str) -> int | None:
    """How many bytes a file has, None where there is none; NotAPage if it is not a plain file."""
    try:
        found = path.lstat()
    except (FileNotFoundError, NotADirectoryError):
        return None
    if not stat.S_ISREG(found.st_mode):
        raise NotAPage(page, "It is not a plain file.")
    return found.st_size


def _bytes(path: Path) -> bytes | None:
    try:
        return path.read_bytes()
    except (FileNotFoundError, NotADirectoryError):
        return None


def read_listed(root: Path, page: str) -> bytes:
    """The bytes of a page that `working_pages` has just told of, so that its way need not be looked at again.

    Of a page over 1 MB more than 1 MB, but not all; of one that is gone since, none.
    """
    try:
        with open(f"{root}/{page}", "rb", buffering=0) as stream:  # noqa: PTH123 - a path object costs as much again
            return stream.read(PAGE_LIMIT + 1) or b""
    except OSError:
        return b""


def working_pages(root: Path) -> tuple[str, ...]:
    """The pages that lie in the book's folder now, sorted; plain files only, links are not followed.

    Names that begin with a dot are left out: editors keep their half-written copies so.
    """
    found = [page for page in TOP_PAGES if _is_plain_file(root / page)]
    for folder in PAGE_FOLDERS:
        found.extend(pages_in(root, folder))
    return tuple(sorted(found))


def pages_in(root: Path, folder: str) -> tuple[str, ...]:
    """Those of them that lie below one folder of the book, sorted; only that folder is walked."""
    if any((root / part).is_symlink() for part in _ways_to(folder)):
        return ()
    return tuple(sorted(_pages_below(root / folder, f"{folder}/")))


def _ways_to(folder: str) -> Iterator[str]:
    parts = folder.split("/")
    return ("/".join(parts[:end]) for end in range(1, len(parts) + 1))


def _is_plain_file(path: Path) -> bool:
    return path.is_file() and not path.is_symlink()


def _pages_below(folder: Path, prefix: str) -> Iterator[str]:
    try:
        entries = list(os.scandir(folder))
    except (FileNotFoundError, NotADirectoryError):
        return
    for entry in entries:
        if entry.name.startswith("."):
            continue
        if entry.is_dir(follow_symlinks=False):
            yield from _pages_below(folder / entry.name, f"{prefix}{entry.name}/")
        elif entry.name.endswith(".yaml") and entry.is_file(follow_symlinks=False):
            yield prefix + entry.name


def replace_file(target: Path, data: bytes, *, temporary: Path) -> None:
    """Makes `target` hold `data`, wholly or not at all, and lasting: flushed, renamed, folder flushed.

    `temporary` must lie on the same disk and be ours alone; a leftover there is overwritten.
    """
    temporary.unlink(missing_ok=True)
    # O_EXCL: whatever stands there now is not ours to write through.
    descriptor = os.open(temporary, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o666)
    with os.fdopen(descriptor, "wb") as stream:
        stream.write(data)
        stream.flush()
        os.fsync(descriptor)
    if target.exists():
        temporary.chmod(stat.S_IMODE(target.stat().st_mode))
    _make_folder(target.parent)
    _rename(temporary, target)
    flush_folder(target.parent)


def remove_file(root: Path, target: Path) -> None:
    """Takes a file away for good, and each folder below `root` that is empty without it."""
    target.unlink(missing_ok=True)
    folder = target.parent
    while folder != root and folder.is_dir() and not any(os.scandir(folder)):
        folder.rmdir()
        folder = folder.parent
    if folder.is_dir():
        flush_folder(folder)


def flush_folder(folder: Path) -> None:
    """Makes the names in a folder last through a power cut. Windows has no such call and needs none."""
    if sys.platform == "win32":
        return
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


def _make_folder(folder: Path) -> None:
    if folder.is_dir():
        return
    _make_folder(folder.parent)
    folder.mkdir(exist_ok=True)
    flush_folder(folder.parent)


def _rename(source: Path, target: Path) -> None:
    for _ in range(REPLACE_TRIES):
        try:
            source.replace(target)
        except PermissionError:
            if sys.platform != "win32":
                raise
            time.sleep(0.05)
        else:
            return
    source.replace(target)
