"""ovenleaf join ADDRESS DIR"""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from ovenleaf.cli.answer import Preview, say
from ovenleaf.cli.asking import signed
from ovenleaf.cli.context import current


def command(
    address: Annotated[str, typer.Argument(metavar="ADDRESS", help="Where the book is shared.")],
    folder: Annotated[str, typer.Argument(metavar="DIR", help="A folder that is new or empty.")],
    baker: Annotated[str, typer.Option(metavar="NAME", help="Your name in the book, small letters.")] = "",
    preview: Preview = False,
) -> None:
    """Get your own copy of a book that is shared with you.

    Example: ovenleaf join /media/stick/ferry-lane ferry-lane --baker tomas
    """
    from ovenleaf.jobs.join import join
    from ovenleaf.present.sharing import joined_screen

    context = current()
    where = Path(folder)
    result = signed(
        lambda name: join(
            address,
            context.cwd / where,
            start=context.cwd,
            shown=where,
            baker=baker or name,
            at=context.now,
            preview=preview,
        )
    )
    say(joined_screen(result))
