"""The manner in which all of a screen is laid out: columns for a terminal, sentences for an ear, marks for a page.

It is a matter of the whole screen, not of each of the many tables that make one up.
"""

from __future__ import annotations

from contextlib import contextmanager
from contextvars import ContextVar
from enum import Enum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence


class Manner(Enum):
    """Columns of a terminal, whole sentences, or rows and cells that are marked for whoever makes a page of them."""

    COLUMNS = "columns"
    SENTENCES = "sentences"
    MARKED = "marked"


# What parts marked rows and cells. `screen.clean` lets none of these through, so no text of a book can hold one.
HEADS, ROW, CELL = "\x1d", "\x1e", "\x1f"

_MANNER: ContextVar[Manner] = ContextVar("manner", default=Manner.COLUMNS)


@contextmanager
def laid_out(manner: Manner) -> Iterator[None]:
    """While this lasts, tables and sentences come in that manner."""
    token = _MANNER.set(manner)
    try:
        yield
    finally:
        _MANNER.reset(token)


def manner() -> Manner:
    """How tables and sentences are laid out now."""
    return _MANNER.get()


def marked_row(cells: Sequence[str], spec: str, *, heads: bool = False) -> str:
    """One row of clean cells: what it is, then each cell behind its letter of `spec`."""
    return (HEADS if heads else ROW) + CELL.join(f"{letter}{cell}" for letter, cell in zip(spec, cells, strict=True))
