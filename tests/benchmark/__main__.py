"""Measures each command beside what would otherwise be run, in turn, and prints medians, ratios and memory.

    python -m tests.benchmark [--rounds 9] [--folder DIR] [--trials 100 1000 10000]

Books are built once in the folder and used again. Wants PyYAML for the yardstick that reads pages by hand.
"""

from __future__ import annotations

import argparse
import json
import os
import platform
import shutil
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from tests.benchmark.books import build, ours
from tests.benchmark.timing import pair

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from tests.benchmark.timing import Measured

PYTHON = sys.executable
TYPER = (PYTHON, "-c", "import typer")
BY_HAND = str(Path(__file__).with_name("by_hand.py"))
SCHEMAS = str(Path(__file__).resolve().parents[2] / "schemas")


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """Ours (A) beside another (B), in books of so many trials; `goal` is the most that A / B should be."""

    name: str
    ours: Sequence[Sequence[str]]
    beside: str
    other: Sequence[Sequence[str]]
    trials: int
    other_trials: int = 0
    cold: bool = False
    goal: float


def cases(small: int, middle: int, large: int) -> list[Case]:
    """What is measured, in the order of the table."""
    rank = (ours(), "rank", "--top", "10")
    script = (PYTHON, BY_HAND, "rank", ".")
    diff = (ours(), "diff", "formula-07", "r3", "r19")
    two = ("formulas/formula-07/r3.noor.yaml", "formulas/formula-07/r19.noor.yaml")
    record = (ours(), "record", "formula-07", "--crumb", "7", "--crust", "8")
    by_hand = (
        ("sh", "-c", "cp book.yaml trials/formula-07/$$.yaml"),
        ("git", "add", "trials"),
        ("git", "-c", "user.name=n", "-c", "user.email=n@book.invalid", "commit", "-qm", "a bake"),
    )
    plain = "a short script with PyYAML's C reader"
    return [
        Case(name="--help", ours=[(ours(), "--help")], beside="import typer", other=[TYPER], trials=small, goal=1.15),
        Case(name="rank, warm", ours=[rank], beside="import typer; git ls-files -s",
             other=[TYPER, ("git", "ls-files", "-s")], trials=large, goal=1.30),
        Case(name="rank, warm", ours=[rank], beside=plain, other=[script], trials=large, goal=0.04),
        Case(name="rank, cold", ours=[rank], beside=plain, other=[script], trials=large, cold=True, goal=0.70),
        Case(name="rank, warm", ours=[rank], beside=f"rank of {small:,}", other=[rank], trials=large,
             other_trials=small, goal=1.25),
        Case(name="check, warm", ours=[(ours(), "check")], beside="import typer; git status",
             other=[TYPER, ("git", "status", "--porcelain")], trials=large, goal=1.30),
        Case(name="check, cold", ours=[(ours(), "check")], beside=f"{plain} and jsonschema",
             other=[(PYTHON, BY_HAND, "check", ".", SCHEMAS)], trials=middle, cold=True, goal=0.60),
        Case(name="diff", ours=[diff], beside="import typer; git diff of the two", trials=large,
             other=[TYPER, ("git", "diff", "--no-index", *two)], goal=1.40),
        Case(name="history", ours=[(ours(), "history", "formula-07")], beside="import typer; git log of the page",
             other=[TYPER, ("git", "log", "--", "formulas/formula-07.yaml")], trials=large, goal=1.00),
        Case(name="record", ours=[record], beside="import typer; git add; git commit",
             other=[TYPER, *by_hand], trials=large, goal=1.60),
    ]  # fmt: skip


def same_answer(folder: Path) -> None:
    """Both ways of ranking give the same ten, or there is nothing to compare."""
    said = subprocess.run([ours(), "rank", "--top", "10", "--json"], cwd=folder, capture_output=True, check=True)
    mine = [(row["code"], float(row["score"])) for row in json.loads(said.stdout)["rows"][:10]]
    told = subprocess.run([PYTHON, BY_HAND, "rank", "."], cwd=folder, capture_output=True, text=True, check=True)
    other = [(code, float(score)) for code, score in map(str.split, told.stdout.splitlines())]
    assert mine == other, (mine, other)


def cool(folder: Path) -> Callable[[], None]:
    """Takes away what was remembered of the pages."""
    return lambda: (folder / ".git" / "ovenleaf" / "index.sqlite").unlink(missing_ok=True)


def row(case: Case, found: Measured) -> str:
    """One line of the table."""
    size = f"{case.trials:,}"
    ratio = f"{found.ratio:.2f} ({found.low:.2f} to {found.high:.2f})"
    met = "" if found.ratio <= case.goal else ", missed"
    return (
        f"| {case.name} | {size} | {found.ours:.0f} ms | {case.beside} | {found.other:.0f} ms | {ratio} "
        f"| {case.goal:.2f}{met} | {found.memory:.0f} MB |"
    )


def main() -> None:
    """Builds what is wanting, measures, prints."""
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--rounds", type=int, default=9)
    asked.add_argument("--folder", type=Path, default=Path(tempfile.gettempdir()) / "ovenleaf-benchmark")
    asked.add_argument("--trials", type=int, nargs=3, default=(100, 1_000, 10_000))
    told = asked.parse_args()
    told.folder.mkdir(parents=True, exist_ok=True)
    books = {size: build(told.folder / f"of-{size}", size, ours()) for size in told.trials}
    for folder in books.values():
        same_answer(folder)
    print(f"{platform.platform()}, {os.cpu_count()} cores, Python {platform.python_version()}, {told.rounds} rounds\n")
    print("| command | trials | ours | beside | it | ratio, tenth to ninth | at most | peak memory |")
    print("|---|---|---|---|---|---|---|---|")
    for case in cases(*told.trials):
        print(row(case, measured(case, books, told.rounds)), flush=True)


def measured(case: Case, books: dict[int, Path], rounds: int) -> Measured:
    """One case; what it writes goes into a copy of the book."""
    folder = books[case.trials]
    with tempfile.TemporaryDirectory(dir=folder.parent) as scratch:
        if case.name == "record":
            folder = Path(shutil.copytree(folder, Path(scratch) / "book"))
        if not case.cold:
            subprocess.run([ours(), "rank"], cwd=folder, stdout=subprocess.DEVNULL, check=True)
            subprocess.run([ours(), "check"], cwd=folder, stdout=subprocess.DEVNULL, check=True)
        other = books[case.other_trials] if case.other_trials else folder
        return pair(case.ours, case.other, folder, other, rounds, cool(folder) if case.cold else lambda: None)


if __name__ == "__main__":
    main()
