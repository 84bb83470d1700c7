"""Commands are killed at every step of their write, and sharing at every step around it: nothing lost, nothing stuck.

Run with `-s` to see the table of kills by step.
"""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
from collections import Counter
from itertools import cycle, islice
from pathlib import Path

import pytest

import ovenleaf
from ovenleaf.book import git, layout, store
from sharing_support import EVENING, MONDAY, SUNDAY, pages, two_copies
from support import run_ovenleaf

pytestmark = [
    pytest.mark.counted,
    pytest.mark.skipif(sys.platform == "win32", reason="process groups and SIGKILL are another thing on Windows"),
]
CHILD = Path(__file__).with_name("killed_child.py")
# A write of sharing goes on to an entry that is there, so it makes none itself.
AROUND = ("take in", "combine", "lock", "journal", "page", "truth", "index", "done", "send")
HOW = [(whom, delay) for delay in (0, 1, 2, 4, 7) for whom in ("parent", "group")]
COMMANDS = {
    "record": "record caraway-rye r1 --crumb 6 --note kept-as-told",
    "tweak": "tweak caraway-rye water=75% --why kept-as-told",
    "correct": "correct A1 scores.noor.crumb=7 --why kept-as-told",
}


def killed(root, stage, whom, delay, line):
    """Whether the command was killed, and whether it had said that it was done."""
    source = str(Path(ovenleaf.__file__).parents[1])
    env = {**os.environ, "PYTHONPATH": source, "OVENLEAF_NOW": EVENING}
    command = [sys.executable, str(CHILD), stage, str(delay), whom, *line.split()]
    child = subprocess.Popen(command, cwd=root, env=env, stdout=subprocess.PIPE, start_new_session=True)
    said = child.communicate()[0]
    return child.returncode == -signal.SIGKILL, b"confirmed" in said


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
    ran = run_ovenleaf("check", cwd=root, now=EVENING)
    if ran.code != 0:
        yield ran.out


def table(kills, *, runs, confirmed, lost, stuck):
    stages = dict.fromkeys(stage for stage, _ in kills)
    rows = [f"{stage:10}{kills[stage, 'parent']:>8}{kills[stage, 'group']:>8}" for stage in stages]
    head = f"{'killed in':10}{'parent':>8}{'group':>8}"
    return "\n".join(("", head, *rows, f"{runs} runs, {confirmed} confirmed, lost {lost}, stuck {stuck}"))


@pytest.mark.parametrize("name", COMMANDS)
def test_a_killed_command_is_in_the_book_wholly_or_not_at_all(name, tmp_path):
    """What it had confirmed is there; the same command, typed again, gets through, and check finds nothing."""
    (tmp_path / "made").mkdir()
    made = two_copies(tmp_path / "made")
    kills, confirmed, lost, stuck = Counter(), 0, 0, []
    for number, (stage, (whom, delay)) in enumerate(
        (stage, how) for stage in store.STAGES for how in islice(cycle(HOW), 8)
    ):
        root = tmp_path / f"run{number}"
        shutil.copytree(made.noor, root)
        was_killed, done = killed(root, stage, whom, delay, COMMANDS[name])
        kills[stage, whom] += was_killed
        confirmed += done
        before = b"".join(pages(root).values()).count(b"kept-as-told")
        again = run_ovenleaf(COMMANDS[name].replace("crumb=7", "crumb=8"), cwd=root, now=EVENING)
        stuck += [] if again.code in (0, 3) and not list(faults_of(root)) else [(stage, whom, delay, again.err)]
        text = b"".join(pages(root).values())
        lost += bool(done and not before)
        assert b"kept-as-told" in text
        shutil.rmtree(root)
    print(table(kills, runs=sum(kills.values()), confirmed=confirmed, lost=lost, stuck=len(stuck)))
    assert (lost, stuck) == (0, [])
    assert all(kills[stage, "parent"] and kills[stage, "group"] for stage in store.STAGES)


def test_a_share_that_was_killed_goes_on_as_if_it_had_not_been(tmp_path):
    """The next one ends in the very entry that an uninterrupted one comes to, for both bakers; nothing is lost."""
    (tmp_path / "made").mkdir()
    made = two_copies(tmp_path / "made")
    made.type(made.tomas, 'tweak caraway-rye salt=1.8% --why "less"', SUNDAY)
    made.type(made.tomas, "record caraway-rye r1 --crumb 7 --crust 7", SUNDAY)
    made.type(made.noor, 'tweak caraway-rye water=76% --why "tight"', MONDAY)
    made.type(made.noor, "record caraway-rye r1 --crumb 5 --crust 7", MONDAY)
    made.type(made.noor, "share", MONDAY)
    whole = _shared(tmp_path / "whole", tmp_path / "made")
    kills, runs, stuck = Counter(), 0, []
    for stage in AROUND:
        for whom, delay in islice(cycle(HOW), 20):
            folder = tmp_path / "run"
            shutil.copytree(tmp_path / "made", folder)
            was_killed, _ = killed(folder / "tomas/ferry-lane", stage, whom, delay, "share --at ../../stick/ferry-lane")
            kills[stage, whom] += was_killed
            runs += 1
            if (got := _shared(folder, None)) != whole:
                stuck.append((stage, whom, delay, got))
            shutil.rmtree(folder)
    print(table(kills, runs=runs, confirmed=0, lost=0, stuck=len(stuck)))
    assert stuck == []
    assert all(kills[stage, "parent"] + kills[stage, "group"] >= 18 for stage in AROUND)


def _shared(folder, made):
    """What tomas, then noor, come to when they share: each one's last entry, and what is half done."""
    if made is not None:
        shutil.copytree(made, folder)
    found = []
    for who in ("tomas", "noor"):
        root = folder / who / "ferry-lane"
        ran = run_ovenleaf("share --at ../../stick/ferry-lane", cwd=root, now=EVENING)
        found.append((ran.code, git.head(root), tuple(faults_of(root))))
    return found
