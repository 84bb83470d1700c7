"""How far long work has come, in one line of a terminal that is gone when the work is done; nothing in a pipe.

No escape codes: the line is written over from its beginning. What takes under half a second shows nothing.
"""

from __future__ import annotations

import sys
import time
from contextlib import contextmanager
from typing import TYPE_CHECKING

import typer

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

PATIENCE = 0.5  # seconds before anything is shown
_PACE = 0.1  # seconds between two lines


@contextmanager
def progress(what: str, total: int = 0) -> Iterator[Callable[[], None]]:
    """While this lasts, each call of what it gives counts one more of `what`; `total` 0 is not known.

    >>> with progress("pages", 2) as one_more:
    ...     one_more()
    """
    if not sys.stderr.isatty():
        yield _nothing
        return
    line = _Line(what, total)
    try:
        yield line.one_more
    finally:
        line.clear()


def _nothing() -> None:
    """Nobody looks on."""


class _Line:
    """The line as it stands on the terminal."""

    def __init__(self, what: str, total: int) -> None:
        self._what, self._of = what, f" of {total}" if total else ""
        self._next = time.monotonic() + PATIENCE
        self._done = self._wide = 0

    def one_more(self) -> None:
        """Count, and say so now and then."""
        self._done += 1
        if time.monotonic() >= self._next:
            self._next = time.monotonic() + _PACE
            self._write(f"{self._done}{self._of} {self._what}")

    def clear(self) -> None:
        """Leave nothing behind."""
        if self._wide:
            self._write("")
            typer.echo("\r", nl=False, err=True)

    def _write(self, text: str) -> None:
        typer.echo(f"\r{text.ljust(self._wide)}", nl=False, err=True)
        self._wide = max(self._wide, len(text))
