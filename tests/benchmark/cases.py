"""What is measured, and beside what: the goals, and what they are to be compared with."""

from __future__ import annotations

import sys
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from tests.benchmark.books import ours
from tests.benchmark.sharing import BY_GIT

if TYPE_CHECKING:
    from collections.abc import Sequence

PYTHON = sys.executable
TYPER = (PYTHON, "-c", "import typer")
BY_HAND = str(Path(__file__).with_name("by_hand.py"))
RECORD = (ours(), "record", "formula-07", "--crumb", "7", "--crust", "8")
SCHEMAS = str(Path(__file__).resolve().parents[2] / "schemas")


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """Ours (A) beside another (B), in books of so many trials; `goal` is the most that A / B should be, 0 for none.

    `state` is what the book is in ahead of each round: "warm", asked before and unchanged since; "cold", nothing is
    remembered; "entry", a trial was recorded just before; "apart", two bakers went on by themselves;
    "record", as "warm", in a copy that may be written in.
    """

    name: str
    ours: Sequence[Sequence[str]]
    beside: str
    other: Sequence[Sequence[str]]
    trials: int
    other_trials: int = 0
    state: str = "warm"
    goal: float = 0


def cases(small: int, middle: int, large: int) -> list[Case]:
    """What is measured, in the order of the table."""
    rank = (ours(), "rank", "--top", "10")
    script = (PYTHON, BY_HAND, "rank", ".")
    diff = (ours(), "diff", "formula-07", "r3", "r19")
    two = ("formulas/formula-07/r3.noor.yaml", "formulas/formula-07/r19.noor.yaml")
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
        Case(name="rank, cold", ours=[rank], beside=plain, other=[script], trials=large, state="cold", goal=0.70),
        Case(name="rank, warm", ours=[rank], beside=f"rank of {small:,}", other=[rank], trials=large,
             other_trials=small, goal=1.25),
        Case(name="check, warm", ours=[(ours(), "check")], beside="import typer; git status",
             other=[TYPER, ("git", "status", "--porcelain")], trials=large, goal=1.30),
        Case(name="check, cold", ours=[(ours(), "check")], beside=f"{plain} and jsonschema",
             other=[(PYTHON, BY_HAND, "check", ".", SCHEMAS)], trials=middle, state="cold", goal=0.60),
        Case(name="diff", ours=[diff], beside="import typer; git diff of the two", trials=large,
             other=[TYPER, ("git", "diff", "--no-index", *two)], goal=1.40),
        Case(name="history", ours=[(ours(), "history", "formula-07")], beside="import typer; git log of the page",
             other=[TYPER, ("git", "log", "--", "formulas/formula-07.yaml")], trials=large, goal=1.00),
        Case(name="record", ours=[RECORD], beside="import typer; git add; git commit",
             other=[TYPER, *by_hand], trials=large, state="record", goal=1.60),
        Case(name="rank, after one more entry", ours=[rank], beside=plain, other=[script], trials=large, state="entry"),
        Case(name="check, after one more entry", ours=[(ours(), "check")], beside="import typer; git status",
             other=[TYPER, ("git", "status", "--porcelain")], trials=large, state="entry"),
        Case(name="diff, after one more entry", ours=[diff], beside="import typer; git diff of the two", trials=large,
             other=[TYPER, ("git", "diff", "--no-index", *two)], state="entry"),
        Case(name="share", ours=[(ours(), "share")], beside="git merge, which leaves the formulas to the baker",
             other=[BY_GIT], trials=large, state="apart", goal=6),
    ]  # fmt: skip
