"""ovenleaf save"""

from __future__ import annotations

from typing import Annotated

import typer

from ovenleaf.cli.answer import Meant, Preview, Why, say
from ovenleaf.cli.asking import signed
from ovenleaf.cli.context import current


def command(
    formula: Annotated[
        str, typer.Argument(metavar="[FORMULA]", help="One formula alone; without it, all that was edited.")
    ] = "",
    why: Why = "",
    meant: Meant = "",
    preview: Preview = False,
) -> None:
    """Keep what was edited by hand.

    Example: ovenleaf save --why "a longer bulk, for flavour"
    """
    from ovenleaf.jobs.save import save
    from ovenleaf.present.writing import saved_screen

    context = current()
    result = signed(
        lambda baker: save(
            context.book,
            context.cwd,
            formula=formula,
            why=why,
            baker=baker,
            at=context.now,
            preview=preview,
            meant=meant,
        )
    )
    say(saved_screen(result))
