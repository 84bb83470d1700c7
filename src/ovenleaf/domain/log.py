"""A line of a trial's log: when something was seen, when that was told, by whom, and the words.

On a page: `2026-11-12T09:42:00+01:00 (told 2026-11-12T09:44:00+01:00) in the oven at 220C`. The
part in brackets stands only where it says something: told later than seen, by another than the
trial's baker, or `as words` for what could not be so and is not counted.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

AS_WORDS = "as words"
TAKEN_BACK = "taken back: "
_ASIDE = r"told \S+|by [a-z][a-z0-9-]*|as words"
_LINE = re.compile(rf"(?P<at>\S+) (?:\((?P<aside>(?:{_ASIDE})(?:, (?:{_ASIDE}))*)\) )?(?P<words>.*)", re.DOTALL)


@dataclass(frozen=True, slots=True, kw_only=True)
class LogLine:
    """One line. `told` is None where it was told when it was seen; `by` is "" for the trial's own baker;
    `counted` is False for what is kept as words alone."""

    at: datetime
    words: str
    told: datetime | None = None
    by: str = ""
    counted: bool = True

    def __str__(self) -> str:
        asides = (
            f"told {self.told.isoformat(timespec='seconds')}" if self.told else "",
            f"by {self.by}" if self.by else "",
            "" if self.counted else AS_WORDS,
        )
        said = ", ".join(filter(None, asides))
        return f"{self.at.isoformat(timespec='seconds')} {f'({said}) ' if said else ''}{self.words}"


def log_line(text: str) -> LogLine | None:
    """A line as it stands on a page; None for one that does not begin with a time and its offset.

    >>> log_line("2026-11-12T09:42:00+01:00 (told 2026-11-12T09:44:00+01:00, by tomas) out").by
    'tomas'
    """
    found = _LINE.fullmatch(text)
    at = _moment(found["at"]) if found else None
    if found is None or at is None:
        return None
    asides = (found["aside"] or "").split(", ")
    told = next((_moment(aside[len("told ") :]) for aside in asides if aside.startswith("told ")), None)
    by = next((aside[len("by ") :] for aside in asides if aside.startswith("by ")), "")
    return LogLine(at=at, words=found["words"], told=told, by=by, counted=AS_WORDS not in asides)


def _moment(text: str) -> datetime | None:
    try:
        at = datetime.fromisoformat(text)
    except ValueError:
        return None
    return at if at.tzinfo is not None else None


def log_lines(texts: Iterable[str]) -> tuple[LogLine, ...]:
    """The lines of a log that have a time, in the order in which things were seen."""
    read = (log_line(text) for text in texts)
    return tuple(sorted((line for line in read if line is not None), key=lambda line: line.at))


def standing_lines(texts: Iterable[str]) -> tuple[LogLine, ...]:
    """Those that count: without what is words alone, and without what was taken back."""
    counted: list[LogLine] = []
    for line in (read for text in texts if (read := log_line(text)) is not None):
        if line.words.startswith(TAKEN_BACK):
            meant = line.words[len(TAKEN_BACK) :]
            place = next((n for n in reversed(range(len(counted))) if counted[n].words == meant), None)
            counted = counted if place is None else [*counted[:place], *counted[place + 1 :]]
        elif line.counted:
            counted.append(line)
    return tuple(sorted(counted, key=lambda line: line.at))
