"""A history whose last entry was lost from sight, or lacks what the pages still hold: found again, or filled up.

Knows git's words and files. Must not know what a page says.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.book import git, layout

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

FOLDERS = (*layout.PAGE_FOLDERS, "photos", "aside", "sources")
_FOLLOWS = re.compile(rb"ref: refs/heads/[A-Za-z0-9][A-Za-z0-9._-]*\s*")
_ID = re.compile(r"[0-9a-f]{40}")
MAIN = b"ref: refs/heads/main\n"


@dataclass(frozen=True, slots=True, kw_only=True)
class Mending:
    """One thing that can be mended: `told`, a sentence on what was wrong and what was done; and how it is done."""

    told: str
    act: Callable[[], object]


def last_entry(root: Path) -> Iterator[Mending]:
    """How the book finds its last entry again, and how what it lacks is put back from the pages."""
    head = layout.git_folder(root) / "HEAD"
    if not _is_pointer(head):
        yield Mending(
            told="The note of where this book's entries are, .git/HEAD, was spoiled. It is written anew.",
            act=lambda: layout.replace_file(head, MAIN, temporary=layout.state_folder(root) / "page.tmp"),
        )
    packed = layout.git_folder(root) / "packed-refs"
    if packed.is_file() and not _is_list_of_entries(packed):
        told = "The list in .git/packed-refs was spoiled. It is taken away, and the last entry is found by the log."
        yield Mending(told=told, act=packed.unlink)
    if not _is_there(root, "HEAD"):
        yield from _back_to(root, lambda entry: _is_there(root, entry))
    if not _is_there(root, "HEAD") or _is_whole(root, "HEAD"):
        return
    yield Mending(
        told="The history lacked files. Those that still lie in the book's folders are put back in it.",
        act=lambda: _from_pages(root),
    )
    if not _is_whole(root, "HEAD"):
        yield from _back_to(root, lambda entry: _is_whole(root, entry))


def _back_to(root: Path, good: Callable[[str], bool]) -> Iterator[Mending]:
    """The last entry in the book's log that is good."""
    found = next((entry for entry in _logged(root) if good(entry)), None)
    if found is not None:
        what = git.run(root, "show", "--no-patch", "--format=%s", found).decode("utf-8", "replace").strip()
        yield Mending(
            told=f"The last entry was lost from sight. The book goes on from this one, found in its log: {what}."
            " Your pages stay as they are; what they say beyond it waits to be saved.",
            act=lambda: _go_on_from(root, found),
        )


def is_whole(root: Path) -> bool:
    """True if the last entry and all before it are there, or there is none yet."""
    try:
        return git.head(root) is None or _is_whole(root, "HEAD")
    except git.GitFault:
        return False


def _is_pointer(head: Path) -> bool:
    if not head.is_file():
        return False
    data = head.read_bytes()
    return bool(_FOLLOWS.fullmatch(data) or _ID.fullmatch(data.decode("latin-1").strip()))


def _is_list_of_entries(packed: Path) -> bool:
    line = re.compile(rb"(#.*|\^[0-9a-f]{40}|[0-9a-f]{40} refs/\S+)?")
    return all(line.fullmatch(one.rstrip()) for one in packed.read_bytes().split(b"\n"))


def _is_there(root: Path, entry: str) -> bool:
    try:
        git.run(root, "cat-file", "-e", f"{entry}^{{commit}}")
    except git.GitFault:
        return False
    return True


def _is_whole(root: Path, entry: str) -> bool:
    try:
        git.run(root, "rev-list", "--objects", "--quiet", entry, "--")
    except git.GitFault:
        return False
    return True


def _logged(root: Path) -> Iterator[str]:
    """The entries that the book's log names, the last first."""
    log = layout.git_folder(root) / "logs" / "HEAD"
    lines = log.read_text(encoding="utf-8", errors="replace").splitlines() if log.is_file() else []
    for line in reversed(lines):
        found = line.split(" ")[1:2]
        if found and _ID.fullmatch(found[0]) and found[0] != git.NOTHING:
            yield found[0]


def _from_pages(root: Path) -> None:
    """Keeps what lies in the book's folders once more: what the last entry holds gets the same ids again."""
    ids: dict[str, str | None] = {}
    for name in (*layout.TOP_PAGES, *_files(root)):
        if (data := layout.read_file(root, name)) is not None:
            ids[name] = git.store_blob(root, data)
    index = layout.state_folder(root) / "put-back-index"
    try:
        git.read_tree(root, None, index=index)
        git.set_in_index(root, ids, index=index)
        git.write_tree(root, index=index)
    finally:
        index.unlink(missing_ok=True)


def _files(root: Path) -> Iterator[str]:
    for folder in FOLDERS:
        if not (root / folder).is_symlink():
            for path in sorted((root / folder).rglob("*")):
                if path.is_file() and not path.is_symlink() and "\n" not in path.name:
                    yield path.relative_to(root).as_posix()


def _go_on_from(root: Path, entry: str) -> None:
    """Writes the pointer as git would; git itself does not take one in place of a spoiled one."""
    head = layout.git_folder(root) / "HEAD"
    data = head.read_bytes().decode("latin-1").strip()
    target = layout.git_folder(root) / data.removeprefix("ref: ") if data.startswith("ref: ") else head
    layout.replace_file(target, f"{entry}\n".encode(), temporary=layout.state_folder(root) / "page.tmp")
