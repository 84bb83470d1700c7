"""What the tests of hostile books share: a program that leaves a mark where it is run, and what lies around a book."""

from __future__ import annotations

import os
import signal
import subprocess
from contextlib import contextmanager
from typing import TYPE_CHECKING

from refusals_support import reads_well
from sharing_support import EVENING, MONDAY, Copies, two_copies

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

FORMULA = "formulas/caraway-rye.yaml"
KEPT = "formulas/caraway-rye/r1.noor.yaml"
LOOKING = ("", "list", "show caraway-rye", "rank", "history caraway-rye", "find salt", "check", "share --preview")
WRITING = ('tweak caraway-rye salt=1.7% --why "less salt"', "record caraway-rye r1 --crumb 6", "save", "undo", "share")
WHO = {f"GIT_{role}_{what}": "petra" for role in ("AUTHOR", "COMMITTER") for what in ("NAME", "EMAIL")}


def kitchens_in(folder: Path) -> None:
    """Noor's book with three revisions and a bake, shared on a stick, tomas's copy, and what lies around."""
    made = two_copies(folder)
    for salt in ("1.9%", "1.8%"):
        made.type(made.noor, f'tweak caraway-rye salt={salt} --why "less"', MONDAY)
    made.type(made.noor, "share", MONDAY)
    (folder / "outside").mkdir()
    (folder / "outside/secret.yaml").write_text("formula: caraway-rye\ntitle: a secret of the house\n")
    for copy in (made.noor, made.tomas):
        subprocess.run(["git", "-C", copy, "repack", "-a", "-d", "-q"], check=True)


def moved(folder: Path, old: Path) -> Copies:
    """The kitchens, in the folder that they were copied to."""
    for kitchen in ("noor", "tomas"):
        known = folder / kitchen / "ferry-lane/.git/ovenleaf/sharing.json"
        known.write_text(known.read_text().replace(str(old), str(folder)))
    return Copies(folder)


def program(book: Path, mark: Path) -> Path:
    """A program that came with a book, and leaves a mark where it is run."""
    path = book / ".git/run"
    path.write_text(f"#!/bin/sh\necho \"$0 $*\" >>'{mark}'\nexit 1\n")
    path.chmod(0o755)
    return path


def plain_git(book: Path, *words: str, typed: str = "", check: bool = False) -> subprocess.CompletedProcess[str]:
    """git as anybody would run it there, with no care taken."""
    env = os.environ | WHO | {"GIT_TERMINAL_PROMPT": "0"}
    return subprocess.run(
        ["git", "-C", str(book), *words], env=env, input=typed, capture_output=True, text=True, check=check, timeout=20
    )


def around(folder: Path, *own: Path) -> dict[str, bytes]:
    """All that lies in `folder` outside the folders `own`: none of it is a book's to touch."""
    found = {}
    for path in folder.rglob("*"):
        if not any(path.is_relative_to(one) for one in own):
            found[path.relative_to(folder).as_posix()] = path.read_bytes() if path.is_file() else b"folder"
    return found


@contextmanager
def within(seconds: int) -> Iterator[None]:
    """The test fails, and waits no longer, where something hangs."""
    if not hasattr(signal, "SIGALRM"):
        yield
        return

    def too_long(*_: object) -> None:
        raise AssertionError(f"not done in {seconds} s")

    before = signal.signal(signal.SIGALRM, too_long)
    signal.alarm(seconds)
    try:
        yield
    finally:
        signal.alarm(0)
        signal.signal(signal.SIGALRM, before)


def go_through(made: Copies, book: Path, lines: tuple[str, ...], *, seconds: int = 20) -> dict[str, int]:
    """Types each line in a book: it ends in words, never as a fault of ours, and touches nothing around the book."""
    before = around(made.folder, book, made.folder / "stick")
    codes = {}
    with within(seconds):
        for line in lines:
            ran = made.run(book, line, EVENING)
            assert ran.code in (0, 1, 3, 4), (line, ran.code, ran.out, ran.err)
            assert "a secret of the house" not in ran.out + ran.err, line
            assert all(told.isprintable() for told in (ran.out + ran.err).split("\n")), line
            if ran.code == 3:
                reads_well(ran.err)
            codes[line] = ran.code
    assert around(made.folder, book, made.folder / "stick") == before
    return codes


# --- histories that come from elsewhere ---

RAW = b"="  # a name begins so that is put into the first list as it stands, strokes and all
FILE, LINK, HISTORY = b"100644", b"120000", b"160000"
PETRA = "petra <petra@book.invalid> 1795000000 +0100"
PART = "stick/ferry-lane/ferry-lane.petra.0001.bundle"


def kept_as(book: Path, kind: str, data: bytes) -> str:
    """Puts anything at all among what git keeps, with no look at whether it makes sense."""
    words = ["git", "-C", str(book), "hash-object", "-w", "-t", kind, "--stdin", "--literally"]
    return subprocess.run(words, input=data, capture_output=True, check=True).stdout.decode().strip()


def a_list(book: Path, rows: dict[bytes, object]) -> str:
    """A folder's list as git keeps it; a row is another such table, or a mode and the bytes or the id behind it."""
    made = []
    for name, there in rows.items():
        if isinstance(there, dict):
            made.append((b"40000", name, a_list(book, there)))
        else:
            mode, data = there
            made.append((mode, name, data if isinstance(data, str) else kept_as(book, "blob", data)))
    made.sort(key=lambda row: row[1] + b"/" if row[0] == b"40000" else row[1])
    return kept_as(
        book, "tree", b"".join(mode + b" " + name + b"\0" + bytes.fromhex(found) for mode, name, found in made)
    )


def with_files(book: Path, files: dict[bytes, tuple[bytes, object]]) -> str:
    """The list of the book's last entry with these files in it."""
    words = ["git", "-C", str(book), "ls-tree", "-r", "-z", "HEAD"]
    had = subprocess.run(words, capture_output=True, check=True).stdout.split(b"\0")[:-1]
    rows: dict[bytes, object] = {}
    for facts, _, path in (row.partition(b"\t") for row in had):
        mode, _, found = facts.split(b" ")
        _put(rows, path, (mode, found.decode()))
    for path, there in files.items():
        _put(rows, path, there)
    return a_list(book, rows)


def _put(rows: dict[bytes, object], path: bytes, there: object) -> None:
    *folders, name = (path[1:],) if path.startswith(RAW) else path.split(b"/")
    for folder in folders:
        rows = rows.setdefault(folder, {})  # type: ignore[assignment]
    rows[name] = there


def an_entry(book: Path, tree: str, *, by: str = PETRA, after: str = "HEAD") -> str:
    """An entry that holds a list, as if petra had written it after noor's last."""
    follows = plain_git(book, "rev-parse", after, check=True).stdout.strip()
    head = f"tree {tree}\nparent {follows}\nauthor {by}\ncommitter {by}\n\nx\n"
    return kept_as(book, "commit", head.encode("utf-8", "surrogateescape"))


def sent(made: Copies, entry: str) -> Path:
    """Lays an entry of noor's history on the stick, in a part of petra's."""
    plain_git(made.noor, "update-ref", "refs/heads/evil", entry, check=True)
    words = ["git", "-C", str(made.noor), "bundle", "create", "-q", "--version=2", "-", "refs/heads/evil"]
    part = made.folder / PART
    part.write_bytes(subprocess.run(words, capture_output=True, check=True).stdout)
    return part
