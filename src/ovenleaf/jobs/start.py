"""Begin a new book in a folder of its own."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book import combiner, git
from ovenleaf.book.steps.new_folder import gone_if_not_made
from ovenleaf.book.steps.new_folder import refuse_taken as refuse_taken
from ovenleaf.book.steps.opening import BOOK_PAGE, BadHandle, remember_baker
from ovenleaf.book.steps.pages import lay_out_schemas, schema_line
from ovenleaf.book.steps.signing import PREVIEW, Stamp, put
from ovenleaf.domain.revision import is_slug
from ovenleaf.errors import NoBaker
from ovenleaf.records.codec.books import new_book, read_book
from ovenleaf.records.yaml_out import dump
from ovenleaf.records.yaml_text import read
from ovenleaf.results import Started

if TYPE_CHECKING:
    from datetime import datetime
    from pathlib import Path


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
    with gone_if_not_made(folder, shown):
        folder.mkdir(parents=True, exist_ok=True)
        git.init(folder)
        combiner.set_up(folder)
        remember_baker(folder, baker)
        lay_out_schemas(folder)
        put(
            folder,
            {BOOK_PAGE: text},
            Stamp(by=baker, at=at, verb="start"),
            f"{title}: a new book ({baker})",
        )
    return Started(folder=shown, page=page, baker=baker)
