"""Who may write in a book: one ovenleaf at a time, and only while no other program is at it.

Knows locks, waiting and Ctrl-C. Must not know what is written.
"""

from __future__ import annotations

import os
import signal
import sys
import time
from contextlib import contextmanager
from typing import TYPE_CHECKING

from ovenleaf.book import git, layout
from ovenleaf.errors import Refusal

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

PAUSE = 0.05  # seconds between two tries


class BookInUse(Refusal):
    """Another ovenleaf holds the book. Fact: `waited`, seconds."""

    def __init__(self, waited: float) -> None:
        super().__init__(
            "Another ovenleaf is writing in this book.",
            detail=(f"Waited {waited:g} seconds. Run the command again when the other one has finished.",),
        )
        self.waited = waited


class OtherProgramBusy(Refusal):
    """git's own lock files lie in the book, and they are not ours. Fact: `files`."""

    def __init__(self, files: tuple[str, ...]) -> None:
        super().__init__(
            "Another program is busy in this book's .git folder.",
            detail=(
                "Close the program (an editor may have the book open), and run the command again.",
                f"If nothing else is running, delete {' and '.join(files)} first: it was left behind.",
            ),
        )
        self.files = files


@contextmanager
def held(root: Path, wait: float) -> Iterator[tuple[int, ...]]:
    """Holds the book for one writer; yields the descriptors that git children must inherit.

    A child that outlives us, when only we are killed, so keeps the next writer waiting until it
    has ended too. Windows ties a lock to its process: there a child inherits nothing.
    BookInUse after `wait` seconds.
    """
    folder = layout.state_folder(root)
    folder.mkdir(exist_ok=True)
    descriptor = os.open(folder / "lock", os.O_RDWR | os.O_CREAT, 0o666)
    try:
        if not any(_try_to_lock(descriptor) for _ in _tries(wait)):
            raise BookInUse(wait)
        yield () if sys.platform == "win32" else (descriptor,)
    finally:
        # Closing lets go of our share only; unlocking would free the book under a child's hands.
        os.close(descriptor)


def wait_for_others(root: Path, wait: float) -> None:
    """Waits until no other program has a lock file of git's in the book; OtherProgramBusy after `wait` s."""
    files: tuple[Path, ...] = ()
    for _ in _tries(wait):
        files = git.pending_locks(root)
        if not files:
            return
    raise OtherProgramBusy(tuple(path.relative_to(root).as_posix() for path in files))


@contextmanager
def ctrl_c_held_back() -> Iterator[None]:
    """Puts Ctrl-C off until the block ends: then, and not before, KeyboardInterrupt is raised.

    The signal is masked and not ignored, since git children inherit the mask: the terminal sends
    Ctrl-C to them as well, and git would give up halfway. They stay in our process group, so
    that what ends the group ends them. On Windows children get a group of their own instead, and
    KeyboardInterrupt may come at any point; the writer deals with that.
    """
    if sys.platform == "win32":
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _tries(wait: float) -> Iterator[None]:
    """Yields at once, then after each pause until `wait` seconds are used up. Counts; reads no clock."""
    yield
    for _ in range(round(wait / PAUSE)):
        time.sleep(PAUSE)
        yield


def _try_to_lock(descriptor: int) -> bool:
    try:
        if sys.platform == "win32":
            msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)
        else:
            fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except (BlockingIOError, PermissionError):
        return False
    return True
