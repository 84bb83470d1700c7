"""ovenleaf tweak FORMULA ITEM=AMOUNT..."""

from __future__ import annotations

from typing import Annotated

import typer

from ovenleaf.cli.answer import Meant, Preview, Why, say
from ovenleaf.cli.asking import signed
from ovenleaf.cli.context import current


def command(
    formula: Annotated[str, typer.Argument(metavar="FORMULA", help="The formula's name.")],
    changes: Annotated[
        list[str],
        typer.Argument(
            metavar="ITEM=AMOUNT...",
            help="What changes: water=68%, water=+3points, poolish:water=110%, poolish=25%, butter=none,"
            " rye=+5points wheat=rest, bulk.time=60min.",
        ),
    ],
    why: Why = "",
    base: Annotated[
        str, typer.Option("--from", metavar="R", help="The revision to start from, if not the newest.")
    ] = "",
    new: Annotated[
        list[str] | None, typer.Option(metavar="ITEM", help="An ingredient that is meant as spelled.")
    ] = None,
    meant: Meant = "",
    preview: Preview = False,
) -> None:
    """Make a new revision: what changes, and why.

    Example: ovenleaf tweak market-roll water=68% --why "softer still"
    """
    from ovenleaf.jobs.tweak import tweak
    from ovenleaf.present.writing import tweaked_screen

    context = current()
    result = signed(
        lambda baker: tweak(
            context.book,
            context.cwd,
            formula,
            changes,
            why=why,
            baker=baker,
            at=context.now,
            preview=preview,
            meant=meant,
            base=base,
            new=tuple(new or ()),
        )
    )
    say(tweaked_screen(result))
