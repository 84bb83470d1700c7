"""What a command may know of the world around it: book, folder, time, terminal.

The only place that reads the clock and the environment; commands pass on what jobs need.
`OVENLEAF_NOW` (ISO 8601 with offset, such as 2026-11-12T07:39:00+01:00) fixes the clock, and
`OVENLEAF_LOT` (any word) what is drawn by lot. They are for tests and for rebuilding a book from
its diary, not for bakers.
"""

from __future__ import annotations

import os
import sys
from contextlib import contextmanager
from contextvars import ContextVar
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from ovenleaf.errors import Refusal
from ovenleaf.present.today import reading_in

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

# The variables that commands may look at; the rest of the environment is none of their business.
PASSED_ON = ("EDITOR", "VISUAL", "TERM")


class Context(NamedTuple):
    """The world as one command sees it.

    `book` is what `--book` or `OVENLEAF_BOOK` names (whether or not a book is there), else the
    nearest folder from `cwd` upward that holds a book.yaml, else None. `now` carries its offset
    and is whole seconds. `interactive` is true when questions can be asked and answered. `baker`
    is what `--baker` says, or ""; `typed` are the words of the whole command line; `page` stands
    for standard input while a diary is played.
    """

    book: Path | None
    cwd: Path
    now: datetime
    interactive: bool
    environ: Mapping[str, str]
    baker: str = ""
    typed: tuple[str, ...] = ()
    page: bytes | None = None
    lot: str = ""

    def permute(self, count: int) -> tuple[int, ...]:
        """The numbers from 0 up to `count`, in an order drawn by lot."""
        import random

        lots = random.Random(self.lot) if self.lot else random.SystemRandom()
        return tuple(lots.sample(range(count), count))

    def read_page(self) -> bytes:
        """What is handed in on standard input, to its end."""
        return sys.stdin.buffer.read() if self.page is None else self.page


_current: ContextVar[Context | None] = ContextVar("ovenleaf_context", default=None)
_played: ContextVar[Context | None] = ContextVar("ovenleaf_played", default=None)


def current() -> Context:
    """The context of the command that is running."""
    context = _current.get()
    assert context is not None, "no command is running"
    return context


def sign(baker: str) -> None:
    """Notes the name that was asked for: it is not asked for twice in one command."""
    _current.set(current()._replace(baker=baker))


def known_book() -> Path | None:
    """The book as far as it is known: None also while no command runs yet."""
    context = _current.get()
    return None if context is None else context.book


def begin(book: Path | None, *, baker: str = "", typed: tuple[str, ...] = ()) -> None:
    """Takes in the world for the command that starts now.

    Refuses a clock that cannot be read, and a folder that was taken away underfoot.
    """
    try:
        cwd = Path.cwd()
    except FileNotFoundError as gone:
        raise Refusal("The folder you are in is not there any more.", detail=("Go to another one first.",)) from gone
    if (played := _played.get()) is not None:
        _current.set(played._replace(typed=typed))
        reading_in(played.now.year)
        return
    now = _now()
    reading_in(now.year)
    _current.set(
        Context(
            book=find_book(book, cwd),
            cwd=cwd,
            now=now,
            interactive=_is_terminal(),
            environ={name: os.environ[name] for name in PASSED_ON if name in os.environ},
            baker=baker,
            typed=typed,
            lot=os.environ.get("OVENLEAF_LOT", ""),
        )
    )


@contextmanager
def play(context: Context) -> Iterator[None]:
    """Let the commands that run inside see `context` for the world: how a diary is played."""
    before = _current.get()
    token = _played.set(context)
    try:
        yield
    finally:
        _played.reset(token)
        _current.set(before)


def later_now() -> datetime:
    """The time it is by now, for a command that runs on: the clock again, or that of the diary being played."""
    return current().now if _played.get() is not None else _now()


def forget() -> None:
    """No command is running any more."""
    _current.set(None)
    reading_in(None)


def find_book(given: Path | None, cwd: Path) -> Path | None:
    """The folder to take for the book: as given, as the environment says, or the nearest one upward."""
    named = given or os.environ.get("OVENLEAF_BOOK") or None
    if named is not None:
        return cwd / named
    return next((folder for folder in (cwd, *cwd.parents) if (folder / "book.yaml").is_file()), None)


def _now() -> datetime:
    fixed = os.environ.get("OVENLEAF_NOW")
    if not fixed:
        return datetime.now().astimezone().replace(microsecond=0)
    try:
        now = datetime.fromisoformat(fixed)
    except ValueError:
        now = None
    if now is None or now.tzinfo is None:
        raise Refusal(
            f"OVENLEAF_NOW is not a time with its offset: {fixed}.",
            detail=("A good one looks like 2026-11-12T07:39:00+01:00.",),
        )
    return now.replace(microsecond=0)


def _is_terminal() -> bool:
    streams = (sys.stdin, sys.stdout)
    return all(stream is not None and stream.isatty() for stream in streams)
