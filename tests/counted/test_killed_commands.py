"""Commands are killed at every step of their write, and sharing at every step around it: nothing lost, nothing stuck.

Run with `-s` to see the table of kills by step.
"""

from __future__ import annotations

import json
import os
import random
import shutil
import signal
import subprocess
import sys
import time
from collections import Counter
from functools import partial
from pathlib import Path

import pytest

import ovenleaf
from end_to_end.test_places import daemon
from ovenleaf.book import git, histories, layout, store
from sharing_support import EVENING, MONDAY, SUNDAY, pages, two_copies
from support import run_ovenleaf

pytestmark = [
    pytest.mark.counted,
    pytest.mark.skipif(sys.platform == "win32", reason="process groups and SIGKILL are another thing on Windows"),
]
CHILD = Path(__file__).with_name("killed_child.py")
WHOM = ("parent", "group")
# Three commands and a share: each step of a write is killed over twenty times, for each of whom, and test_crash adds
# its own of the bare write. A write of sharing goes on to an entry that is there, so it makes none itself.
AROUND = ("take in", "combine", "lock", "journal", "page", "truth", "index", "done", "send")
COMMANDS = {
    "record": "record caraway-rye r1 --crumb 6 --note kept-as-told",
    "tweak": "tweak caraway-rye water=75% --why kept-as-told",
    "correct": "correct A1 scores.noor.crumb=7 --why kept-as-told",
}


@pytest.fixture(scope="module")
def nursery():
    """The program, read in once, which runs each victim in a process of its own; see killed_child."""
    env = {**os.environ, "PYTHONPATH": str(Path(ovenleaf.__file__).parents[1]), "OVENLEAF_NOW": EVENING}
    pipe = subprocess.PIPE
    with subprocess.Popen([sys.executable, str(CHILD)], env=env, stdin=pipe, stdout=pipe, text=True) as process:
        yield partial(killed, process)
        process.stdin.close()


def killed(process, root, stage, delay, whom, line):
    """Whether the command was killed so many ms into a stage, and whether it had told that it was done."""
    file = root.parent / "told"
    plan = [str(root), stage, delay, whom, str(file), *line.split()]
    process.stdin.write(json.dumps(plan) + "\n")
    process.stdin.flush()
    return int(process.stdout.readline()) == -signal.SIGKILL, bool(file.read_bytes())


def life_of(killed, root, line):
    """How many milliseconds the command takes where nobody kills it."""
    began = time.monotonic()
    assert killed(root, "never", 0, "parent", line) == (False, True)
    return (time.monotonic() - began) * 1000


def delays(chance, count, within):
    """At once, and at so many random moments."""
    return [0.0, *(round(chance.uniform(0.1, within), 2) for _ in range(count - 1))]


def faults_of(root):
    """What is half done in a book; nothing is right."""
    kept = {page: git.blob_id(layout.read_page(root, page)) for page in layout.working_pages(root)}
    there = {path: found for path, found in git.tree_ids(root).items() if path in kept or path.endswith(".yaml")}
    if kept != there:
        yield "pages and last entry differ"
    if git.changed(root):
        yield "something lies unsaved"
    if (root / ".git/ovenleaf/pending").exists():
        yield "a journal is left"
    if git.pending_locks(root):
        yield "git's lock files left"


def findings_of(root):
    """What check has to say; nothing is right."""
    ran = run_ovenleaf("check", cwd=root, now=EVENING)
    return [ran.out] if ran.code else []


def packed(root):
    """The book with its history in one file, as git packs it sooner or later: a copy is soon made."""
    subprocess.run(["git", "-C", root, "repack", "-a", "-d", "-q"], check=True)


def table(counted):
    stages = dict.fromkeys(key[0] for key in counted if isinstance(key, tuple))
    rows = [f"{stage:10}" + "".join(f"{counted[stage, whom]:>8}" for whom in WHOM) for stage in stages]
    total = ", ".join(f"{counted[name]} {name}" for name in ("runs", "killed", "confirmed", "lost", "stuck"))
    return "\n".join(("", f"{'killed in':10}{'parent':>8}{'group':>8}", *rows, total))


@pytest.mark.parametrize("name", COMMANDS)
def test_a_killed_command_is_in_the_book_wholly_or_not_at_all(name, nursery, tmp_path):
    """What it had confirmed is there, and all from before; typed again, it gets through, and check finds nothing."""
    (tmp_path / "made").mkdir()
    made = two_copies(tmp_path / "made")
    packed(made.noor)
    shutil.copytree(made.noor, tmp_path / "alive")
    life = life_of(nursery, tmp_path / "alive", COMMANDS[name])
    chance, counted, faults = random.Random(name), Counter(lost=0, stuck=0), []
    each = {stage: 5 if stage in AROUND else 7 for stage in store.STAGES}
    plans = [(stage, whom, delay) for stage in each for whom in WHOM for delay in delays(chance, each[stage], 12)]
    plans += [("start", whom, chance.uniform(0, life)) for whom in WHOM for _ in range(4)]
    plans += [("done", whom, chance.uniform(0, life / 4)) for whom in WHOM for _ in range(2)]
    for number, (stage, whom, delay) in enumerate(plans):
        root = tmp_path / f"run{number}"
        shutil.copytree(made.noor, root)
        before = git.head(root)
        was_killed, told = nursery(root, stage, delay, whom, COMMANDS[name])
        counted.update({"runs": 1, (stage, whom): was_killed, "killed": was_killed, "confirmed": told})
        counted["lost"] += bool(told and b"kept-as-told" not in b"".join(pages(root).values()))
        again = run_ovenleaf(COMMANDS[name].replace("crumb=7", "crumb=8"), cwd=root, now=EVENING)
        found = [*faults_of(root), *findings_of(root), *([] if again.code in (0, 3) else [again.err])]
        counted["stuck"] += bool(found)
        faults += [(stage, whom, delay, found)] if found else []
        counted["lost"] += not histories.follows(root, git.head(root), before)
        assert b"kept-as-told" in b"".join(pages(root).values())
        shutil.rmtree(root)
    print(table(counted))
    assert (counted["lost"], counted["stuck"], faults) == (0, 0, [])
    assert counted["confirmed"] > 0
    assert all(counted[stage, whom] >= count for stage, count in each.items() for whom in WHOM)


