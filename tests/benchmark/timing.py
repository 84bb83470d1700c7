"""Two commands run in turn, and how much longer the one takes: the median of the ratios, round by round."""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import time
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from pathlib import Path


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """Medians in milliseconds, the median ratio and the tenth parts at its ends, and the peak memory of ours in MB."""

    ours: float
    other: float
    ratio: float
    low: float
    high: float
    memory: float


# Run as a small process of its own: what a process holds when it starts a child is counted as the child's until the
# child's own program is in, and whoever measures holds more than most commands do.
LAUNCHER = """
import os, sys, time
quiet = [(os.POSIX_SPAWN_OPEN, at, os.devnull, os.O_WRONLY, 0) for at in (1, 2)]
begun = time.perf_counter()
child = os.posix_spawnp(sys.argv[1], sys.argv[1:], os.environ, file_actions=quiet)
_, status, used = os.wait4(child, 0)
print(time.perf_counter() - begun, used.ru_maxrss, os.waitstatus_to_exitcode(status))
"""
KIBIBYTE = 1 if sys.platform == "darwin" else 1024  # what the system counts memory in
FINE = (0, 1, 4)  # also where a check finds something, git cannot unite two pages, or there is something to settle


def run(words: Sequence[str], cwd: Path) -> tuple[float, float]:
    """How long a command takes, in milliseconds, and the most memory it or a child held, in MB (0 where not known)."""
    if not hasattr(os, "posix_spawnp") or not hasattr(os, "wait4"):
        begun = time.perf_counter()
        code = subprocess.run(words, cwd=cwd, capture_output=True, check=False).returncode
        taken, held = time.perf_counter() - begun, "0"
    else:
        launched = [sys.executable, "-I", "-S", "-c", LAUNCHER, *words]
        told = subprocess.run(launched, cwd=cwd, stdout=subprocess.PIPE, text=True, check=True).stdout.split()
        taken, held, code = float(told[0]), told[1], int(told[2])
    assert code in FINE, (words, code)
    return taken * 1000, int(held) * KIBIBYTE / 1024**2


def pair(
    ours: Sequence[Sequence[str]],
    other: Sequence[Sequence[str]],
    cwd: Path,
    other_cwd: Path,
    rounds: int,
    before: Callable[[], None],
) -> Measured:
    """The two in turn, `before` being done ahead of each round; a side may be several commands, one after another."""
    taken: list[tuple[float, float]] = []
    memory = 0.0
    for _ in range(rounds):
        before()
        mine = [run(words, cwd) for words in ours]
        theirs = [run(words, other_cwd) for words in other]
        taken.append((sum(one for one, _ in mine), sum(one for one, _ in theirs)))
        memory = max(memory, *(held for _, held in mine))
    ratios = sorted(one / two for one, two in taken)
    return Measured(
        ours=statistics.median(one for one, _ in taken),
        other=statistics.median(two for _, two in taken),
        ratio=statistics.median(ratios),
        low=ratios[len(ratios) // 10],
        high=ratios[-1 - len(ratios) // 10],
        memory=memory,
    )
