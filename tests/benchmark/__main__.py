"""Measures each command beside what would otherwise be run, in turn, and prints medians, ratios and memory.

    python -m tests.benchmark [--rounds 9] [--folder DIR] [--trials 100 1000 10000]

Books are built once in the folder and used again. Wants PyYAML for the yardstick that reads pages by hand.
"""

from __future__ import annotations

import argparse
import compileall
import json
import os
import platform
import shutil
import subprocess
import tempfile
import time
from pathlib import Path
from typing import TYPE_CHECKING

from tests.benchmark.books import build, ours
from tests.benchmark.cases import BY_HAND, PYTHON, RECORD, cases
from tests.benchmark.sharing import apart, go_back
from tests.benchmark.timing import pair

import ovenleaf

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from tests.benchmark.cases import Case
    from tests.benchmark.timing import Measured

SETTLED = 2.5  # seconds; what was changed a shorter time ago is not remembered


def same_answer(folder: Path) -> None:
    """Both ways of ranking give the same ten, or there is nothing to compare."""
    said = subprocess.run([ours(), "rank", "--top", "10", "--json"], cwd=folder, capture_output=True, check=True)
    mine = [(row["code"], float(row["score"])) for row in json.loads(said.stdout)["rows"][:10]]
    told = subprocess.run([PYTHON, BY_HAND, "rank", "."], cwd=folder, capture_output=True, text=True, check=True)
    other = [(code, float(score)) for code, score in map(str.split, told.stdout.splitlines())]
    assert mine == other, (mine, other)


def row(case: Case, found: Measured) -> str:
    """One line of the table."""
    size = f"{case.trials:,}"
    ratio = f"{found.ratio:.2f} ({found.low:.2f} to {found.high:.2f})"
    goal = f"{case.goal:.2f}{'' if found.ratio <= case.goal else ', missed'}" if case.goal else "no goal"
    return (
        f"| {case.name} | {size} | {found.ours:.0f} ms | {case.beside} | {found.other:.0f} ms | {ratio} "
        f"| {goal} | {found.memory:.0f} MB |"
    )


def main() -> None:
    """Builds what is wanting, measures, prints."""
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--rounds", type=int, default=9)
    asked.add_argument("--folder", type=Path, default=Path(tempfile.gettempdir()) / "ovenleaf-benchmark")
    asked.add_argument("--trials", type=int, nargs=3, default=(100, 1_000, 10_000))
    told = asked.parse_args()
    told.folder.mkdir(parents=True, exist_ok=True)
    # As installed: whoever installs a program has its modules compiled, and is not to wait for that at each start.
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    compileall.compile_dir(Path(ovenleaf.__file__).parent, quiet=1)
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
    book = books[case.trials]
    if case.state == "apart":
        folder = apart(book, case.trials, book.parent / f"apart-{case.trials}")
        now = folder / "now"
        return pair(case.ours, case.other, now / "noor", now / "by_hand", min(rounds, 5), lambda: go_back(folder))
    if case.state == "warm":
        other = books[case.other_trials or case.trials]
        know(case.ours, book)
        know(case.other if case.other_trials else (), other)
        return pair(case.ours, case.other, book, other, rounds, lambda: None)
    with tempfile.TemporaryDirectory(dir=book.parent) as scratch:
        copy = Path(shutil.copytree(book, Path(scratch) / "book"))
        know(case.ours if case.state == "entry" else (), copy)
        return pair(case.ours, case.other, copy, copy, rounds, ahead(case.state, copy))


def know(asked: Sequence[Sequence[str]], folder: Path) -> None:
    """Asks beforehand, when the book's last change is long enough past for the answer to be remembered."""
    subprocess.run(["git", "status"], cwd=folder, stdout=subprocess.DEVNULL, check=True)  # lists anew what it doubts
    time.sleep(SETTLED if asked else 0)
    for words in asked:
        subprocess.run(words, cwd=folder, stdout=subprocess.DEVNULL, check=False)


def ahead(state: str, folder: Path) -> Callable[[], None]:
    """What is done in a copy of the book ahead of each round."""
    if state == "cold":
        return lambda: (folder / ".git" / "ovenleaf" / "index.sqlite").unlink(missing_ok=True)
    if state == "entry":
        return lambda: subprocess.run(RECORD, cwd=folder, stdout=subprocess.DEVNULL, check=True) and None
    return lambda: None


if __name__ == "__main__":
    main()
