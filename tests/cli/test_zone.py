"""This machine's time zone: right on the nights when the clocks change."""

from __future__ import annotations

import time
from datetime import UTC, datetime, timedelta

import pytest

from ovenleaf.cli.zone import Here, in_this_zone
from ovenleaf.domain.bench_clock import minutes_between, seen

pytestmark = pytest.mark.counted


@pytest.fixture
def berlin(monkeypatch):
    """A machine that is set to Central European Time, by its rule."""
    if not hasattr(time, "tzset"):
        pytest.skip("this system's zone cannot be set from a test")
    monkeypatch.setenv("TZ", "CET-1CEST,M3.5.0,M10.5.0/3")
    time.tzset()
    yield Here()
    monkeypatch.undo()
    time.tzset()


def test_the_offset_of_a_day_is_that_day_s(berlin):
    """Two hours ahead in summer, one in winter, whatever today is."""
    summer, winter = (datetime(2026, month, 12, 7, tzinfo=berlin).utcoffset() for month in (7, 11))
    assert (summer, winter) == (timedelta(hours=2), timedelta(hours=1))


def test_every_hour_of_the_year_comes_back(berlin):
    """From universal time to the kitchen clock and back, also in the hour that comes twice."""
    for hour in range(0, 24 * 365, 1):
        moment = datetime(2026, 1, 1, tzinfo=UTC) + timedelta(hours=hour)
        assert moment.astimezone(berlin).astimezone(UTC) == moment


def test_the_hour_that_comes_twice_is_told_apart(berlin):
    """25 October 2026: 02:30 is 00:30 and 01:30 in universal time."""
    told = [datetime(2026, 10, 25, hour, 30, tzinfo=UTC).astimezone(berlin).isoformat() for hour in (0, 1)]
    assert told == ["2026-10-25T02:30:00+02:00", "2026-10-25T02:30:00+01:00"]


def test_a_clock_that_was_set_elsewhere_keeps_its_offset(berlin):
    """A diary's time in another offset stays in it; the machine's own is put on the machine's clock."""
    elsewhere = datetime.fromisoformat("2026-11-25T12:00:00-05:00")
    here = datetime.fromisoformat("2026-11-25T12:00:00+01:00")
    assert in_this_zone(elsewhere).tzinfo is elsewhere.tzinfo
    assert isinstance(in_this_zone(here).tzinfo, Here)
    assert in_this_zone(here) == here


def test_a_clock_time_at_the_bench_is_that_of_its_own_night(berlin):
    """The evening before is two hours ahead still; 02:30 is the last one that was shown, not one to come."""
    morning = datetime(2026, 10, 25, 6, 0, tzinfo=berlin)
    (fed,) = seen("levain fed 22:00", morning)
    assert fed.at.isoformat() == "2026-10-24T22:00:00+02:00"
    assert minutes_between(fed.at, morning) == 9 * 60
    for hour, offset in ((0, "+02:00"), (1, "+01:00")):
        now = datetime(2026, 10, 25, hour, 50, tzinfo=UTC).astimezone(berlin)
        assert [one.at.isoformat() for one in seen("02:30 fold", now)] == [f"2026-10-25T02:30:00{offset}"]


def test_a_bake_over_the_change_of_clocks(berlin, oven, sample_as_built, tmp_path):
    """Ready at 07:00 on a morning when the clocks went back: the calendar's times are right to the hour."""
    env = {"OVENLEAF_BOOK": str(sample_as_built)}
    line = "weigh market-roll --ready 2026-10-25T07:00 --calendar roll.ics"
    ran = oven(line, cwd=tmp_path, now="2026-10-20T12:00:00+02:00", env=env)
    assert ran.code == 0, ran.err
    text = (tmp_path / "roll.ics").read_text()
    assert "DTSTART:20261025T060000Z" in text  # ready, 07:00 at one hour ahead
    assert "DTSTART:20261024T154000Z" in text  # the poolish, 17:40 the evening before, at two hours ahead
    assert "17:40     poolish" in ran.out
    assert "The clocks change in between, and that is counted." in ran.out
