"""The calendar, read back by a library for such files."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from itertools import pairwise

import icalendar
import pytest

from ovenleaf.present.calendar import _folded, _text

NOW = "2026-11-25T12:00:00+01:00"


@pytest.fixture
def calendar(sample_as_built, oven, tmp_path):
    """The calendar that a command line writes, as bytes."""

    def write(line):
        ran = oven(f"{line} --calendar bake.ics", cwd=tmp_path, now=NOW, env={"OVENLEAF_BOOK": str(sample_as_built)})
        assert ran.code == 0, ran.err
        return (tmp_path / "bake.ics").read_bytes()

    return write


def test_another_reader_finds_every_step(calendar):
    """An event with an alarm for each step and for when it is ready, at the right moments, with its signs."""
    read = icalendar.Calendar.from_ical(calendar("weigh market-roll --ready 2026-11-29T07:00"))
    events = read.walk("VEVENT")
    ready = datetime(2026, 11, 29, 6, tzinfo=UTC)
    assert [(str(one["SUMMARY"]), ready - one.start) for one in events] == [
        ("Market roll: poolish", timedelta(hours=14, minutes=20)),
        ("Market roll: first mix", timedelta(hours=2, minutes=20)),
        ("Market roll: second mix", timedelta(hours=2, minutes=17)),
        ("Market roll: bulk", timedelta(hours=2, minutes=8)),
        ("Market roll: final proof", timedelta(hours=1, minutes=8)),
        ("Market roll: bake", timedelta(minutes=18)),
        ("Market roll: ready", timedelta()),
    ]
    for before, after in pairwise(events):
        assert before.end == after.start
    assert "Look for: half as big again." in str(events[3]["DESCRIPTION"])
    for one in events:
        (alarm,) = one.walk("VALARM")
        assert (str(alarm["ACTION"]), alarm["TRIGGER"].dt) == ("DISPLAY", timedelta())


def test_it_is_as_the_standard_asks(calendar):
    """RFC 5545: CRLF (3.1), lines of up to 75 octets (3.1), a PRODID and VERSION (3.6), UID and DTSTAMP in each event
    (3.6.1), each UID once; an end is after its start."""
    data = calendar("weigh market-roll caraway-rye --begin 2026-11-28T18:00")
    assert data.endswith(b"END:VCALENDAR\r\n")
    assert b"\n" not in data.replace(b"\r\n", b"")
    assert all(len(line) <= 75 for line in data.split(b"\r\n"))
    read = icalendar.Calendar.from_ical(data)
    assert (str(read["VERSION"]), bool(read["PRODID"])) == ("2.0", True)
    assert not read.errors
    events = read.walk("VEVENT")
    assert len({str(one["UID"]) for one in events}) == len(events) > 10
    assert all(one["DTSTAMP"].dt == datetime(2026, 11, 25, 11, tzinfo=UTC) for one in events)
    assert all(one["DTEND"].dt > one["DTSTART"].dt for one in events if "DTEND" in one)


@pytest.mark.parametrize(
    "words",
    ["a, b; c", "back\\slash", "Brötchen für den Käse — süß und groß, " * 4 + "ja", "x" * 200, "line\none", "☕" * 60],
)
def test_any_words_come_back(words):
    """Commas, semicolons and backslashes are marked, long lines folded between letters; line ends are left out."""
    line = f"SUMMARY:{_text(words)}"
    folded = "\r\n".join(_folded(line))
    assert all(len(part.encode()) <= 75 for part in folded.split("\r\n"))
    event = f"BEGIN:VEVENT\r\nUID:1\r\nDTSTAMP:20261125T110000Z\r\n{folded}\r\nEND:VEVENT\r\n"
    read = icalendar.Event.from_ical(event)
    assert str(read["SUMMARY"]) == words.replace("\n", "")
