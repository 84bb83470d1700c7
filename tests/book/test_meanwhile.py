"""Half of many pages is read by another process: the answers are the same, whatever becomes of it."""

from __future__ import annotations

import os
import sys

import pytest

from ovenleaf.book.steps import meanwhile as room
from ovenleaf.book.steps.meanwhile import meanwhile

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="only there a second process is begun")
PAGES = tuple(f"trials/{number}.yaml" for number in range(room.MANY))


@pytest.fixture(autouse=True)
def _two_processors(monkeypatch):
    monkeypatch.setattr(room, "_is_of_use", lambda: True)


def by_whom(page: str) -> str:
    return f"{page} {os.getpid()}"


def test_the_latter_half_is_read_by_another():
    """Of the former half nothing is given; of the latter what another process makes of it, page by page."""
    other = meanwhile(PAGES, by_whom)
    told = [other(page) for page in PAGES]
    half = len(PAGES) // 2
    assert told[:half] == [None] * half
    pages, processes = zip(*(text.split() for text in told[half:] if text), strict=True)
    assert pages == PAGES[half:]
    assert len(set(processes)) == 1
    assert processes[0] != str(os.getpid())
    assert other("trials/of-another-book.yaml") is None


def test_few_pages_are_read_here():
    """It is begun only where that is worth it."""
    other = meanwhile(PAGES[1:], by_whom)
    assert {other(page) for page in PAGES} == {None}


def fails(page: str) -> str:
    raise ValueError(page)


def dies(page: str) -> str:
    os._exit(9)


@pytest.mark.parametrize("ends", [fails, dies])
def test_whatever_becomes_of_it_nothing_is_said_and_nothing_waits(ends, capfd):
    """A page that it did not come through with is left to be read here, where what is wrong shows."""
    other = meanwhile(PAGES, ends)
    assert {other(page) for page in PAGES} == {None}
    assert capfd.readouterr() == ("", "")
