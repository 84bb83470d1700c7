"""Ask a baker at the terminal for what a command cannot do without; elsewhere refuse with what to type."""

from __future__ import annotations

import shlex
from typing import TYPE_CHECKING, TypeVar

import typer

from ovenleaf.cli.context import current, sign
from ovenleaf.errors import NoBaker, Refusal

if TYPE_CHECKING:
    from collections.abc import Callable

T = TypeVar("T")


def signed(work: Callable[[str], T], *, mends: bool = False) -> T:
    """Run a writing job with the baker's name; where nobody has said it yet, ask for it once.

    What an earlier command left half done is put in order before, and told of, so that the job reads a whole book;
    not before one that `mends` the book, and may have to mend just that.
    """
    told = "" if mends else _put_in_order()
    try:
        result = _signed(work)
    except Refusal as refusal:
        refusal.detail = (*([told] if told else []), *refusal.detail)
        raise
    if told:
        from ovenleaf.present.screen import wrap

        typer.echo(f"{wrap(told)}\n")
    return result


def _put_in_order() -> str:
    """A sentence on what was put in order; a preview changes nothing."""
    context = current()
    if context.book is None or "--preview" in context.typed:
        return ""
    from ovenleaf.jobs.put_in_order import put_in_order

    return put_in_order(context.book)


def _signed(work: Callable[[str], T]) -> T:
    context = current()
    try:
        return work(context.baker)
    except NoBaker:
        if not context.interactive:
            raise NoBaker(shlex.join(context.typed)) from None
    sign(str(typer.prompt("Your name in this book, small letters")).strip())
    return work(current().baker)
