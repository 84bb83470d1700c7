"""The marks of a formula's revisions, and whether the formula is put away. Marks are only added."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book import layout
from ovenleaf.domain.book import MarksPage
from ovenleaf.errors import Refusal
from ovenleaf.records.codec.books import read_marks
from ovenleaf.records.page_bytes import decode
from ovenleaf.records.yaml_text import read

if TYPE_CHECKING:
    from pathlib import Path


def marks_page_of(name: str) -> str:
    """Where a formula's marks lie."""
    return f"formulas/{name}/marks.yaml"


def marks_of(root: Path, name: str) -> MarksPage:
    """A formula's marks; none where there is no such page. Raises PageFault, PageRefused."""
    page = marks_page_of(name)
    data = layout.read_file(root, page)
    return MarksPage(formula=name) if data is None else read_marks(read(decode(data, page), path=page))


def readable_marks(root: Path, name: str) -> MarksPage:
    """A formula's marks; none where their page cannot be read: `check` tells of it."""
    try:
        return marks_of(root, name)
    except Refusal:
        return MarksPage(formula=name)
