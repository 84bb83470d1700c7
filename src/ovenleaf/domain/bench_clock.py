"""When something was seen, as a baker says it at the bench: `20 min ago`, `07:40`, `yesterday 22:00`.

The time it is comes as an argument, on the kitchen's own clock, so that a night in which the clocks change counts.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import UTC, datetime, time, timedelta
from typing import TYPE_CHECKING

from ovenleaf.domain import benchline
from ovenleaf.domain.days import day
from ovenleaf.domain.durations import Duration
from ovenleaf.domain.numbers import rounded

if TYPE_CHECKING:
    from datetime import date

    from ovenleaf.domain.benchline import Field

_MONTH = (
    "(?:jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|oct(?:ober)?"
    "|nov(?:ember)?|dec(?:ember)?)"
)
_DAY = re.compile(
    r"\b(?P<day>yesterday|today|this morning|this evening|last night|tonight"
    r"|(?:on |last )?(?:mon|tues|wednes|thurs|fri|satur|sun)day"
    rf"|(?:on )?(?:\d{{4}}-\d{{2}}-\d{{2}}|\d{{1,2}}\.?\s+{_MONTH}\b\.?(?:\s+\d{{4}}\b(?!:))?"
    rf"|{_MONTH}\s+\d{{1,2}}(?![\d:])))(?!\w)",
    re.IGNORECASE,
)
_SOON = timedelta(minutes=20)  # a clock so little ahead is taken for a slip, not for yesterday
_NOON = time(12)


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """A part of a line with its time: `at` is when it was seen, `words` what is left without the time,
    `problem` why the time cannot be, or "". `typed` is the part as it was typed; `day_before` is True where
    no day was said and the clock's time is still to come today."""

    at: datetime
    words: str
    typed: str
    problem: str = ""
    day_before: bool = False


def seen(text: str, now: datetime) -> tuple[Seen, ...]:
    """A line parted by the times in it, each part with its own; where one time is said it is that of the whole line.

    >>> now = datetime.fromisoformat("2026-11-12T09:44:00+01:00")
    >>> [(f"{one.at:%H:%M}", one.words) for one in seen("in the oven at 220C, 2 min ago", now)]
    [('09:42', 'in the oven at 220C')]
    """
    clauses = benchline.clauses(text)
    timed = [_time_of(clause) for clause in clauses]
    if sum(time is not None for time in timed) < 2:
        groups = [list(zip(clauses, timed, strict=True))] if clauses else []
    else:
        groups = _parted(list(zip(clauses, timed, strict=True)))
    return tuple(_seen(group, now) for group in groups)


_Group = list[tuple[str, "Field | None"]]


def _parted(clauses: _Group) -> list[_Group]:
    """A clause with a time of its own begins a part; a time alone closes the part before it."""
    groups: list[_Group] = []
    closed = True
    for clause, when in clauses:
        alone = when is not None and not _without(clause, when)
        closes = alone and bool(groups) and not any(of for _, of in groups[-1])
        if closes or (when is None and not closed):
            groups[-1].append((clause, when))
        else:
            groups.append([(clause, when)])
        closed = alone
    return groups


def _time_of(clause: str) -> Field | None:
    return next((field for field in benchline.read(clause).fields if field.name in ("ago", "clock")), None)


def _without(clause: str, field: Field | None) -> str:
    """The clause without its time and the day beside it."""
    left = clause if field is None else clause.replace(field.typed, " ", 1)
    left = _DAY.sub(" ", left) if field is not None and field.name == "clock" else left
    return " ".join(left.split()).strip(" ,;:")


def without_times(text: str) -> str:
    """A line without the times in it, for a reader who knows when it was seen."""
    return ", ".join(filter(None, (_without(clause, _time_of(clause)) for clause in benchline.clauses(text))))


def _seen(group: _Group, now: datetime) -> Seen:
    typed = ", ".join(clause for clause, _ in group)
    words = ", ".join(filter(None, (_without(clause, field) for clause, field in group)))
    field = next((field for _, field in group if field is not None), None)
    if field is None:
        return Seen(at=now, words=words, typed=typed)
    if isinstance(field.value, Duration):
        minutes = rounded((field.value.low + field.value.high) / 2, 0)
        at = (now.astimezone(UTC) - timedelta(minutes=int(minutes))).astimezone(now.tzinfo)
        return Seen(at=at, words=words, typed=typed)
    said = next((found["day"].lower() for clause, _ in group if (found := _DAY.search(clause))), "")
    at = _at(time.fromisoformat(str(field.value)), said, now)
    if at > now:
        on = f" {'on ' if said[:1].isdigit() else ''}{said}" if said else ""
        problem = f"{field.value}{on} is still to come; it is {now:%H:%M}"
        return Seen(at=now, words=words, typed=typed, problem=problem)
    return Seen(at=at, words=words, typed=typed, day_before=not said and at.date() < now.date())


def _at(clock: time, said: str, now: datetime) -> datetime:
    """The last time this clock was shown, or that of the day that was said."""
    if said:
        return _shown(_day(said, clock, now.date()), clock, now)
    today = _shown(now.date(), clock, now)
    return today if today <= now + _SOON else _shown(now.date() - timedelta(days=1), clock, now)


def _shown(day: date, clock: time, now: datetime) -> datetime:
    """That clock on that day; where it was shown twice, since the clocks went back, the last that is not to come."""
    first = datetime.combine(day, clock, tzinfo=now.tzinfo)
    second = first.replace(fold=1)
    later = second.astimezone(UTC) > first.astimezone(UTC)
    return second if later and second.astimezone(UTC) <= now.astimezone(UTC) else first


def _day(said: str, clock: time, today: date) -> date:
    if said == "last night":
        return today - timedelta(days=1) if clock >= _NOON else today
    found = day(said, today)
    return today if found is None else found


def minutes_between(one: datetime, other: datetime) -> int:
    """Whole minutes of real time from one to the other, however the clocks were changed between them."""
    apart = other.astimezone(UTC) - one.astimezone(UTC)
    return (apart + timedelta(seconds=30)) // timedelta(minutes=1)
