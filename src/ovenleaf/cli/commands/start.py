"""ovenleaf start DIR"""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from ovenleaf.cli.answer import Preview, say
from ovenleaf.cli.asking import signed
from ovenleaf.cli.context import current


def command(
    folder: Annotated[str, typer.Argument(metavar="DIR", help="A folder that is new or empty.")],
    title: Annotated[str, typer.Option(metavar="TEXT", help="What the book is called.")] = "",
    baker: Annotated[str, typer.Option(metavar="NAME", help="Your name in the book, small letters.")] = "",
    sample: Annotated[bool, typer.Option("--sample", help="A filled book, to look around in.")] = False,
    preview: Preview = False,
) -> None:
    """Begin a book in a new folder.

    Example: ovenleaf start ferry-lane --title "Ferry Lane bread" --baker noor
    """
    from ovenleaf.jobs.start import start
    from ovenleaf.present.writing import started_screen

    context = current()
    where = Path(folder)
    if sample:
        from ovenleaf.cli.diary import play_sample
        from ovenleaf.jobs.diary import finished
        from ovenleaf.jobs.start import refuse_taken

        refuse_taken(context.cwd / where, where)
        play_sample(context.cwd / where)
        say(started_screen(finished(context.cwd / where, where)))
        return
    result = signed(
        lambda name: start(
            context.cwd / where, title=title, baker=baker or name, at=context.now, preview=preview, shown=where
        )
    )
    say(started_screen(result))
