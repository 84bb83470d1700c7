"""Begin a new book in a folder of its own."""

from __future__ import annotations

import shlex
import shutil
from contextlib import contextmanager
from itertools import count
from pathlib import Path
from typing import TYPE_CHECKING

from ovenleaf.book import git, layout
from ovenleaf.book.steps.opening import BOOK_PAGE, BadHandle, remember_baker
from ovenleaf.book.steps.pages import lay_out_schemas, schema_line
from ovenleaf.book.steps.signing import PREVIEW, Stamp, put
from ovenleaf.book.write_faults import CannotWrite, reason_of
from ovenleaf.domain.revision import is_slug
from ovenleaf.errors import Next, NoBaker, Refusal, saved_so_far
from ovenleaf.records.codec.books import new_book, read_book
from ovenleaf.records.yaml_out import dump
from ovenleaf.records.yaml_text import read
from ovenleaf.results import Started

if TYPE_CHECKING:
    from collections.abc import Iterator
    from datetime import datetime


class FolderTaken(Refusal):
    """The folder cannot become a book. Facts: `folder`, `why`."""

    def __init__(self, folder: Path, why: str, instead: str = "~/bread-book") -> None:
        super().__init__(
            f"No book was started: {why}.",
            next=(Next(f"ovenleaf start {instead}", "in a folder of its own"),),
        )
        self.folder = folder
        self.why = why


def start(folder: Path, *, title: str, baker: str, at: datetime, shown: Path, preview: bool = False) -> Started:
    """Make `folder` (new or empty) a book, signed by `baker`; `shown` is the folder as it was typed.

    Raises FolderTaken, NoBaker, BadHandle, NeedsGit.
    """
    if not baker:
        raise NoBaker
    if not is_slug(baker):
        raise BadHandle(baker)
    git.require()
    refuse_taken(folder, shown)
    title = title or folder.resolve().name.replace("-", " ").replace("_", " ").capitalize()
    text = schema_line("book", BOOK_PAGE) + dump(new_book(title, baker))
    page = read_book(read(text, path=BOOK_PAGE))
    if preview:
        return Started(folder=shown, page=page, baker=baker, ahead=PREVIEW)
    with _gone_if_not_started(folder, shown):
        folder.mkdir(parents=True, exist_ok=True)
        git.init(folder)
        remember_baker(folder, baker)
        lay_out_schemas(folder)
        put(
            folder,
            {BOOK_PAGE: text},
            Stamp(by=baker, at=at, verb="start"),
            f"{title}: a new book ({baker})",
        )
    return Started(folder=shown, page=page, baker=baker)


def _beside(folder: Path, shown: Path) -> str:
    """A folder beside this one whose name is free, as it may be typed."""
    name = folder.resolve().name
    free = next(new for number in count(2) if not folder.resolve().with_name(new := f"{name}-{number}").exists())
    return shlex.quote(str(shown.with_name(free) if shown.name == name else Path("..") / free))


def refuse_taken(folder: Path, shown: Path) -> None:
    """Raise FolderTaken for a folder that holds something, or lies where no book can be."""
    if folder.exists() and not folder.is_dir():
        raise FolderTaken(folder, f"{shown} is a file", _beside(folder, shown))
    if file := next((above for above in folder.parents if above.is_file()), None):
        raise FolderTaken(folder, f"{file.name}, in which {shown} would lie, is a file")
    if (folder / BOOK_PAGE).exists():
        raise FolderTaken(folder, f"{shown} is a book already", _beside(folder, shown))
    if folder.is_dir() and any(folder.iterdir()):
        raise FolderTaken(folder, f"the folder {shown} is not empty", _beside(folder, shown))
    for above in folder.resolve().parents:
        if layout.git_folder(above).exists():
            name = above.name or str(above)
            raise FolderTaken(folder, f"{name} keeps a history of all that lies in it, and a book keeps its own")


@contextmanager
def _gone_if_not_started(folder: Path, shown: Path) -> Iterator[None]:
    """Takes away what was made of a book that did not come to be; the folder was new or empty before."""
    new = next((above for above in (*reversed(folder.parents), folder) if not above.exists()), None)
    try:
        yield
    except BaseException as fault:
        if not saved_so_far():
            for made in (new,) if new is not None else tuple(folder.iterdir()):
                shutil.rmtree(made, ignore_errors=True) if made.is_dir() else made.unlink(missing_ok=True)
        if isinstance(fault, (OSError, git.GitFault, CannotWrite)):
            why = reason_of(fault) or "the disk did not take it"
            raise FolderTaken(folder, f"{shown} cannot be made, since {why}") from fault
        raise
