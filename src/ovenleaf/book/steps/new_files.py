"""Files that a baker wants outside of the book: new ones only, for nothing is written over."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.errors import Refusal

if TYPE_CHECKING:
    from pathlib import Path


class FileThere(Refusal):
    """A file of that name is there already and is not written over. Fact: `shown`."""

    def __init__(self, shown: str) -> None:
        super().__init__(f"There is a file {shown} already, and it is not written over. Give another name.")
        self.shown = shown


def check_free(folder: Path, *shown: str) -> None:
    """Refuse before anything is written where one of these files is there already. Raises FileThere."""
    for one in shown:
        if one and (folder / one).exists():
            raise FileThere(one)


def write_new(path: Path, shown: str, text: str) -> None:
    """Write a new file outside the book. Raises FileThere."""
    try:
        with path.open("x", encoding="utf-8", newline="") as file:
            file.write(text)
    except FileExistsError:
        raise FileThere(shown) from None
    except OSError as fault:
        raise Refusal(f"{shown} cannot be written: {str(fault.strerror or 'the disk refuses').lower()}.") from None
