"""This machine's time zone, as far as the system knows it: what the clock on the kitchen wall shows on any day."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, tzinfo


class Here(tzinfo):
    """The zone this machine is set to. Unlike the offset of one moment, it knows when the clocks change."""

    def utcoffset(self, moment: datetime | None) -> timedelta | None:
        """How far ahead of universal time the kitchen clock is at this time on it."""
        return None if moment is None else moment.replace(tzinfo=None).astimezone().utcoffset()

    def dst(self, moment: datetime | None) -> timedelta | None:
        """Not told apart from the offset."""
        return None

    def tzname(self, moment: datetime | None) -> str | None:
        """What the system calls the zone at that time."""
        return None if moment is None else moment.replace(tzinfo=None).astimezone().tzname()

    def fromutc(self, moment: datetime) -> datetime:
        """The kitchen's time at this universal time; the second of two alike when the clocks go back is marked so."""
        local = moment.replace(tzinfo=UTC).astimezone()
        there = local.replace(tzinfo=self)
        return there if there.utcoffset() == local.utcoffset() else there.replace(fold=1)


def in_this_zone(now: datetime) -> datetime:
    """`now` on this machine's clock; a clock that was set to another offset (for a test, a diary) keeps that."""
    here = now.astimezone(Here())
    return here if here.utcoffset() == now.utcoffset() else now
