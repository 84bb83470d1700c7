"""Ask a baker at the terminal for what a command cannot do without; elsewhere refuse with what to type."""

from __future__ import annotations

import shlex
from typing import TYPE_CHECKING, TypeVar

import typer

from ovenleaf.cli.context import current, sign
from ovenleaf.errors import NoBaker

if TYPE_CHECKING:
    from collections.abc import Callable

T = TypeVar("T")


def signed(work: Callable[[str], T]) -> T:
    """Run a writing job with the baker's name; where nobody has said it yet, ask for it once."""
    context = current()
    try:
        return work(context.baker)
    except NoBaker:
        if not context.interactive:
            raise NoBaker(shlex.join(context.typed)) from None
    sign(str(typer.prompt("Your name in this book, small letters")).strip())
    return work(current().baker)
