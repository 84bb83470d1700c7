"""ovenleaf copy FORMULA NEW-NAME [R]"""

from __future__ import annotations

from typing import Annotated

import typer

from ovenleaf.cli.answer import Preview, Why, say
from ovenleaf.cli.asking import signed
from ovenleaf.cli.context import current


def command(
    formula: Annotated[str, typer.Argument(metavar="FORMULA", help="The formula to begin from.")],
    name: Annotated[str, typer.Argument(metavar="NEW-NAME", help="The name of the new one.")],
    revision: Annotated[str, typer.Argument(metavar="[R]", help="The revision, if not the newest.")] = "",
    title: Annotated[str, typer.Option(metavar="TEXT", help="What the new one is called.")] = "",
    why: Why = "",
    preview: Preview = False,
) -> None:
    """Begin a new formula from one that is there.

    Example: ovenleaf copy market-roll seeded-roll --why "the same with seeds"
    """
    from ovenleaf.jobs.copy import copy
    from ovenleaf.present.marking import copied_screen

    context = current()
    result = signed(
        lambda baker: copy(
            context.book,
            context.cwd,
            formula,
            name,
            revision=revision,
            title=title,
            why=why,
            baker=baker,
            at=context.now,
            preview=preview,
        )
    )
    say(copied_screen(result))
