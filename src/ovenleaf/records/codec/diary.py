"""A diary page: the commands that make a book, in their order."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.records.codec.reading import Reading

if TYPE_CHECKING:
    from ovenleaf.records.nodes import Page


@dataclass(frozen=True, slots=True, kw_only=True)
class DiaryLine:
    """One entry as it stands: a command's words (verb and arguments), or a hand edit; in which copy of the book."""

    at: str
    baker: str
    copy: str
    words: tuple[str, ...]
    page: str
    edit: tuple[str, str, str] | None


def read_diary(page: Page) -> tuple[DiaryLine, ...]:
    """The entries of a diary. Raises PageRefused with every fault that is found."""
    reading = Reading(page)
    lines = []
    for where, _ in reading.items("entries"):
        edited = reading.text(*where, "edit")
        verb = reading.text(*where, "verb")
        lines.append(
            DiaryLine(
                at=reading.text(*where, "at"),
                baker=reading.text(*where, "baker"),
                copy=reading.text(*where, "copy"),
                words=(verb, *reading.texts(*where, "arguments")) if verb else (),
                page=reading.text(*where, "page"),
                edit=(edited, reading.text(*where, "from"), reading.text(*where, "to")) if edited else None,
            )
        )
    reading.finish(f"{page.path} cannot be read as a diary.")
    return tuple(lines)
