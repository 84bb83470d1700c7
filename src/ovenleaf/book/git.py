"""git as an engine: its plumbing, run as a child in a clean room.

Knows git's words and files. Must not know what a page says, and lets none of git's own messages
reach a baker: a call that fails is a GitFault, and callers turn the foreseeable ones into words.
"""

from __future__ import annotations

import hashlib
import os
import re
import subprocess
import sys
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from ovenleaf.book import layout, settings
from ovenleaf.errors import Next, Refusal

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence
    from datetime import datetime

NEEDED = (2, 38)
NOTHING = "0" * 40  # git's id for "nothing there"

# What the book's own settings may not decide, said again on each call.
_FIXED = {
    "core.hooksPath": os.devnull,
    "core.fsmonitor": "false",
    "core.fsync": "all",
    "core.attributesFile": os.devnull,
    "core.excludesFile": os.devnull,
    "core.autocrlf": "false",
    "core.safecrlf": "false",
    "core.quotePath": "false",
    "core.pager": "cat",
    "commit.gpgSign": "false",
    "protocol.allow": "never",
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


class GitFault(RuntimeError):
    """A call of git that failed: `command`, exit `code` (below zero: ended by a signal), `stderr`."""

    def __init__(self, command: tuple[str, ...], code: int, stderr: str) -> None:
        super().__init__(f"git {' '.join(command)} ended with {code}: {stderr.strip()}")
        self.command = command
        self.code = code
        self.stderr = stderr


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
) -> bytes:
    """What `git ARGS` writes, run on the book in `root` and nothing else.

    The book's settings are read as text first (SettingsRefused, NoHistory). `pass_fds` are
    descriptors the child holds on to, as the book's lock. GitFault if git fails, NeedsGit without it.
    """
    settings.check(root)
    here = {"GIT_DIR": str(layout.git_folder(root).absolute()), "GIT_WORK_TREE": str(root.absolute())}
    return _call(root, args, input, here | dict(env_extra or {}), pass_fds)


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


def init(root: Path) -> None:
    """Begins a history for the folder `root`; writes only inside its `.git`."""
    if os.path.lexists(layout.git_folder(root)):
        settings.check(root)
    args = ("init", "--quiet", "--template=", "--initial-branch=main", "--object-format=sha1", ".")
    # A later git may store references in another way unless told; our lock rule is about files.
    _call(root, args, None, {"GIT_DEFAULT_REF_FORMAT": "files"}, ())


def head(root: Path) -> str | None:
    """The id of the book's last entry, None while there is none."""
    try:
        return run(root, "rev-parse", "--verify", "--quiet", "HEAD^{commit}").decode().strip()
    except GitFault as fault:
        if fault.code == 1 and not fault.stderr:
            return None
        raise


def tree_ids(root: Path, rev: str = "HEAD") -> dict[str, str]:
    """Path and id of every plain file in an entry; empty where `rev` is HEAD and there is no entry."""
    if rev == "HEAD" and head(root) is None:
        return {}
    ids: dict[str, str] = {}
    for row in _rows(run(root, "ls-tree", "-r", "-z", "--full-tree", rev)):
        facts, path = row.split("\t", 1)
        mode, _, found = facts.split(" ")
        if mode in ("100644", "100755"):
            ids[path] = found
    return ids


def ids_at(root: Path, rev: str | None, paths: Iterable[str]) -> dict[str, str | None]:
    """The id each of `paths` has in the entry `rev`, None where it is not there; one call for all."""
    asked = list(paths)
    if rev is None or not asked:
        return dict.fromkeys(asked)
    lines = "".join(f"{rev}:{path}\n" for path in asked)
    answer = run(root, "cat-file", "--batch-check=%(objectname)", input=lines.encode())
    found = answer.decode("utf-8", "surrogateescape").splitlines()
    return {path: None if line.endswith(" missing") else line for path, line in zip(asked, found, strict=True)}


def read_blobs(root: Path, ids: Iterable[str]) -> dict[str, bytes]:
    """The bytes behind each id, in one call; KeyError for an id the book does not have."""
    wanted = list(dict.fromkeys(ids))
    answer = run(root, "cat-file", "--batch", input="".join(f"{one}\n" for one in wanted).encode())
    found: dict[str, bytes] = {}
    start = 0
    for one in wanted:
        end = answer.index(b"\n", start)
        kind = answer[start:end].split()
        if kind[1:2] != [b"blob"]:
            raise KeyError(one)
        start = end + 1 + int(kind[2]) + 1
        found[one] = answer[end + 1 : start - 1]
    return found


def changed(root: Path) -> tuple[str, ...]:
    """Files in the book's folder that differ from the last entry, new and missing ones too; sorted."""
    quiet = {"GIT_OPTIONAL_LOCKS": "0"}  # looking must not write
    answer = run(root, "status", "--porcelain", "-z", "-uall", "--no-renames", env_extra=quiet)
    return tuple(sorted(row[3:] for row in _rows(answer)))


def entries_since(root: Path, base: str | None, *, limit: int) -> tuple[str, ...]:
    """Ids of the last `limit` entries that came after `base` (all, if None), the oldest first."""
    args = ["rev-list", "--reverse", f"--max-count={limit}", "HEAD", *([f"^{base}"] if base else []), "--"]
    return tuple(run(root, *args).decode().split())


def tidy(root: Path) -> None:
    """Let git pack what has piled up, when it thinks it is time; that takes two milliseconds when it is not."""
    run(root, "gc", "--auto", "--quiet")


