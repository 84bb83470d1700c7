"""git as a child process in a clean room: nothing of the caller, the machine or the book steers it.

Lets none of git's own messages reach a baker: a call that fails is a GitFault, and callers turn the
foreseeable ones into words. What is asked of git is in `git`.
"""

from __future__ import annotations

import os
import re
import subprocess
import sys
from contextlib import contextmanager, suppress
from functools import cache
from pathlib import Path
from threading import Thread
from typing import TYPE_CHECKING

from ovenleaf.book import layout, settings
from ovenleaf.book.git_faults import GitFault as GitFault
from ovenleaf.book.git_faults import HistoryDamaged as HistoryDamaged
from ovenleaf.book.git_faults import TooMuch as TooMuch
from ovenleaf.book.git_faults import fault_of
from ovenleaf.errors import Next, Refusal

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

NEEDED = (2, 38)

# What the book's own settings may not decide, said again on each call.
_FIXED = {
    "core.hooksPath": os.devnull,
    "core.fsmonitor": "false",
    "core.bigFileThreshold": "16m",  # a file that says it is huge is not unpacked in memory
    "core.fsync": "all",
    "core.attributesFile": os.devnull,
    "core.excludesFile": os.devnull,
    "core.autocrlf": "false",
    "core.safecrlf": "false",
    "core.quotePath": "false",
    "core.pager": "cat",
    "commit.gpgSign": "false",
    "protocol.allow": "never",
    "submodule.recurse": "false",
    "gc.autoDetach": "false",
}
_CLEAN = {
    "GIT_CONFIG_NOSYSTEM": "1",
    "GIT_CONFIG_GLOBAL": os.devnull,
    "GIT_ATTR_NOSYSTEM": "1",
    "GIT_TERMINAL_PROMPT": "0",
    "GIT_PAGER": "cat",
    "GIT_NO_REPLACE_OBJECTS": "1",
    "LC_ALL": "C",
}


class NeedsGit(Refusal):
    """git is missing or too old. Fact: `found`, the version there is, or None."""

    def __init__(self, found: str | None) -> None:
        super().__init__(
            "ovenleaf needs the program git, 2.38 or newer.",
            detail=("None was found on this computer." if found is None else f"Found here: {found}.",),
            next=(
                Next("sudo apt install git", "on Debian and Ubuntu"),
                Next("brew install git", "on a Mac"),
                Next("winget install Git.Git", "on Windows"),
            ),
        )
        self.found = found


def run(
    root: Path,
    *args: str,
    input: bytes | None = None,
    env_extra: Mapping[str, str] | None = None,
    pass_fds: Sequence[int] = (),
    most: int | None = None,
) -> bytes:
    """What `git ARGS` writes, run on the book in `root` and nothing else.

    The book's settings are read as text first (SettingsRefused, NoHistory). `pass_fds` are
    descriptors the child holds on to, as the book's lock. GitFault if git fails (HistoryDamaged where that is
    why), NeedsGit without it; TooMuch for an answer of more than `most` bytes.
    """
    settings.check(root)
    here = {"GIT_DIR": str(layout.git_folder(root).absolute()), "GIT_WORK_TREE": str(root.absolute())}
    return call(root, args, input, here | dict(env_extra or {}), pass_fds, most)


def require() -> None:
    """NeedsGit unless git is there and new enough; asks each program found only once."""
    found = version()
    numbers = re.match(r"(\d+)\.(\d+)", found)
    if numbers is None or (int(numbers[1]), int(numbers[2])) < NEEDED:
        raise NeedsGit(found)


def version() -> str:
    """The version of the git that is used, as it names it itself; NeedsGit if there is none."""
    try:
        return _version_of(_program(_environment()))
    except GitFault:
        raise NeedsGit(None) from None  # a Mac without git has a stand-in that only says how to get it


