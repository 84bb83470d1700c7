"""A page that a baker hands in from somewhere on the disk."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book.layout import PAGE_LIMIT
from ovenleaf.errors import Next, Refusal

if TYPE_CHECKING:
    from pathlib import Path


class CannotRead(Refusal):
    """A file that cannot be taken in. Facts: `shown` (its name as typed), `why`."""

    def __init__(self, shown: str, why: str, step: str = "", *, next: tuple[Next, ...] = ()) -> None:
        super().__init__(f"{shown} cannot be read: {why}.", detail=(step,) if step else (), next=next)
        self.shown = shown
        self.why = why


def page_bytes(path: Path, shown: str, *, missing: str = "") -> bytes:
    """The bytes of a file that was named; `missing` says what to do where there is none. Raises CannotRead."""
    too_long = (
        "it is longer than 1 MB, and a page of a book is not",
        "See whether it is the file you meant; long notes and pictures stay outside a page.",
    )
    return _bytes(path, shown, PAGE_LIMIT, too_long, missing)


RECIPE_LIMIT = 4_000_000  # bytes; saved pages of the web carry much besides the recipe


def recipe_bytes(path: Path, shown: str) -> bytes:
    """The bytes of a recipe that was named: a text, or a saved page of the web. Raises CannotRead."""
    return _bytes(path, shown, RECIPE_LIMIT, TOO_LONG_A_RECIPE)


TOO_LONG_A_RECIPE = (
    "it is longer than 4 MB, and a recipe is not",
    "Copy the recipe's text into a file of its own, and adopt that.",
)


def _bytes(path: Path, shown: str, limit: int, too_long: tuple[str, str], missing: str = "") -> bytes:
    if path.is_dir():
        raise CannotRead(shown, "it is a folder", "Name a page in it.")
    try:
        if path.stat().st_size > limit:
            raise CannotRead(shown, *too_long)
        return path.read_bytes()
    except FileNotFoundError:
        near = f"{shown}.yaml" if path.with_name(f"{path.name}.yaml").is_file() else ""
        hint = (Next(f"ovenleaf enter {near}"),) if near else ()
        step = "" if hint else missing or "See how it is spelled, and in which folder it lies."
        raise CannotRead(shown, "there is no such file", step, next=hint) from None
    except OSError as fault:
        raise CannotRead(shown, str(fault.strerror or "the disk does not give it").lower()) from None
