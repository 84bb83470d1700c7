"""Marks as they are said: `crumb 7, crust 8, a little dry`, alone or behind the bake that is meant."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from ovenleaf.book.steps.recording import CannotRecord
from ovenleaf.book.steps.telling import marks_by_options
from ovenleaf.domain.said import Said, in_words, joined
from ovenleaf.domain.trial import ATTRIBUTES, Marks

if TYPE_CHECKING:
    from ovenleaf.book.steps.telling import MarkOptions

# A mark follows its name; so a formula may well be called thin-crust.
_FIRST_MARK = re.compile(rf"(?:^|[\s,])(?=(?:{'|'.join(ATTRIBUTES)}):?\s*\d)", re.IGNORECASE)


def apart(typed: str) -> tuple[str, str]:
    """Which bake is meant, and what is said of it.

    >>> apart("C4 crumb 7, crust 8, a little dry"), apart("thin-crust 2026-11-18")
    (('C4', 'crumb 7, crust 8, a little dry'), ('thin-crust 2026-11-18', ''))
    """
    found = _FIRST_MARK.search(typed)
    return (typed[: found.start()].strip(" ,"), typed[found.end() :]) if found else (typed, "")


def marks_said(words: str, taster: str, options: MarkOptions) -> Marks | None:
    """The marks by words and options together; None where the words say something else. Raises CannotRecord."""
    said = in_words(words, taster=taster, steps=(), flours=()) if words else Said()
    if said.doubts or said != Said(marks=said.marks, log=said.log):
        return None
    marks = marks_by_options(options, taster)
    for one in (*said.marks, *(Marks(taster=taster, note=note) for note in said.log)):
        marks = joined(marks, one)
    return marks


def marks_or_refused(words: str, taster: str, options: MarkOptions) -> Marks:
    """The same, refused in words where they are no marks."""
    marks = marks_said(words, taster, options)
    if marks is None:
        raise CannotRecord("marks", f"{words} cannot be taken for marks. Say them as in: crumb 7, crust 8, dry")
    return marks
