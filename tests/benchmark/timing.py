"""Two commands run in turn, and how much longer the one takes: the median of the ratios, round by round."""

from __future__ import annotations

import os
import statistics
import subprocess
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


def run(words: Sequence[str], cwd: Path) -> tuple[float, float]:
    """How long a command takes, in milliseconds, and the most memory it or a child held, in MB (0 where not known)."""
    begun = time.perf_counter()
    child = subprocess.Popen(words, cwd=cwd, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    if not hasattr(os, "wait4"):
        child.wait()
        return (time.perf_counter() - begun) * 1000, 0
    _, status, used = os.wait4(child.pid, 0)
    child.returncode = os.waitstatus_to_exitcode(status)
    taken = (time.perf_counter() - begun) * 1000
    assert child.returncode in (0, 1), (words, child.returncode)
    return taken, used.ru_maxrss / 1024


def pair(
    ours: Sequence[Sequence[str]],
    other: Sequence[Sequence[str]],
    cwd: Path,
    other_cwd: Path,
    rounds: int,
    before: Callable[[], None],
) -> Measured:
    """The two in turn, `before` being done ahead of each of ours; a side may be several commands, one after another."""
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
