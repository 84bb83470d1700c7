"""git as an engine: what we ask of its plumbing.

Knows git's words and files. Must not know what a page says. How git is run, and that nothing steers
it, is in `git_child`.
"""

from __future__ import annotations

import hashlib
import os
from typing import TYPE_CHECKING

from ovenleaf.book import layout, rule_files, settings
from ovenleaf.book.git_child import GitFault as GitFault
from ovenleaf.book.git_child import HistoryDamaged as HistoryDamaged
from ovenleaf.book.git_child import NeedsGit as NeedsGit
from ovenleaf.book.git_child import call
from ovenleaf.book.git_child import require as require
from ovenleaf.book.git_child import run as run
from ovenleaf.book.git_child import version as version

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence
    from datetime import datetime
    from pathlib import Path

LISTING = 150_000_000  # bytes; half a million files with long names are a third of it
NOTHING = "0" * 40  # git's id for "nothing there"


def init(root: Path) -> None:
    """Begins a history for the folder `root`; writes only inside its `.git`."""
    if os.path.lexists(layout.git_folder(root)):
        settings.check(root)
    args = ("init", "--quiet", "--template=", "--initial-branch=main", "--object-format=sha1", ".")
    # A later git may store references in another way unless told; our lock rule is about files.
    call(root, args, None, {"GIT_DEFAULT_REF_FORMAT": "files"}, ())


def head(root: Path) -> str | None:
    """The id of the book's last entry, None while there is none; HistoryDamaged where it was lost from sight."""
    args = ("rev-parse", "--verify", "--quiet", "HEAD^{commit}")
    try:
        return run(root, *args).decode().strip()
    except GitFault as fault:
        if fault.code != 1 or fault.stderr:
            raise
        if _had_entries(root):
            raise HistoryDamaged(args, 1, "") from fault
        return None


def _had_entries(root: Path) -> bool:
    """True if there were entries, though git finds none. A first entry that was cut off is none yet."""
    folder = layout.git_folder(root)
    try:
        lines = (folder / "logs" / "HEAD").read_bytes().splitlines()
    except OSError:
        lines = []
    heads = (folder / "refs" / "heads").rglob("*")
    return len(lines) > 1 or any(path.is_file() and path.suffix != ".lock" for path in heads)


def tree_ids(root: Path, rev: str = "HEAD") -> dict[str, str]:
    """Path and id of every plain file in an entry; empty where `rev` is HEAD and there is no entry."""
    if rev == "HEAD" and head(root) is None:
        return {}
    ids: dict[str, str] = {}
    for row in _rows(run(root, "ls-tree", "-r", "-z", "--full-tree", rev, most=LISTING)):
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
    answer = run(root, "cat-file", "--batch-check=%(objectname)", input=lines.encode("utf-8", "surrogateescape"))
    found = answer.decode("utf-8", "surrogateescape").splitlines()
    return {path: None if line.endswith(" missing") else line for path, line in zip(asked, found, strict=True)}


def read_blobs(root: Path, ids: Iterable[str]) -> dict[str, bytes]:
    """The bytes behind each id, in one call; HistoryDamaged for an id the book does not have."""
    return read_objects(root, ids, b"blob")


def read_objects(root: Path, ids: Iterable[str], wanted_kind: bytes) -> dict[str, bytes]:
    """The same of any one kind of thing that git keeps."""
    wanted = list(dict.fromkeys(ids))
    answer = run(root, "cat-file", "--batch", input="".join(f"{one}\n" for one in wanted).encode())
    found: dict[str, bytes] = {}
    start = 0
    for one in wanted:
        end = answer.index(b"\n", start)
        kind = answer[start:end].split()
        if kind[1:2] != [wanted_kind]:
            raise HistoryDamaged(("cat-file", "--batch"), 0, f"missing {one}")
        start = end + 1 + int(kind[2]) + 1
        found[one] = answer[end + 1 : start - 1]
    return found


def changed(root: Path) -> tuple[str, ...]:
    """Files in the book's folder that differ from the last entry, new and missing ones too; sorted."""
    rule_files.check_all(root)
    quiet = {"GIT_OPTIONAL_LOCKS": "0"}  # looking must not write
    # A history within the book is never looked into: its own settings would hold there.
    args = ("--porcelain", "-z", "-uall", "--no-renames", "--ignore-submodules=all")
    answer = run(root, "status", *args, env_extra=quiet)
    # A list made by hand may name what lies outside the book: that is no file of it.
    names = sorted(row[3:] for row in _rows(answer) if ".." not in row[3:].split("/"))
    saved = ids_at(root, "HEAD", (name for name in names if "\n" not in name))
    # git goes by its own list, which may be behind or spoiled; what counts is what lies there.
    return tuple(name for name in names if saved.get(name) is None or not _is_here(root, name, saved[name]))


def _is_here(root: Path, page: str, found: str | None) -> bool:
    try:
        data = layout.read_file(root, page)
    except layout.NotAPage:
        return False
    return data is not None and blob_id(data) == found


def entries_since(root: Path, base: str | None, *, limit: int) -> tuple[str, ...]:
    """Ids of the last `limit` entries that came after `base` (all, if None), the oldest first."""
    args = ["rev-list", "--reverse", f"--max-count={limit}", "HEAD", *([f"^{base}"] if base else []), "--"]
    return tuple(run(root, *args).decode().split())


def tidy(root: Path) -> None:
    """Let git pack what has piled up, when it thinks it is time; that takes two milliseconds when it is not."""
    run(root, "gc", "--auto", "--quiet")


def is_sound(root: Path) -> bool:
    """True if git finds nothing wrong with any file of the history; reads all of it."""
    try:
        run(root, "fsck", "--full", "--strict", "--no-dangling", "--no-reflogs", "--no-progress")
    except GitFault:
        return False
    return True


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
    paths = list(paths)
    rule_files.check_above(root, paths)
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
    root: Path,
    tree: str,
    parents: Sequence[str],
    message: str,
    *,
    who: Mapping[str, str],
    pass_fds: Sequence[int] = (),
) -> str:
    """Keeps an entry that holds `tree` and follows `parents`; nothing points at it yet. Gives its id.

    `who` is what `signature` makes of a name, an address and a time.
    """
    args = ["commit-tree", tree, *(word for parent in parents for word in ("-p", parent)), "-F", "-"]
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