@contextmanager
def nothing_handed_down() -> Iterator[str]:
    """While this lasts nothing that git obeys stands in our own environment; yields where git is.

    For the library that reaches other places: it hands our environment down as it is.
    """
    taken = {name: os.environ.pop(name) for name in list(os.environ) if name.upper().startswith("GIT_")}
    try:
        program = _program(os.environ)
        os.environ["GIT_PYTHON_GIT_EXECUTABLE"] = program
        yield program
    finally:
        os.environ.pop("GIT_PYTHON_GIT_EXECUTABLE", None)
        os.environ.update(taken)


def _environment() -> dict[str, str]:
    """The caller's environment without anything git would obey. The one look at it below `jobs`:
    PATH, HOME and what an operating system needs to start a program belong to the machine, not to us.
    """
    return {name: value for name, value in os.environ.items() if not name.upper().startswith("GIT_")} | _CLEAN


def _program(environment: Mapping[str, str]) -> str:
    """Where git is, by PATH alone: Windows would look in the current folder first, which may be a book."""
    name = "git.exe" if sys.platform == "win32" else "git"
    for folder in environment.get("PATH", "").split(os.pathsep):
        path = Path(folder) / name
        if path.is_absolute() and path.is_file() and os.access(path, os.X_OK):
            return str(path)
    raise NeedsGit(None)


@cache
def _version_of(program: str) -> str:
    answer = _finish((program, "version"), None, _environment(), None, ())
    return answer.decode("utf-8", "replace").strip().removeprefix("git version ")


def call(
    folder: Path,
    args: Sequence[str],
    input: bytes | None,
    env_extra: dict[str, str],
    pass_fds: Sequence[int],
    most: int | None = None,
) -> bytes:
    """Like `run`, in a folder that need not be a book yet, whose settings the caller has looked at."""
    environment = _environment()
    fixed = [part for key, value in _FIXED.items() for part in ("-c", f"{key}={value}")]
    command = (_program(environment), *fixed, *args)
    return _finish(command, input, environment | env_extra, folder, pass_fds, most)


def _finish(
    command: Sequence[str],
    input: bytes | None,
    environment: Mapping[str, str],
    folder: Path | None,
    pass_fds: Sequence[int],
    most: int | None = None,
) -> bytes:
    stdin = subprocess.DEVNULL if input is None else subprocess.PIPE
    flags = 0
    if sys.platform == "win32":
        flags = subprocess.CREATE_NEW_PROCESS_GROUP  # Ctrl-C is for us; lock.ctrl_c_held_back says why
    with subprocess.Popen(
        command, env=environment, cwd=folder, stdin=stdin, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
        pass_fds=tuple(pass_fds), creationflags=flags,
    ) as child:  # fmt: skip
        try:
            out, err = child.communicate(input) if most is None else _up_to(child, input, most)
        except KeyboardInterrupt:
            child.communicate()  # these calls take milliseconds; ended halfway, git leaves lock files
            raise
    told = tuple(command[1 + 2 * len(_FIXED) :]) if command[1:2] == ("-c",) else tuple(command[1:])
    if most is not None and len(out) > most:
        raise TooMuch(told)
    if child.returncode != 0:
        raise fault_of(told, child.returncode, err.decode("utf-8", "replace"))
    return out


def _up_to(child: subprocess.Popen[bytes], input: bytes | None, most: int) -> tuple[bytes, bytes]:
    """What a child says, which is ended where that is more than `most` bytes."""
    feeding = Thread(target=_feed, args=(child, input), daemon=True)
    feeding.start()
    assert child.stdout is not None
    out = child.stdout.read(most + 1)
    if len(out) > most:
        child.kill()
    feeding.join()
    child.stdin = None  # it is closed
    return out, child.communicate()[1]


def _feed(child: subprocess.Popen[bytes], input: bytes | None) -> None:
    if child.stdin is not None:
        with suppress(OSError), child.stdin as stream:  # it may have ended
            stream.write(input or b"")
