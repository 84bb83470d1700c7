"""The year that screens are read in, for days that are told without theirs.

Set by the program's front door, the only place that looks at a clock. Loads nothing: every command passes by.
"""

from __future__ import annotations

from contextvars import ContextVar

_YEAR: ContextVar[int | None] = ContextVar("year", default=None)


def reading_in(year: int | None) -> None:
    """From now on screens are read in `year`: a day of another one is told with its year; None takes that back."""
    _YEAR.set(year)


def goes_without_saying(year: int) -> bool:
    """True for the year that screens are read in; for any, while nobody has said which that is."""
    return _YEAR.get() in (None, year)
