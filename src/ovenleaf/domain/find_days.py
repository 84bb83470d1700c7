"""A stretch of days, as bakers say it: `since October`, `before 1 October`, `in November`, `between 1 and 9 Nov`."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, timedelta

from ovenleaf.domain.days import day

_MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)
_MONTH = re.compile(r"(?P<month>[a-z]{3,9})\.?(?: (?P<year>\d{4}))?")
_DAY = timedelta(days=1)
_CLAUSE = re.compile(r"(?:baked )?(?P<how>since|from|before|until|till|up to|after|on|in|between) (?P<rest>\S.*)")


@dataclass(frozen=True, slots=True, kw_only=True)
class Days:
    """From `first` to `last`, both counted; None is open. `said` tells it in words."""

    first: date | None
    last: date | None
    said: str

    def holds(self, bake_date: str) -> bool:
        """True for a day within; a bake without a day is in no stretch."""
        if not bake_date:
            return False
        baked = date.fromisoformat(bake_date)
        return (self.first is None or baked >= self.first) and (self.last is None or baked <= self.last)


def days(clause: str, today: date) -> Days | None:
    """The days that a clause in small letters means; None where it means none.

    >>> days("since october", date(2026, 11, 25)).first
    datetime.date(2026, 10, 1)
    >>> days("in a tin", date(2026, 11, 25)) is None
    True
    """
    bare = clause.removeprefix("baked ")
    if clause.startswith("baked ") and (alone := _stretch(bare, today)):
        return _said(*alone, "on", "baked")
    found = _CLAUSE.fullmatch(clause)
    if not found:
        return _week(bare, today)
    how, rest = found["how"], found["rest"]
    if how == "between":
        return _between(rest, today)
    stretch = _stretch(rest, today)
    if stretch is None:
        return None
    first, last = stretch
    match how:
        case "since" | "from":
            return Days(first=first, last=None, said=f"baked since {_words(first)}")
        case "before":
            return Days(first=None, last=first - _DAY, said=f"baked before {_words(first)}")
        case "until" | "till" | "up to":
            return Days(first=None, last=last, said=f"baked until {_words(last)}")
        case "after":
            return Days(first=last + _DAY, last=None, said=f"baked after {_words(last)}")
        case _:
            return _said(first, last, "on", "baked")


def _between(rest: str, today: date) -> Days | None:
    """`1 and 9 november` takes the month of the second for the first."""
    one, _, other = rest.partition(" and ")
    later = _stretch(other, today)
    month = re.search(r"[a-z].*", other)
    earlier = _stretch(one, today) or (_stretch(f"{one} {month[0]}", today) if month else None)
    if earlier is None or later is None:
        return None
    if earlier[0] > later[1]:  # between November and January
        earlier = earlier[0].replace(year=earlier[0].year - 1), earlier[1]
    return _said(earlier[0], later[1], "on", "baked")


def _week(clause: str, today: date) -> Days | None:
    monday = today - timedelta(days=today.weekday())
    first = {"this week": monday, "this month": today.replace(day=1), "this year": today.replace(month=1, day=1)}
    if clause in first:
        return _said(first[clause], today, "on", "baked")
    if clause == "last week":
        return _said(monday - 7 * _DAY, monday - _DAY, "on", "baked")
    return _said(today, today, "on", "baked") if clause == "today" else None


def _stretch(text: str, today: date) -> tuple[date, date] | None:
    """The first and the last day of a day, a month or a year."""
    if re.fullmatch(r"(?:19|20)\d\d", text):
        return date(int(text), 1, 1), date(int(text), 12, 31)
    found = _MONTH.fullmatch(text)
    number = next((n for n, name in enumerate(_MONTHS, 1) if found and _short(name, found["month"])), 0)
    if found and number:
        year = int(found["year"]) if found["year"] else today.year - (number > today.month)
        after = date(year + (number == 12), number % 12 + 1, 1)
        return date(year, number, 1), after - _DAY
    one = day(text, today)
    return (one, one) if one is not None else None


def _short(name: str, typed: str) -> bool:
    return name.lower().startswith(typed)


def _said(first: date, last: date, on: str, verb: str) -> Days:
    if first == last:
        return Days(first=first, last=last, said=f"{verb} {on} {_words(first)}")
    return Days(first=first, last=last, said=f"{verb} from {_words(first)} to {_words(last)}")


def _words(one: date) -> str:
    return f"{one.day} {_MONTHS[one.month - 1]} {one.year}"
