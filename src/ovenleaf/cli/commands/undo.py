"""ovenleaf undo"""

from __future__ import annotations

from typing import Annotated

import typer

from ovenleaf.cli.answer import Preview, own_words, say
from ovenleaf.cli.asking import signed
from ovenleaf.cli.context import current


def command(
    why: Annotated[
        str, typer.Option(metavar="TEXT", callback=own_words, help="Why, if there is something to say.")
    ] = "",
    preview: Preview = False,
) -> None:
    """Take the last entry back, visibly; again, the one before it.

    Example: ovenleaf undo --preview
    """
    from ovenleaf.jobs.undo import undo
    from ovenleaf.present.undoing import undone_screen

    context = current()
    result = signed(
        lambda baker: undo(context.book, context.cwd, why=why, baker=baker, at=context.now, preview=preview)
    )
    say(undone_screen(result))
