"""Days as bakers say them."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders import QUICK
from ovenleaf.domain.days import day

MONDAY = date(2026, 11, 9)
DAYS = st.dates(min_value=date(1901, 1, 1), max_value=date(2100, 12, 31))


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("today", MONDAY),
        ("now", MONDAY),
        ("Yesterday", date(2026, 11, 8)),
        ("sunday", date(2026, 11, 8)),
        ("on Sat", date(2026, 11, 7)),
        ("last tuesday", date(2026, 11, 3)),
        ("monday", MONDAY),
        ("last Monday", date(2026, 11, 2)),
        ("8 November", date(2026, 11, 8)),
        ("8. nov.", date(2026, 11, 8)),
        ("  8   Nov ", date(2026, 11, 8)),
        ("Nov 8", date(2026, 11, 8)),
        ("24 December", date(2025, 12, 24)),
        ("24 December 2026", date(2026, 12, 24)),
        ("29 Feb 2024", date(2024, 2, 29)),
        ("2026-11-08", date(2026, 11, 8)),
    ],
)
def test_a_day_as_it_is_said(said, meant):
    """Without a year it is today or before; with one it is what was said."""
    assert day(said, MONDAY) == meant


@pytest.mark.parametrize(
    "said", ["", "su", "someday", "31 November", "29 Feb 2026", "8 Noo", "the 8th", "11/8", "2026-02-30", "8"]
)
def test_what_is_no_day_is_none(said):
    """Nothing is guessed, and an order of day and month least of all."""
    assert day(said, MONDAY) is None


def test_a_leap_day_said_without_a_year_is_the_last_one_there_was():
    """In a year that has none, 29 February is that of the last leap year."""
    assert day("29 Feb", date(2026, 11, 9)) == date(2024, 2, 29)
    assert day("29 Feb", date(2024, 1, 5)) == date(2020, 2, 29)


@QUICK
@given(today=DAYS, back=st.integers(min_value=0, max_value=364))
def test_a_day_said_in_words_means_that_day(today, back):
    """By its day and month, and within the week by its name, every day of the last year is understood."""
    meant = today - timedelta(days=back)
    if (meant.month, meant.day) != (2, 29):
        assert day(f"{meant.day} {meant:%B}", today) == meant
    assert day(f"{meant:%A}", today) == today - timedelta(days=back % 7)
    assert day(meant.isoformat(), today) == meant