def blob_id(data: bytes) -> str:
    """The id git gives to these very bytes, worked out without git."""
    return hashlib.sha1(b"blob %d\0" % len(data) + data, usedforsecurity=False).hexdigest()


def store_blob(root: Path, data: bytes, *, pass_fds: Sequence[int] = ()) -> str:
    """Keeps bytes in the book's history, as they are; gives their id."""
    args = ("hash-object", "-w", "--no-filters", "--stdin")
    found = run(root, *args, input=data, pass_fds=pass_fds).decode().strip()
    if found != blob_id(data):
        raise GitFault(args, 0, f"kept {found} for {blob_id(data)}")
    return found


def set_in_index(
    root: Path,
    ids: Mapping[str, str | None],
    *,
    index: Path | None = None,
    pass_fds: Sequence[int] = (),
) -> None:
    """Makes an index (the shared one, if None is named) list `ids`, None for gone; other paths stay."""
    rows = (f"0 {NOTHING}\t{path}\0" if found is None else f"100644 {found}\t{path}\0" for path, found in ids.items())
    run(
        root, "update-index", "-z", "--index-info",
        input="".join(rows).encode(), env_extra=_index(index), pass_fds=pass_fds,
    )  # fmt: skip


def refresh_index(root: Path, paths: Iterable[str], *, pass_fds: Sequence[int] = ()) -> None:
    """Lets the shared index note the times of files it lists, so that looking for changes need not read them."""
    args = ("add", "--refresh", "--pathspec-from-file=-", "--pathspec-file-nul")
    names = "".join(f"{path}\0" for path in paths)
    if names:
        run(root, *args, input=names.encode(), env_extra={"GIT_LITERAL_PATHSPECS": "1"}, pass_fds=pass_fds)


def read_tree(root: Path, rev: str | None, *, index: Path | None = None, pass_fds: Sequence[int] = ()) -> None:
    """Fills an index with what an entry holds, or with nothing."""
    run(root, "read-tree", rev or "--empty", env_extra=_index(index), pass_fds=pass_fds)


def write_tree(root: Path, *, index: Path, pass_fds: Sequence[int] = ()) -> str:
    """Keeps what an index lists as a tree; gives its id."""
    return run(root, "write-tree", env_extra=_index(index), pass_fds=pass_fds).decode().strip()


def write_entry(
    root: Path, tree: str, parent: str | None, message: str, *, who: Mapping[str, str], pass_fds: Sequence[int] = ()
) -> str:
    """Keeps an entry that holds `tree` and follows `parent`; nothing points at it yet. Gives its id.

    `who` is what `signature` makes of a name, an address and a time.
    """
    args = ["commit-tree", tree, *(["-p", parent] if parent else []), "-F", "-"]
    return run(root, *args, input=message.encode(), env_extra=who, pass_fds=pass_fds).decode().strip()


def move_head(root: Path, new: str, old: str | None, *, who: Mapping[str, str], pass_fds: Sequence[int] = ()) -> None:
    """Makes `new` the book's last entry, if `old` still is; GitFault and nothing moved if not."""
    run(root, "update-ref", "-m", "ovenleaf", "HEAD", new, old or NOTHING, env_extra=who, pass_fds=pass_fds)


def signature(name: str, email: str, at: datetime) -> dict[str, str]:
    """What git needs to know of who writes and when; `at` with its offset."""
    date = f"@{int(at.timestamp())} {at:%z}"
    return {
        f"GIT_{role}_{what}": value
        for role in ("AUTHOR", "COMMITTER")
        for what, value in (("NAME", name), ("EMAIL", email), ("DATE", date))
    }


def pending_locks(root: Path) -> tuple[Path, ...]:
    """git's lock files that lie in the book now, whoever made them."""
    folder = layout.git_folder(root)
    named = (folder / name for name in ("index.lock", "HEAD.lock", "packed-refs.lock"))
    return (
        *(path for path in named if os.path.lexists(path)),
        *sorted((folder / "refs" / "heads").rglob("*.lock")),
    )


def remove_locks(root: Path) -> None:
    """Takes git's lock files away: only for one who knows that they are ours."""
    for path in pending_locks(root):
        path.unlink(missing_ok=True)


def _index(index: Path | None) -> dict[str, str]:
    return {} if index is None else {"GIT_INDEX_FILE": str(index.absolute())}


def _rows(answer: bytes) -> list[str]:
    return answer.decode("utf-8", "surrogateescape").split("\0")[:-1]


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


def _call(
    folder: Path, args: Sequence[str], input: bytes | None, env_extra: dict[str, str], pass_fds: Sequence[int]
) -> bytes:
    environment = _environment()
    fixed = [part for key, value in _FIXED.items() for part in ("-c", f"{key}={value}")]
    command = (_program(environment), *fixed, *args)
    return _finish(command, input, environment | env_extra, folder, pass_fds)


def _finish(
    command: Sequence[str],
    input: bytes | None,
    environment: Mapping[str, str],
    folder: Path | None,
    pass_fds: Sequence[int],
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
            out, err = child.communicate(input)
        except KeyboardInterrupt:
            child.communicate()  # these calls take milliseconds; ended halfway, git leaves lock files
            raise
    if child.returncode != 0:
        told = tuple(command[1 + 2 * len(_FIXED) :]) if command[1:2] == ("-c",) else tuple(command[1:])
        raise GitFault(told, child.returncode, err.decode("utf-8", "replace"))
    return out
