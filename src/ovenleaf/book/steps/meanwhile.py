"""What another process works out of many pages, while this one works on the rest of them."""

from __future__ import annotations

import os
import sys
from contextlib import suppress
from functools import cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from multiprocessing.connection import Connection

MANY = 400  # pages; of fewer, half is read sooner than a process is begun


def meanwhile(pages: Sequence[str], told: Callable[[str], str]) -> Callable[[str], str | None]:
    """Begins on the latter half of the pages by another process; what it gives says what `told` makes of one of them.

    It waits for the other to be done with all of them at the first that is asked for. None for a page that the other
    was not given, or did not come through with: whatever hindered it shows again where that page is read here.
    """
    if len(pages) < MANY or not _is_of_use():
        return lambda page: None
    from multiprocessing import get_context

    theirs = pages[len(pages) // 2 :]
    context = get_context("fork")
    ours, end = context.Pipe(duplex=False)
    context.Process(target=_tell, args=(end, theirs, told), daemon=True).start()
    end.close()

    @cache
    def answers() -> dict[str, str]:
        try:
            return dict(zip(theirs, ours.recv(), strict=True))
        except (OSError, EOFError):
            return {}

    given = frozenset(theirs)
    return lambda page: answers().get(page) if page in given else None


def _is_of_use() -> bool:
    """True where a second processor is free to us, and where a process may be doubled without harm."""
    return sys.platform == "linux" and len(os.sched_getaffinity(0)) > 1


def _tell(end: Connection, pages: Sequence[str], told: Callable[[str], str]) -> None:
    """All at once: whoever asks has work of his own, and would not empty the pipe before that is done."""
    import signal

    signal.signal(signal.SIGINT, signal.SIG_IGN)  # who is stopped by the baker is the one that speaks to her
    with suppress(Exception):  # whatever it is, the other meets it too, and tells it
        end.send([told(page) for page in pages])
