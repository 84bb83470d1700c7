"""Reports of our own faults: what was typed, which versions, where it broke. Nothing of the environment."""

from __future__ import annotations

import os
import platform
import shlex
import tempfile
import traceback
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from ovenleaf import __version__
from ovenleaf.cli.secrets import hidden

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

_PREFIX = "ovenleaf-report-"


def keep(error: BaseException, argv: Sequence[str], book: Path | None) -> Path | None:
    """Writes the report beside the book's history, else in the temporary folder; None where neither takes it."""
    text = _text(error, argv)
    folder = _folder(book)
    name = f"{_PREFIX}{datetime.now():%Y-%m-%d-%H%M%S}-"
    for place in (folder, Path(tempfile.gettempdir())):
        if place is None:
            continue
        try:
            place.mkdir(parents=True, exist_ok=True)
            handle, path = tempfile.mkstemp(prefix=name, suffix=".txt", dir=place)
            with os.fdopen(handle, "w", encoding="utf-8", errors="replace") as file:
                file.write(text)
        except OSError:
            continue
        return Path(path)
    return None


def newest(book: Path | None) -> Path | None:
    """The last report kept, of this book or outside any; None if there is none."""
    found = [path for folder in (_folder(book), Path(tempfile.gettempdir())) for path in _reports(folder)]
    return max(found, key=lambda path: path.stat().st_mtime_ns, default=None)


def _folder(book: Path | None) -> Path | None:
    """Where this book's reports lie; None for a book without a history of its own."""
    if book is None:
        return None
    kept = (book / ".git", book / ".git" / "ovenleaf", book / ".git" / "ovenleaf" / "reports")
    if not kept[0].is_dir() or any(folder.is_symlink() for folder in kept):
        return None
    return kept[-1]


def _reports(folder: Path | None) -> Iterator[Path]:
    """The reports in `folder` that are ours to show: the temporary folder may hold other people's."""
    if folder is None or not folder.is_dir():
        return
    for path in folder.glob(f"{_PREFIX}*.txt"):
        if path.is_file() and not path.is_symlink() and _is_own(path):
            yield path


def _is_own(path: Path) -> bool:
    return os.name == "nt" or path.stat().st_uid == os.getuid()


def _text(error: BaseException, argv: Sequence[str]) -> str:
    lines = (
        f"ovenleaf {__version__}, Python {platform.python_version()}, typer {typer.__version__}",
        f"{platform.system()} {platform.release()}",
        f"$ {shlex.join(['ovenleaf', *argv])}",
        "",
        "".join(traceback.format_exception(error)),
    )
    return hidden(_without_home("\n".join(lines)))


def _without_home(text: str) -> str:
    try:
        home = str(Path.home())
    except RuntimeError:  # no home is known, so none can be named
        return text
    return text.replace(home, "~") if len(home) > 1 else text
