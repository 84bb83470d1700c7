"""Who looks on while many pages are worked on, and is told of each: nobody, unless the outermost layer says so."""

from __future__ import annotations

from contextlib import AbstractContextManager, contextmanager
from contextvars import ContextVar
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    Onlooker = Callable[[str, int], AbstractContextManager[Callable[[], None]]]


@contextmanager
def _nobody(what: str, total: int) -> Iterator[Callable[[], None]]:
    yield lambda: None


_looks_on: ContextVar[Onlooker] = ContextVar("onlooker", default=_nobody)


def look_on(onlooker: Onlooker) -> None:
    """From now on `onlooker` is told: of what, of how many, and then, for each, that it is done."""
    _looks_on.set(onlooker)


def counted(what: str, total: int) -> AbstractContextManager[Callable[[], None]]:
    """While this lasts, each call of what it gives says that one more of `what` is done."""
    return _looks_on.get()(what, total)
