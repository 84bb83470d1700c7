"""What is wrong in the book, as values: a broken page is told of, never raised past its reader."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Severity(StrEnum):
    """How much a finding weighs: an error cannot be worked with, a warning should be looked at."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One thing that is wrong in the book.

    `code` is a short stable name for scripts (`flour-sum`), never shown on a screen;
    `path` is relative to the book, "" for a page as it would be; `line` counts from 1; `message` is a sentence in the
    baker's words; `fix` says how to mend it, as a sentence or a command.
    """

    code: str
    severity: Severity
    path: str
    line: int | None = None
    message: str
    fix: str = ""
    text: str = ""  # the line as typed, where it helps
