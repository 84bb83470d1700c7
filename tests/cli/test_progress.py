"""How far long work has come: one line of a terminal that is gone at the end, and nothing anywhere else."""

from __future__ import annotations

import re
import sys
from contextlib import contextmanager

import pytest

from ovenleaf.book.steps import onlooker
from ovenleaf.cli import progress


def count(total=3):
    with progress.progress("pages", total) as one_more:
        for _ in range(3):
            one_more()


@pytest.fixture
def impatient(monkeypatch):
    monkeypatch.setattr(progress, "PATIENCE", 0)
    monkeypatch.setattr(progress, "_PACE", 0)


def test_a_terminal_is_told_and_nothing_stays(impatient, monkeypatch, capsys):
    """Each line is written over the one before, the last by blanks, without an escape code."""
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True)
    count()
    assert capsys.readouterr().err == "\r1 of 3 pages\r2 of 3 pages\r3 of 3 pages\r            \r"


def test_how_many_there_are_may_be_unknown(impatient, monkeypatch, capsys):
    """The count stands alone then."""
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True)
    count(total=0)
    assert "\r3 pages" in capsys.readouterr().err


def test_short_work_and_a_pipe_are_told_nothing(monkeypatch, capsys):
    """Half a second is waited for; in a pipe nothing is said at all."""
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True)
    count()
    monkeypatch.setattr(sys.stderr, "isatty", lambda: False)
    monkeypatch.setattr(progress, "PATIENCE", 0)
    count()
    assert capsys.readouterr().err == ""


def test_a_book_that_is_read_anew_counts_its_pages(sample_book, oven):
    """Each trial once, of as many as there are; when they are known, none."""
    told = []

    @contextmanager
    def onlooks(what, total):
        seen = [what, total, 0]
        told.append(seen)

        def one_more():
            seen[2] += 1

        yield one_more

    for index in (sample_book / ".git/ovenleaf").glob("index.sqlite*"):
        index.unlink()
    token = onlooker._looks_on.set(onlooks)
    try:
        first = oven("check", cwd=sample_book)
        cold = [tuple(one) for one in told]
        told.clear()
        second = oven("check", cwd=sample_book)
    finally:
        onlooker._looks_on.reset(token)
    trials = len(list((sample_book / "trials").rglob("*.yaml")))
    assert ("pages", trials, trials) in cold
    assert [one[2] for one in told] == [0] * len(told)
    assert first.out == second.out
    assert not re.search(r"\d+ of \d+ pages", first.out + first.err)
