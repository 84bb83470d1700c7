"""ovenleaf settle FORMULA ITEM=VALUE..."""

from __future__ import annotations

from typing import Annotated

import typer

from ovenleaf.cli.answer import Preview, Why, say
from ovenleaf.cli.asking import signed
from ovenleaf.cli.context import current


def command(
    page: Annotated[
        str, typer.Argument(metavar="FORMULA", help="A formula; or a trial's code; or book, or ingredients.")
    ],
    edits: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="ITEM=VALUE...", help="Whose value stands, or which: water=noor, water=r2, water=76%, salt=table."
        ),
    ] = None,
    why: Why = "",
    keep_both: Annotated[
        str, typer.Option("--keep-both", metavar="NEW-NAME", help="Your own way becomes a formula of that name.")
    ] = "",
    preview: Preview = False,
) -> None:
    """Settle what two bakers changed in two ways, or what the card of an adopted recipe does not say.

    Example: ovenleaf settle caraway-rye water=76% --why "the smaller step first"
    """
    from ovenleaf.jobs.settle import settle
    from ovenleaf.present.draft_questions import any_settled_screen

    context = current()
    result = signed(
        lambda baker: settle(
            context.book,
            context.cwd,
            page,
            tuple(edits or ()),
            why=why,
            baker=baker,
            at=context.now,
            keep_both=keep_both,
            preview=preview,
        )
    )
    say(any_settled_screen(result))
