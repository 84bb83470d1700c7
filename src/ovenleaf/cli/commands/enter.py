"""ovenleaf enter FILE"""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from ovenleaf.cli.answer import Why, say
from ovenleaf.cli.asking import signed
from ovenleaf.cli.context import current


def command(
    page: Annotated[str, typer.Argument(metavar="FILE", help="A page that you typed, or - for standard input.")],
    why: Why = "",
    levain: Annotated[
        str,
        typer.Option(
            metavar="HOW", help="on-top or counted-in: whether flour that comes to 100 % counts what is in the levain."
        ),
    ] = "",
    new: Annotated[
        list[str] | None, typer.Option(metavar="ITEM", help="An ingredient that is meant as spelled.")
    ] = None,
) -> None:
    """Put in a formula from a page: as revision 1, or as the next.

    Example: ovenleaf enter market-roll.yaml
    """
    from ovenleaf.jobs.enter import STANDARD_INPUT, Typed, enter, page_bytes
    from ovenleaf.present.writing import entered_screen

    context = current()
    if page == "-":
        typed = Typed(data=context.read_page(), source=STANDARD_INPUT)
    else:
        typed = Typed(data=page_bytes(context.cwd / Path(page), page), source=page)
    result = signed(
        lambda baker: enter(
            context.book,
            context.cwd,
            typed,
            why=why,
            baker=baker,
            at=context.now,
            reading=levain,
            new=tuple(new or ()),
        )
    )
    say(entered_screen(result))
