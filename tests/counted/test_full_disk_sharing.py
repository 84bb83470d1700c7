"""Disks that fill up, or may only be read, while a book is shared, joined or settled: all or nothing, in words.

Run with `-s` to see how each ended, by how many blocks of the disk were free.
"""

from __future__ import annotations

import os
import shutil
import subprocess
from collections import Counter

import pytest

from disks import small_disk
from sharing_support import EVENING, GIT_WORDS, MONDAY, SUNDAY, pages, two_copies

pytestmark = pytest.mark.counted
FREE = (*range(0, 14, 2), 24, 60)  # blocks of 4 kB


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """Noor and tomas changed the rye in two ways; noor has shared hers."""
    made = two_copies(tmp_path_factory.mktemp("made"))
    made.type(made.tomas, 'tweak caraway-rye water=76% --why "less"', SUNDAY)
    made.type(made.noor, 'tweak caraway-rye water=75% --why "tight"', MONDAY)
    made.type(made.noor, "share", MONDAY)
    return made


@pytest.fixture(scope="module")
def settled_by_nobody(made, tmp_path_factory):
    """The same after tomas has shared too: the water is open."""
    folder = tmp_path_factory.mktemp("open") / "copies"
    shutil.copytree(made.folder, folder)
    made.type(folder / "tomas/ferry-lane", "share --at ../../stick/ferry-lane", EVENING, code=4)
    return folder


class Bench:
    """What a case is made of: the copies, the folder that lies on the small disk, who types and what."""

    def __init__(self, made, disk, elsewhere):
        self.made, self.disk, self.elsewhere = made, disk, elsewhere

    def laid_out(self, copies, on_disk):
        """A fresh copy of all, of which `on_disk` lies on the disk."""
        for old in (*self.disk.iterdir(), self.elsewhere):
            shutil.rmtree(old, ignore_errors=True)
        shutil.copytree(copies, self.elsewhere)
        if on_disk == "kitchen":
            (self.disk / "kitchen").mkdir()
        else:
            shutil.move(self.elsewhere / on_disk, self.disk / on_disk)

    def place(self, name):
        return next(folder / name for folder in (self.disk, self.elsewhere) if (folder / name).exists())

    def type(self, case):
        line, where, _ = CASES[case]
        return self.made.run(self.place(where), line.format(stick=self.place("stick")), EVENING)

    def book(self, case):
        _, where, on_disk = CASES[case]
        return self.place(where) / "theirs" if on_disk == "kitchen" else self.place(where)


# What is typed, where, and what lies on the small disk.
CASES = {
    "share, the book's disk": ("share --at {stick}/ferry-lane", "tomas/ferry-lane", "tomas"),
    "share, the stick": ("share --at {stick}/ferry-lane", "tomas/ferry-lane", "stick"),
    "join": ("join {stick}/ferry-lane theirs --baker ravi", "kitchen", "kitchen"),
    "settle": ("settle caraway-rye water=75%", "tomas/ferry-lane", "tomas"),
}


@pytest.fixture
def bench(made, tmp_path):
    with small_disk(tmp_path / "disk", megabytes=6) as disk:
        yield Bench(made, disk, tmp_path / "copies")


def reads_well(ran):
    """A refusal in a baker's words, with what is to be done."""
    assert ran.code == 3, ran
    assert not ran.out
    assert not GIT_WORDS.search(ran.err), ran.err
    assert "something went wrong" not in ran.err.lower()


def in_order(bench, book):
    checked = bench.made.run(book, "check", EVENING)
    assert checked.code == 0 or "water is open" in checked.out, checked.out


@pytest.mark.parametrize("case", CASES)
def test_a_full_disk_while_sharing(case, made, settled_by_nobody, bench):
    """Whole, or refused with the book as it was; with room again the same command comes to the same end."""
    copies = settled_by_nobody if case == "settle" else made.folder
    ended = Counter()
    bench.laid_out(copies, CASES[case][2])
    assert bench.type(case).code in (0, 4)
    whole = pages(bench.book(case))
    for free in FREE:
        bench.laid_out(copies, CASES[case][2])
        before = pages(bench.book(case))
        room = os.statvfs(bench.disk)
        (bench.disk / "filler").write_bytes(b"x" * max(0, room.f_bavail - free) * room.f_bsize)
        ran = bench.type(case)
        (bench.disk / "filler").unlink()
        ended["refused" if ran.code == 3 else "done"] += 1
        if ran.code == 3:
            reads_well(ran)
            assert "full" in ran.err or "the disk did not take it" in ran.err, ran.err
            assert pages(bench.book(case)) == (whole if "What came in is in your book" in ran.err else before), ran.err
            assert bench.type(case).code in (0, 4), free
        assert pages(bench.book(case)) == whole, free
        in_order(bench, bench.book(case))
    print("", case, *(f"{count:4} {what}" for what, count in ended.items()), sep="\n")
    assert set(ended) == {"refused", "done"}


@pytest.mark.parametrize("case", CASES)
def test_a_disk_that_may_only_be_read_while_sharing(case, made, settled_by_nobody, bench):
    """A stick with its switch on lock: refused in words, nothing lost, and unlocked the command goes through."""
    copies = settled_by_nobody if case == "settle" else made.folder
    bench.laid_out(copies, CASES[case][2])
    before = pages(bench.book(case))
    subprocess.run(["mount", "-o", "remount,ro", str(bench.disk)], check=True)
    ran = bench.type(case)
    subprocess.run(["mount", "-o", "remount,rw", str(bench.disk)], check=True)
    reads_well(ran)
    assert "may not be written in" in " ".join(ran.err.split()), ran.err
    if "What came in is in your book" not in ran.err:
        assert pages(bench.book(case)) == before
    assert bench.type(case).code in (0, 4)
    in_order(bench, bench.book(case))
