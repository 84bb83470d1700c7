"""The files that git reads in each of a book's folders, whatever it is asked there: a pipe in their place would keep
it, and us, waiting for ever."""

from __future__ import annotations

import os
import stat
from pathlib import Path
from typing import TYPE_CHECKING

from ovenleaf.book import layout, settings

if TYPE_CHECKING:
    from collections.abc import Iterable

_NAMES = (".gitattributes", ".gitignore")


def check_all(root: Path) -> None:
    """Raise SettingsRefused where one of them, in any folder of the book, is neither a file nor a link."""
    history = os.fspath(layout.git_folder(root))
    for folder, inner, files in os.walk(root):
        if folder == history:
            inner.clear()
        elif not set(files).isdisjoint(_NAMES):
            _check(root, Path(folder))


def check_above(root: Path, pages: Iterable[str]) -> None:
    """The same of the folders in which these pages lie."""
    folders = {folder for page in pages for folder in Path(page).parents}
    for folder in folders:
        _check(root, root / folder)


def _check(root: Path, folder: Path) -> None:
    for name in _NAMES:
        path = folder / name
        try:
            kind = path.lstat().st_mode
        except OSError:
            continue
        if not (stat.S_ISREG(kind) or stat.S_ISLNK(kind)):
            raise settings.strange_file(path.relative_to(root).as_posix(), "")
