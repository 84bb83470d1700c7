"""Where the files are that come with the program: schemas, the sample book, the built-in ingredient list.

Installed they stand inside the package; in a checkout the first two stand beside `src`.
"""

from __future__ import annotations

from pathlib import Path
from typing import Final

from ovenleaf.records.upgrade import LATEST

_PACKAGE: Final = Path(__file__).resolve().parent.parent
_CHECKOUT: Final = _PACKAGE.parent.parent


def _folder(name: str) -> Path:
    installed = _PACKAGE / "assets" / name
    return installed if installed.is_dir() else _CHECKOUT / name


def schema_path(kind: str, version: int | None = None) -> Path:
    """Give the file of a kind's schema, the latest if no version is named. KeyError for a kind there is not."""
    return _folder("schemas") / f"{kind}.v{version or LATEST[kind]}.json"


def schema_text(kind: str, version: int | None = None) -> str:
    """Give a kind's schema as JSON text, the latest if no version is named."""
    return schema_path(kind, version).read_text(encoding="utf-8")


def sample_book_folder() -> Path:
    """Give the folder with the finished sample book and its diary."""
    return _folder("sample-book")


def ingredients_text() -> str:
    """Give the built-in ingredient list as the text of a page."""
    return (_PACKAGE / "ingredients.yaml").read_text(encoding="utf-8")


def answer_kinds() -> tuple[str, ...]:
    """Give the kinds of documents that commands answer with."""
    folder = _folder("schemas") / "answers"
    return tuple(sorted(path.name.removesuffix(".v1.json") for path in folder.glob("*.v1.json")))


def answer_schema_text(kind: str) -> str:
    """Give the schema of a document, as JSON text."""
    return (_folder("schemas") / "answers" / f"{kind}.v1.json").read_text(encoding="utf-8")
