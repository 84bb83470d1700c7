"""What has arrived from elsewhere, looked at strictly before anything in the book moves.

git has checked each object by then. Here the names are held against what a book can hold: plain files
in known folders, with names that mean the same on every computer.
"""

from __future__ import annotations

import unicodedata
from functools import lru_cache
from typing import TYPE_CHECKING

from ovenleaf.book import git, layout, unfolding
from ovenleaf.domain.figures import file_size
from ovenleaf.domain.revision import RESERVED
from ovenleaf.errors import Refusal

if TYPE_CHECKING:
    from pathlib import Path

FOLDERS = (*layout.PAGE_FOLDERS, "photos", "aside", "sources")
MOST_FILES = 500_000
DEEPEST = 60  # folders one in another, in any entry; a book has three
LONGEST_NAME = 200
LONGEST_PATH = 240  # signs; some computers take no longer one, and nothing in a book lies deeper than three folders
LARGEST_FILE = 100_000_000  # bytes; the largest picture that a book takes is an eighth of it
LARGEST_BOOK = (
    20_000_000_000  # bytes, each file counted: it must fit on a disk, and few bytes can say that they are many
)
_MODES = ("100644", "100755")


class NotTakenIn(Refusal):
    """What arrived holds what a book cannot hold. Facts: `name`, `why`."""

    def __init__(self, name: str, why: str) -> None:
        super().__init__(
            f"What is there was not taken in: {name} {why}.",
            detail=(
                "Your book is as it was. A book is plain files in known folders; ask whoever",
                "shares it with you to take this out.",
            ),
        )
        self.name = name
        self.why = why


def check(root: Path, entry: str) -> None:
    """Raise NotTakenIn for the first file of an entry that has no place in a book, and for what has no end."""
    unfolded = unfolding.largest(root, entry, most=2 * MOST_FILES)
    if unfolded.files > 2 * MOST_FILES or unfolded.depth > DEEPEST:
        raise NotTakenIn("a list without an end", "is more than a book can hold")
    listed = git.run(root, "ls-tree", "-r", "-z", "--long", "--full-tree", entry, most=git.LISTING)
    rows = listed.split(b"\0")[:-1]
    if len(rows) > MOST_FILES:
        raise NotTakenIn(f"{len(rows)} files", "are more than a book can hold")
    folded: dict[str, str] = {}
    size = 0
    for row in rows:
        facts, _, name = row.partition(b"\t")
        try:
            path = name.decode("utf-8")
        except UnicodeDecodeError:
            raise NotTakenIn(repr(name)[2:-1], "has a name that cannot be read") from None
        mode, _, _, long = facts.decode().split()
        _check_kind(path, mode)
        _check_path(path, folded)
        size += int(long)
        if int(long) > LARGEST_FILE:
            raise NotTakenIn(path, f"is larger than {file_size(LARGEST_FILE)}, the most that a file in a book may be")
    if size > LARGEST_BOOK:
        raise NotTakenIn(file_size(size), "are more than a book can hold")
    if "book.yaml" not in folded:
        raise NotTakenIn("book.yaml", "is not there, so it is no book")


def _check_kind(path: str, mode: str) -> None:
    if mode == "120000":
        raise NotTakenIn(path, "is a link, and links are not followed")
    if mode not in _MODES:
        raise NotTakenIn(path, "is not a plain file")


def _check_path(path: str, folded: dict[str, str]) -> None:
    names = path.split("/")
    if len(path) > LONGEST_PATH:
        raise NotTakenIn(f"{path[:40]}...", "has a name that is too long, its folders counted")
    if len(names) > 1 and names[0] not in FOLDERS:
        raise NotTakenIn(path, f"lies in {names[0]}, which is no folder of a book")
    for depth, name in enumerate(names, start=1):
        if why := _wrong(name):
            raise NotTakenIn(path, why)
        here = "/".join(names[:depth])
        low = unicodedata.normalize("NFC", here).casefold()
        if folded.setdefault(low, here) != here:
            raise NotTakenIn(path, f"and {folded[low]} would be one name on some computers")


@lru_cache(maxsize=1024)  # most files lie in a few folders
def _wrong(name: str) -> str:
    """Why a name cannot be used everywhere, or ""."""
    low = name.casefold()
    if not name or len(name) > LONGEST_NAME:
        return "has a name that is too long"
    if any(letter in '\\:<>|?*"' or unicodedata.category(letter) in ("Cc", "Cf", "Cs", "Zl", "Zp") for letter in name):
        return "has a sign in its name that some computers cannot keep"
    if unicodedata.normalize("NFC", name) != name:
        return "has a name that is written in two ways"
    if low.rstrip(". ") != low:
        return "has a name that ends in a point or a space"
    if (low.startswith(".git") and low not in (".gitattributes", ".gitignore")) or low.startswith("git~"):
        return "would lie in the book's own history"
    return "has a name that some computers keep for themselves" if low.split(".")[0] in _DEVICES else ""


_DEVICES = RESERVED - {"true", "false", "null", "yes", "no", "on", "off"}
