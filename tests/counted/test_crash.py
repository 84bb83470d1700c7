"""Writers are killed at every step and at any moment, and disks fill up; the book loses nothing.

Run with `-s` to see the table of kills by step.
"""

from __future__ import annotations

import os
import random
import shutil
import signal
import subprocess
import sys
import time
from collections import Counter
from datetime import UTC, datetime
from pathlib import Path

import pytest

from disks import small_disk
from ovenleaf.book import git, layout, store, write_faults
from ovenleaf.errors import Refusal

AT = datetime(2026, 11, 18, 8, 0, tzinfo=UTC)
WHOM = ("parent", "group")
WRITES = 12  # more than any victim lives to make
# How long after a step begins the kill strikes: a git child lives 2 to 6 ms.
DELAYS = (0.0, 0.001, 0.002, 0.004, 0.007)
ANY_MOMENT = 40
CHILD = Path(__file__).with_name("crash_child.py")


def start(root, name, *plan):
    env = os.environ | {"PYTHONPATH": str(Path(store.__file__).parents[2])}
    command = [sys.executable, str(CHILD), str(root), name, str(WRITES), *plan]
    return subprocess.Popen(command, env=env, stdout=subprocess.PIPE, start_new_session=True)


def kill(child, whom):
    """Kills a writer that is still at work; one that gave up by itself is found by its exit code."""
    if child.poll() is not None:
        return
    (os.killpg if whom == "group" else os.kill)(child.pid, signal.SIGKILL)


def stages_of(root, name):
    path = root.parent / f"{name}.stages"
    return path.read_text().split() if path.exists() else []


def kill_at(root, name, stage, whom, chance):
    """The writer kills itself, or its whole group, just before a step of its first or a later write."""
    return start(root, name, stage, str(chance.randint(1, 3)), whom)


def kill_within(root, name, stage, whom, delay):
    """The writer is killed a little after it began a step: a git child of its is at work then."""
    child = start(root, name)
    while stage not in stages_of(root, name) and child.poll() is None:
        time.sleep(0.0002)
    time.sleep(delay)
    kill(child, whom)
    return child


def kill_at_any_moment(root, name, whom, chance):
    """The writer is killed at a moment that chance picks, once it has begun."""
    child = start(root, name)
    while not stages_of(root, name) and child.poll() is None:
        time.sleep(0.0002)
    time.sleep(chance.uniform(0, 0.2))
    kill(child, whom)
    return child


