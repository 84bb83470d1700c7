"""Read a book once for many answers, so that all of them are of one moment and none waits for what was read before."""

from __future__ import annotations

from contextlib import contextmanager
from contextvars import ContextVar
from functools import wraps
from typing import TYPE_CHECKING, ParamSpec, TypeVar, cast

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

P = ParamSpec("P")
R = TypeVar("R")

_KNOWN: ContextVar[dict[object, tuple[object, object]] | None] = ContextVar("known", default=None)


@contextmanager
def read_once() -> Iterator[None]:
    """While this lasts, what `once` reads is read one time; for jobs that only look at a book."""
    token = _KNOWN.set({})
    try:
        yield
    finally:
        _KNOWN.reset(token)


def once(read: Callable[P, R]) -> Callable[P, R]:
    """A reader of pages whose answer is kept while `read_once` lasts. Refusals are not kept."""

    @wraps(read)
    def reading(*args: P.args, **kwargs: P.kwargs) -> R:
        known = _KNOWN.get()
        if known is None:
            return read(*args, **kwargs)
        key = (read, tuple(map(_key, args)), tuple((name, _key(value)) for name, value in kwargs.items()))
        if key not in known:
            known[key] = (read(*args, **kwargs), args)  # what a key stands for lives as long as the key
        return cast("R", known[key][0])

    return reading


def _key(value: object) -> object:
    """Names and places by what they say; what was itself read once by which one it is."""
    return value if isinstance(value, (str, bool, type(None))) or hasattr(value, "__fspath__") else id(value)
