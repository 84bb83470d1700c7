"""A schedule as calendar events with alarms (RFC 5545), for a telephone to ring at the bench."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import TYPE_CHECKING

from ovenleaf.present.timetable import READY, ends

if TYPE_CHECKING:
    from collections.abc import Iterator

    from ovenleaf.results import Weighed, WeighUp

LINE = 75  # octets, RFC 5545, 3.1


def calendar_text(result: Weighed) -> str:
    """One VCALENDAR with an event for each step of each formula, and one for when it is ready."""
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//ovenleaf//bake schedule//EN", "CALSCALE:GREGORIAN"]
    for up in result.ups:
        for place, slot in enumerate(up.slots, start=1):
            sign = f"Look for: {slot.sign}. " if slot.sign else ""
            lines += _event(up, place, result.now, slot.name, (slot.begins, slot.ends), sign)
        if up.slots:
            done = ends(up.slots)
            lines += _event(up, len(up.slots) + 1, result.now, READY, (done, done), "")
    lines.append("END:VCALENDAR")
    return "".join(f"{folded}\r\n" for line in lines for folded in _folded(line))


def _event(up: WeighUp, place: int, now: datetime, name: str, times: tuple[datetime, datetime], sign: str) -> list[str]:
    """An event that rings as it begins; one that takes no time has no end (RFC 5545, 3.6.1)."""
    begins, ended = (_stamp(at) for at in times)
    said = _text(f"{up.sheet.formula.label}: {name}")
    return [
        "BEGIN:VEVENT",
        f"UID:{up.sheet.formula.name}-{begins}-{place}@ovenleaf.invalid",
        f"DTSTAMP:{_stamp(now)}",
        f"DTSTART:{begins}",
        *([f"DTEND:{ended}"] if ended != begins else []),
        f"SUMMARY:{said}",
        f"DESCRIPTION:{_text(f'{sign}The signs decide, not the clock.')}",
        "BEGIN:VALARM",
        "ACTION:DISPLAY",
        "TRIGGER:PT0S",
        f"DESCRIPTION:{said}",
        "END:VALARM",
        "END:VEVENT",
    ]


def _stamp(at: datetime) -> str:
    """In universal time, so that it rings at the same moment everywhere."""
    return at.astimezone(UTC).strftime("%Y%m%dT%H%M%SZ")


def _text(words: str) -> str:
    """TEXT of RFC 5545, 3.3.11."""
    plain = "".join(letter for letter in words if letter.isprintable())
    return plain.replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,")


def _folded(line: str) -> Iterator[str]:
    """The line in pieces of at most 75 octets, each after the first behind a space; no letter is cut."""
    piece, size = "", 0
    for letter in line:
        octets = len(letter.encode())
        if size + octets > LINE:
            yield piece
            piece, size = " ", 1
        piece += letter
        size += octets
    yield piece