@pytest.fixture
def both_changed(tmp_path):
    """Two who changed one formula and baked; noor has shared hers, tomas has not."""
    (tmp_path / "made").mkdir()
    made = two_copies(tmp_path / "made")
    made.type(made.tomas, 'tweak caraway-rye salt=1.8% --why "less"', SUNDAY)
    made.type(made.tomas, "record caraway-rye r1 --crumb 7 --crust 7 --note tomas-told", SUNDAY)
    made.type(made.noor, 'tweak caraway-rye water=76% --why "tight"', MONDAY)
    made.type(made.noor, "record caraway-rye r1 --crumb 5 --crust 7 --note noor-told", MONDAY)
    made.type(made.noor, "share", MONDAY)
    packed(made.noor)
    packed(made.tomas)
    return made


class Shares:
    """Runs in which tomas's share is killed, each in a folder of its own, and what is counted of them."""

    def __init__(self, nursery, made, folder, line):
        self.killed, self.made, self.folder, self.line = nursery, made, folder, line
        self.counted, self.faults = Counter(lost=0, stuck=0), []
        self.copied("whole")
        self.life = life_of(nursery, folder / "whole/tomas/ferry-lane", line)
        self.whole = self.end_of("whole")

    def copied(self, name):
        shutil.copytree(self.made.folder, self.folder / name)

    def run(self, stage, whom, delay):
        self.copied("run")
        root = self.folder / "run/tomas/ferry-lane"
        was_killed, told = self.killed(root, stage, delay, whom, self.line)
        self.counted.update({"runs": 1, (stage, whom): was_killed, "killed": was_killed, "confirmed": told})
        end = self.end_of("run")
        if end != self.whole:
            self.counted["stuck"] += 1
            self.faults.append((stage, whom, delay, end))
        text = b"".join(pages(root).values())
        self.counted["lost"] += sum(note not in text for note in (b"tomas-told", b"noor-told"))
        shutil.rmtree(self.folder / "run")

    def end_of(self, name):
        """What tomas, then noor, come to when they share: each one's last entry, and what is half done or wrong."""
        found = []
        for who in ("tomas", "noor"):
            root = self.folder / name / who / "ferry-lane"
            ran = run_ovenleaf(self.line, cwd=root, now=EVENING)
            found.append((ran.code, git.head(root), tuple(faults_of(root))))
        return found, findings_of(self.folder / name / "tomas/ferry-lane")

    def hold(self, stages, each):
        print(table(self.counted))
        assert (self.counted["lost"], self.counted["stuck"], self.faults) == (0, 0, [])
        assert all(self.counted[stage, whom] >= each for stage in stages for whom in WHOM)


def test_a_share_that_was_killed_goes_on_as_if_it_had_not_been(nursery, both_changed, tmp_path):
    """The next one ends in the very entry that an uninterrupted one comes to, for both bakers; nothing is lost."""
    shares, chance = Shares(nursery, both_changed, tmp_path, "share --at ../../stick/ferry-lane"), random.Random(17)
    for stage in AROUND:
        for whom in WHOM:
            for delay in delays(chance, 6, 15):
                shares.run(stage, whom, delay)
    for whom in WHOM:
        for _ in range(4):
            shares.run("start", whom, chance.uniform(0, shares.life))
    shares.hold(AROUND, 6)
    assert shares.counted["confirmed"] > 0


def test_a_share_over_the_network_that_was_killed_goes_on_too(nursery, both_changed, tmp_path):
    """While git takes in or sends; a git that outlives its parent is in nobody's way."""
    (both_changed.folder / "srv").mkdir()
    subprocess.run(["git", "init", "-q", "--bare", "-b", "main", both_changed.folder / "srv/book.git"], check=True)
    with daemon(tmp_path, "--enable=receive-pack") as address:
        host = address.rpartition("/")[0]
        both_changed.type(both_changed.noor, f"share --at {host}/made/srv/book.git", MONDAY)
        chance = random.Random(18)
        whole = Shares(nursery, both_changed, tmp_path, f"share --at {host}/whole/srv/book.git")
        whole.line = f"share --at {host}/run/srv/book.git"
        for stage in ("take in", "combine", "send"):
            for whom in WHOM:
                for delay in delays(chance, 4, 60):
                    whole.run(stage, whom, delay)
    whole.hold(("take in", "combine", "send"), 4)
