"""Two bakers who went on apart from one book, to measure how long it takes until they are together again."""

from __future__ import annotations

import shutil
import subprocess
from typing import TYPE_CHECKING

from tests.benchmark.books import NAMES, add_bakes, ours

if TYPE_CHECKING:
    from pathlib import Path

APART = 100  # trials on each side
CHANGED = 10  # formulas that both made a new revision of, each by another line
# git is given what the other side holds beforehand, and leaves the formulas that both changed to the baker.
BY_GIT = ("git", "-c", "user.name=n", "-c", "user.email=n@book.invalid", "merge", "-m", "together", "theirs")


def apart(book: Path, trials: int, folder: Path) -> Path:
    """Noor's copy, Ines's copy, and the folder between them that has what is Ines's; built once, in `folder`/kept."""
    kept = folder / "kept"
    if not kept.exists():
        shutil.rmtree(folder, ignore_errors=True)
        now = folder / "now"  # an address may be kept in full, so that all is made where it will be used
        shutil.copytree(book, now / "noor")
        _say(now / "noor", "share", "--at", "../between")
        _say(now, "join", "between", "ines", "--baker", "ines")
        for baker in ("ines", "noor"):  # they have shared before: a first share sends all there is
            _say(now / baker, "record", NAMES[-1], "--crumb", "7", "--crust", "7")
            _say(now / baker, "share")
        for baker, change in (("noor", "water=+1points"), ("ines", "butter=+1points")):
            add_bakes(now / baker, range(trials, trials + 2 * APART, 2), baker)
            for name in NAMES[:CHANGED]:
                _say(now / baker, "tweak", name, change, "--why", "softer")
        _say(now / "ines", "share")
        now.rename(kept)
    return folder


def go_back(folder: Path) -> None:
    """All as it was before they came together: `now/noor` for us, `now/by_hand` for git."""
    now = folder / "now"
    shutil.rmtree(now, ignore_errors=True)
    shutil.copytree(folder / "kept" / "between", now / "between")
    for copy in ("noor", "by_hand"):
        shutil.copytree(folder / "kept" / "noor", now / copy)
        _git(now / copy, "status", "--porcelain")  # or the first to look would look at every file
    _git(now / "by_hand", "fetch", "--quiet", "../../kept/ines", "HEAD:refs/heads/theirs")
    (now / "by_hand" / ".git" / "info" / "attributes").write_text("* merge\n")  # line by line, not by our own program


def _say(folder: Path, *words: str) -> None:
    subprocess.run([ours(), *words], cwd=folder, stdout=subprocess.DEVNULL, check=True)


def _git(folder: Path, *words: str) -> None:
    subprocess.run(["git", *words], cwd=folder, stdout=subprocess.DEVNULL, check=True)