def plans(chance):
    """What is done to each victim: a way to kill it, and whom."""
    for whom in WHOM:
        for stage in store.STAGES:
            yield whom, lambda root, name, s=stage, w=whom: kill_at(root, name, s, w, chance)
            for delay in DELAYS[1:]:
                yield whom, lambda root, name, s=stage, w=whom, d=delay: kill_within(root, name, s, w, d)
        for _ in range(ANY_MOMENT // len(WHOM)):
            yield whom, lambda root, name, w=whom: kill_at_any_moment(root, name, w, chance)


def plain_git(root, *args):
    quiet = {"PATH": os.environ["PATH"], "GIT_CONFIG_GLOBAL": os.devnull, "GIT_CONFIG_NOSYSTEM": "1"}
    return subprocess.run(("git", "-C", str(root), *args), env=quiet, capture_output=True, check=True).stdout.decode()


def faults_of(root, name, written):
    """What is wrong after the write that followed a kill; nothing is right."""
    pages = {page: git.blob_id(layout.read_page(root, page)) for page in layout.working_pages(root)}
    if pages != git.tree_ids(root):
        yield "pages and last entry differ"
    if plain_git(root, "status", "--porcelain"):
        yield "git users see something half done"
    if left := {path.name for path in (root / ".git/ovenleaf").iterdir()} - {"lock"}:
        yield f"left over: {left}"
    if git.pending_locks(root):
        yield "git's lock files left"
    subjects = plain_git(root, "log", "--format=%s", "-20").splitlines()
    made = [int(subject.split()[1]) for subject in subjects if subject.split()[0] == name]
    if made != sorted(range(len(made)), reverse=True):
        yield "entries out of order"
    if told := written.recovered:
        number = int(told.split(f"cut off: {name} ")[1].split(".")[0])
        if told.endswith("It is saved.") != (number in made):
            yield "the note told other than what is"
    text = layout.read_page(root, "formulas/market-roll.yaml").decode()
    if made and f"why: {name} {made[0]}\n" not in text:
        yield "the page is not the last entry's"


def table(kills, lost, stuck, recovered):
    rows = [f"{'killed in':10}{'parent alone':>14}{'whole group':>13}"]
    for stage in (*store.STAGES, "between"):
        rows.append(f"{stage:10}{kills[stage, 'parent']:>14}{kills[stage, 'group']:>13}")
    total = [sum(count for (_, whom), count in kills.items() if whom == one) for one in WHOM]
    rows.append(f"{'all':10}{total[0]:>14}{total[1]:>13}")
    rows.append(f"lost {lost}, stuck {stuck}")
    rows.append(f"found cut off: {recovered['saved']} saved, {recovered['dropped']} dropped")
    return "\n".join(rows)


@pytest.mark.counted
@pytest.mark.skipif(sys.platform == "win32", reason="process groups and SIGKILL are another thing on Windows")
def test_killed_writers_leave_nothing_stuck_and_lose_nothing(tmp_path):
    """However a writer is killed, the next one gets through and every confirmed entry is in the book."""
    root = tmp_path / "ferry-lane"
    root.mkdir()
    git.init(root)
    kills, recovered, confirmed, faults, stuck = Counter(), Counter(), [], [], 0
    for number, (whom, strike) in enumerate(plans(random.Random(20261118))):
        name = f"run{number}"
        child = strike(root, name)
        child.wait()  # and no more: a git child that outlives it may still be at work, as it would be for a baker
        try:
            entry = store.Entry(subject=f"after {name}", by="tomas", at=AT)
            written = store.write(root, {"trials/after.yaml": f"after: {name}\n".encode()}, entry)
        except (Refusal, git.GitFault) as fault:
            stuck += 1
            faults.append((name, repr(fault)))
            break  # all that follow would meet the same
        confirmed += [*child.communicate()[0].decode().split(), written.entry]
        if child.returncode != -signal.SIGKILL:
            stuck += 1
            faults.append((name, f"the writer ended by itself, with {child.returncode}"))
            break
        kills[stages_of(root, name)[-1], whom] += 1
        recovered["saved" if (written.recovered or "").endswith("saved.") else "dropped"] += bool(written.recovered)
        faults += [(name, fault) for fault in faults_of(root, name, written)]
    entries = set(plain_git(root, "rev-list", "HEAD").split())
    lost = len(set(confirmed) - entries)
    print("", table(kills, lost, stuck, recovered), sep="\n")
    assert (lost, stuck, faults) == (0, 0, [])
    assert sum(kills.values()) >= 100
    assert all(kills[stage, whom] for stage in store.STAGES for whom in WHOM)
    assert recovered["saved"]
    assert recovered["dropped"]
    plain_git(root, "fsck", "--strict", "--full")


def everything_in(root):
    """Every file of the book with its bytes, and the last entry; but not what lies unused in the history."""
    files = {path: path.read_bytes() for path in root.rglob("*") if path.is_file() and ".git" not in path.parts}
    return files, git.head(root), {path.name for path in (root / ".git/ovenleaf").iterdir()}


@pytest.mark.counted
def test_a_disk_that_fills_up_leaves_the_book_as_it_was(tmp_path):
    """However many blocks are free, a write is whole, or refused with every byte as before."""
    with small_disk(tmp_path / "disk", megabytes=3) as disk:
        fills_up(disk)


def fills_up(disk):
    root, filler = disk / "ferry-lane", disk / "filler"
    counted = Counter()
    for free in range(0, 60, 2):
        root.mkdir()
        git.init(root)
        pages = {f"formulas/f{number}.yaml": b"why: first\n" * 500 for number in range(6)}
        store.write(root, pages, store.Entry(subject="begun", by="noor", at=AT))
        room = os.statvfs(disk)
        filler.write_bytes(b"x" * (room.f_bavail - free) * room.f_bsize)
        before = everything_in(root)
        changes = dict.fromkeys(pages, b"why: a longer second\n" * 500) | {"trials/new.yaml": b"x\n" * 4000}
        refused = None
        try:
            store.write(root, changes, store.Entry(subject="full", by="noor", at=AT))
        except write_faults.CannotWrite as refusal:
            refused = refusal
        counted[refused.reason if refused else "written"] += 1
        if refused:
            assert refused.put_back, free
            assert everything_in(root) == before, free
        filler.unlink()
        store.write(root, {"trials/after.yaml": b"x\n"}, store.Entry(subject="after", by="noor", at=AT))
        assert plain_git(root, "status", "--porcelain") == "", free
        plain_git(root, "fsck", "--strict")
        shutil.rmtree(root)
    print("", *(f"{count:4} {what}" for what, count in counted.items()), sep="\n")
    assert counted["written"] > 5
    assert counted["the disk is full"] > 5
