"""Begin a new book in a folder of its own."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book import git, layout
from ovenleaf.book.steps.opening import BOOK_PAGE, BadHandle, open_book, remember_baker
from ovenleaf.book.steps.pages import lay_out_schemas, schema_line
from ovenleaf.book.steps.signing import PREVIEW, Stamp, put
from ovenleaf.domain.book import BookPage
from ovenleaf.domain.revision import is_slug
from ovenleaf.errors import Next, NoBaker, Refusal
from ovenleaf.records.codec.books import new_book
from ovenleaf.records.yaml_out import dump
from ovenleaf.results import Started

if TYPE_CHECKING:
    from datetime import datetime
    from pathlib import Path


class FolderTaken(Refusal):
    """The folder cannot become a book. Facts: `folder`, `why`."""

    def __init__(self, folder: Path, why: str) -> None:
        super().__init__(
            f"No book was started: {why}",
            next=(Next("ovenleaf start ANOTHER-FOLDER", "a folder that is new or empty"),),
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
    _refuse_taken(folder)
    title = title or folder.resolve().name.replace("-", " ").replace("_", " ").capitalize()
    if preview:
        return Started(folder=shown, page=BookPage(title=title), baker=baker, ahead=PREVIEW)
    folder.mkdir(parents=True, exist_ok=True)
    git.init(folder)
    remember_baker(folder, baker)
    stamp = Stamp(by=baker, at=at, verb="start")
    lay_out_schemas(folder)
    put(
        folder,
        {BOOK_PAGE: schema_line("book", BOOK_PAGE) + dump(new_book(title, baker))},
        stamp,
        f"{title}: a new book ({baker})",
    )
    return Started(folder=shown, page=open_book(folder, folder).page, baker=baker)


def _refuse_taken(folder: Path) -> None:
    if folder.exists() and not folder.is_dir():
        raise FolderTaken(folder, f"{folder} is a file.")
    if (folder / BOOK_PAGE).exists():
        raise FolderTaken(folder, f"{folder} is a book already.")
    if folder.is_dir() and any(folder.iterdir()):
        raise FolderTaken(folder, f"the folder {folder} is not empty.")
    for above in folder.resolve().parents:
        if layout.git_folder(above).exists():
            raise FolderTaken(folder, f"{above} already keeps a history of all its folders, and a book keeps its own.")
