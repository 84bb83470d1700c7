"""Files and folders for readers, outside the book: all new, nothing written over, all of them or none."""

from __future__ import annotations

import contextlib
import shlex
from dataclasses import dataclass
from itertools import count
from pathlib import PurePath
from typing import TYPE_CHECKING

from ovenleaf.book.steps.new_files import FileThere, check_free
from ovenleaf.errors import Next, Refusal

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path


@dataclass(frozen=True, slots=True)
class File:
    """One file to write: its path below the output folder ("" for the one file that is wanted), and its bytes."""

    path: str
    data: bytes


class FolderNotEmpty(Refusal):
    """The folder that pages should go into holds files. Facts: `shown`, `free`, a name that is still free."""

    def __init__(self, shown: str, free: str) -> None:
        super().__init__(
            f"There are files in the folder {shown} already, and nothing is written over.",
            detail=("Give the name of a folder that is empty or not there yet.",),
            next=(Next(f"ovenleaf publish --as book --out {shlex.quote(free)}"),),
        )
        self.shown = shown
        self.free = free


class InTheBook(Refusal):
    """What goes out to readers would lie among the book's own pages. Fact: `shown`."""

    def __init__(self, shown: str, *, folder: bool) -> None:
        example = "../book-pages" if folder else "../roll.txt"
        super().__init__(
            f"{shown} would lie inside the book, among its own pages.",
            detail=(f"Give a name outside of the book's folder, as in {example}.",),
        )
        self.shown = shown


def check_place(root: Path, cwd: Path, shown: str, *, folder: bool) -> Path:
    """The place that is named, when it is free. Raises FileThere, FolderNotEmpty, InTheBook, Refusal."""
    place = cwd / shown
    if not folder:
        check_free(cwd, shown)
        if place.is_symlink():
            raise FileThere(shown)
    elif place.exists() and not place.is_dir():
        raise FileThere(shown)
    elif place.is_dir() and any(place.iterdir()):
        raise FolderNotEmpty(shown, _free_name(cwd, shown))
    resolved = place.resolve()
    if resolved == root or any((root / name) in (resolved, *resolved.parents) for name in _OWN):
        raise InTheBook(shown, folder=folder)
    if not folder and not place.parent.is_dir():
        raise Refusal(f"{shown} cannot be written: there is no such folder.", detail=("Make the folder first.",))
    return place


def _free_name(cwd: Path, shown: str) -> str:
    """A name like that one that nothing has yet."""
    stem = shown.rstrip("/\\")
    if PurePath(stem).name in ("", ".."):
        stem = f"{stem}/pages"
    return next(name for number in count(2) if not (cwd / (name := f"{stem}-{number}")).exists())


_OWN = ("formulas", "trials", "tastings", "photos", ".git")


def write_out(place: Path, shown: str, files: Iterable[File], *, folder: bool) -> list[Path]:
    """Write them all; where one cannot be written, those before it are taken away again. Returns what was made."""
    made: list[Path] = []
    try:
        for file in files:
            path = place / file.path if folder else place
            _make_folders(path.parent, made)
            with path.open("xb") as out:
                made.append(path)
                out.write(file.data)
    except FileExistsError:
        take_away(made)
        raise FileThere(shown) from None
    except OSError as fault:
        take_away(made)
        why = str(fault.strerror or "the disk refuses").lower()
        raise Refusal(f"{shown} cannot be written: {why}.") from None
    except BaseException:
        take_away(made)
        raise
    return made


def _make_folders(folder: Path, made: list[Path]) -> None:
    missing = [one for one in (folder, *folder.parents) if not one.exists()]
    for one in reversed(missing):
        one.mkdir()
        made.append(one)


def take_away(made: list[Path]) -> None:
    """Take files and folders away that were made just now, the last first."""
    for path in reversed(made):
        with contextlib.suppress(OSError):
            path.rmdir() if path.is_dir() else path.unlink()
