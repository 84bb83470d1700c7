"""A folder that is to become a book: new or empty, and as it was before where the book does not come to be."""

from __future__ import annotations

import shlex
import shutil
from contextlib import contextmanager, suppress
from itertools import count
from pathlib import Path
from typing import TYPE_CHECKING

from ovenleaf.book import git, layout
from ovenleaf.book.steps.opening import BOOK_PAGE
from ovenleaf.book.write_faults import CannotWrite, reason_of
from ovenleaf.errors import Next, Refusal, saved_so_far

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

START = "start"


class FolderTaken(Refusal):
    """The folder cannot become a book. Facts: `folder`, `why`."""

    def __init__(self, folder: Path, why: str, command: str, instead: str = "~/bread-book") -> None:
        done = "started" if command == START else "joined"
        super().__init__(
            f"No book was {done}: {why}.",
            next=(Next(f"ovenleaf {command} {instead}", "in a folder of its own"),),
        )
        self.folder = folder
        self.why = why


def refuse_taken(folder: Path, shown: Path, command: str = START) -> None:
    """Raise FolderTaken for a folder that holds something, or lies where no book can be.

    `command` is what was typed before the folder: start, or join with its address.
    """
    if folder.exists() and not folder.is_dir():
        raise FolderTaken(folder, f"{shown} is a file", command, _beside(folder, shown))
    if file := next((above for above in folder.parents if above.is_file()), None):
        raise FolderTaken(folder, f"{file.name}, in which {shown} would lie, is a file", command)
    if (folder / BOOK_PAGE).exists():
        raise FolderTaken(folder, f"{shown} is a book already", command, _beside(folder, shown))
    if folder.is_dir() and any(folder.iterdir()):
        raise FolderTaken(folder, f"the folder {shown} is not empty", command, _beside(folder, shown))
    for above in folder.resolve().parents:
        if layout.git_folder(above).exists():
            name = above.name or str(above)
            why = f"{name} keeps a history of all that lies in it, and a book keeps its own"
            raise FolderTaken(folder, why, command)


def _beside(folder: Path, shown: Path) -> str:
    """A folder beside this one whose name is free, as it may be typed."""
    name = folder.resolve().name
    free = next(new for number in count(2) if not folder.resolve().with_name(new := f"{name}-{number}").exists())
    return shlex.quote(str(shown.with_name(free) if shown.name == name else Path("..") / free))


def _take_away(made: Iterable[Path]) -> None:
    for one in made:
        if one.is_dir():
            shutil.rmtree(one, ignore_errors=True)
        else:
            with suppress(OSError):  # a disk that may only be read says so of what is not there, too
                one.unlink()


_DISK = (OSError, git.GitFault, CannotWrite)


@contextmanager
def gone_if_not_made(folder: Path, shown: Path, command: str = START) -> Iterator[None]:
    """Takes away what was made of a book that did not come to be; the folder was new or empty before."""
    new = next((above for above in (*reversed(folder.parents), folder) if not above.exists()), None)
    try:
        yield
    except BaseException as fault:
        if not saved_so_far() or isinstance(fault, _DISK):  # nobody has put anything in yet
            _take_away((new,) if new is not None else tuple(folder.iterdir()))
        if isinstance(fault, _DISK):
            why = reason_of(fault) or "the disk did not take it"
            raise FolderTaken(folder, f"{shown} cannot be made, since {why}", command) from fault
        raise
