"""The line at the head of a page that lets an editor help, and the schemas it names."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book import layout
from ovenleaf.records.assets import schema_text
from ovenleaf.records.upgrade import LATEST

if TYPE_CHECKING:
    from pathlib import Path

FOLDER = ".git/ovenleaf/schemas"  # in this copy of the book, so that the line means the same on every machine


def schema_line(kind: str, page: str) -> str:
    """The first line of a page: where its schema lies, from where the page lies."""
    up = "../" * page.count("/")
    return f"# yaml-language-server: $schema={up}{FOLDER}/{kind}.v{LATEST[kind]}.json\n"


def lay_out_schemas(root: Path) -> None:
    """Put the schemas where the pages' first lines say they are."""
    folder = layout.state_folder(root) / "schemas"
    folder.mkdir(parents=True, exist_ok=True)
    for kind, version in LATEST.items():
        (folder / f"{kind}.v{version}.json").write_text(schema_text(kind, version), encoding="utf-8")
