"""What a command refuses to do, as facts. Knows nothing of files, git or screens.

A refusal is an exception with three parts: what, where, and what to type next. Subclasses
take facts and build the sentence, so that a test can assert on the facts and one golden
file on the words. Only `cli.main` turns a refusal into words on a screen and an exit code.
"""

from __future__ import annotations

from contextvars import ContextVar
from enum import IntEnum
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ovenleaf.findings import Finding


class ExitCode(IntEnum):
    """What the program's exit status means; stable, scripts may rely on it."""

    DONE = 0
    FOUND = 1  # `check` found errors or warnings
    USAGE = 2
    REFUSED = 3
    OPEN = 4  # open questions for the bakers
    OURS = 5  # our own fault; a report is kept
    INTERRUPTED = 130


class Place(NamedTuple):
    """Where in a page something stands: the file's name as the baker knows it, and a line from 1."""

    path: str
    line: int | None = None
    text: str = ""  # the line itself, as typed


class Next(NamedTuple):
    """One thing to type next, and a few words beside it."""

    command: str
    words: str = ""


class Refusal(Exception):
    """This command cannot go on; the book is as it was before.

    `what` is one sentence. `where` is the place in a page, if there is one. `detail` holds
    further lines, shown as they stand. `next` holds commands that can be typed as they stand.
    """

    exit_code = ExitCode.REFUSED

    def __init__(
        self,
        what: str,
        *,
        where: Place | None = None,
        detail: Sequence[str] = (),
        next: Sequence[Next] = (),
    ) -> None:
        super().__init__(what)
        self.what = what
        self.where = where
        self.detail = tuple(detail)
        self.next = tuple(next)


class PageRefused(Refusal):
    """A page has faults; all of them are told at once, in the order of its lines."""

    def __init__(self, what: str, findings: Sequence[Finding], *, next: Sequence[Next] = ()) -> None:
        super().__init__(what, next=next)
        self.findings = tuple(findings)


class Interrupted(KeyboardInterrupt):
    """Ctrl-C during a write: all of it is in the book, or none of it; nothing in between.

    `saved` says which. `what` is a few words on what was being saved ("market roll r3"), or "".
    """

    exit_code = ExitCode.INTERRUPTED

    def __init__(self, *, saved: bool, what: str = "") -> None:
        super().__init__("saved" if saved else "not saved")
        self.saved = saved
        self.what = what


# What this run of the program has saved so far, each by book and entry, for whoever must say what a stop leaves.
_saved: ContextVar[tuple[tuple[object, str], ...]] = ContextVar("saved", default=())


def nothing_saved_yet() -> None:
    """A run begins, or all that it saved was taken away again."""
    _saved.set(())


def note_saved(entry: object, what: str) -> None:
    """An entry, known by its book and id, is saved, whatever may happen to the command that wrote it; noted once."""
    if (entry, what) not in _saved.get():
        _saved.set((*_saved.get(), (entry, what)))


def saved_so_far() -> tuple[str, ...]:
    """What was saved in this run, the oldest first, in the words of each entry."""
    return tuple(what for _, what in _saved.get())


class SayWhich(Refusal):
    """One word of the command can mean more than one thing. Facts: `typed`, the word, and `names`, what it can mean.

    Whoever knows the command line gives it again with each of the names in the word's place.
    """

    def __init__(
        self, what: str, typed: str, names: Sequence[str], *, detail: Sequence[str] = (), next: Sequence[Next] = ()
    ) -> None:
        super().__init__(what, detail=detail, next=next)
        self.typed = typed
        self.names = tuple(names)


class NoBaker(Refusal):
    """Nobody has said who writes in this copy of the book. Fact: `typed`, the command as it was typed."""

    def __init__(self, typed: str = "...") -> None:
        super().__init__(
            "Who bakes here? This copy of the book does not know yet, and every entry is signed.",
            next=(Next(f"ovenleaf --baker YOUR-NAME {typed}", "the same again; it is asked only once"),),
        )
        self.typed = typed
