"""Days as bakers say them: `yesterday`, `Sunday`, `8 November`, `2026-11-08`. The day it is comes as an argument."""

from __future__ import annotations

import re
from datetime import date, timedelta

_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_DAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_LEAP_GAP = 8  # years, at most, from one 29 February to the next
_DAY_MONTH = re.compile(r"(?P<day>\d{1,2})\.?\s+(?P<month>[a-z]{3,9})\.?(?:\s+(?P<year>\d{4}))?")
_MONTH_DAY = re.compile(r"([a-z]{3,9})\.?\s+(\d{1,2})")


def day(text: str, today: date) -> date | None:
    """The day that is meant, today or before it where no year is said; None for what is no day.

    >>> day("yesterday", date(2026, 11, 9)), day("8 Nov", date(2026, 11, 9)), day("sunday", date(2026, 11, 9))
    (datetime.date(2026, 11, 8), datetime.date(2026, 11, 8), datetime.date(2026, 11, 8))
    """
    said = " ".join(text.lower().split()).removeprefix("on ").removeprefix("last ")
    if said in ("today", "now"):
        return today
    if said == "yesterday":
        return today - timedelta(days=1)
    if len(said) >= 3 and (named := [number for number, name in enumerate(_DAYS) if name.startswith(said)]):
        back = (today.weekday() - named[0]) % 7
        return today - timedelta(days=back or (7 if " last " in f" {text.lower()}" else 0))
    return _written(said, today)


def _written(said: str, today: date) -> date | None:
    try:
        return date.fromisoformat(said)
    except ValueError:
        pass
    found = _DAY_MONTH.fullmatch(_MONTH_DAY.sub(r"\2 \1", said) if _MONTH_DAY.fullmatch(said) else said)
    if not found or found["month"][:3] not in _MONTHS:
        return None
    month = _MONTHS.index(found["month"][:3]) + 1
    if found["year"]:
        return _date(int(found["year"]), month, int(found["day"]))
    back = (_date(today.year - years, month, int(found["day"])) for years in range(_LEAP_GAP + 1))
    return next((meant for meant in back if meant is not None and meant <= today), None)


def _date(year: int, month: int, number: int) -> date | None:
    try:
        return date(year, month, number)
    except ValueError:
        return None
