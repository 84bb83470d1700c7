"""ovenleaf mark FORMULA R MARK"""

from __future__ import annotations

from typing import Annotated

import typer

from ovenleaf.cli.answer import Preview, Why, say
from ovenleaf.cli.asking import signed
from ovenleaf.cli.context import current


def command(
    formula: Annotated[str, typer.Argument(metavar="FORMULA", help="The formula's name.")],
    revision: Annotated[str, typer.Argument(metavar="R", help="The revision.")],
    word: Annotated[str, typer.Argument(metavar="MARK", help="keeper, superseded or dropped")],
    why: Why = "",
    preview: Preview = False,
) -> None:
    """Say what a revision is worth.

    Example: ovenleaf mark market-roll r3 keeper --why "three bakes, none under 7.5"
    """
    from ovenleaf.jobs.mark import mark
    from ovenleaf.present.marking import marked_screen

    context = current()
    result = signed(
        lambda baker: mark(
            context.book, context.cwd, formula, revision, word, why=why, baker=baker, at=context.now, preview=preview
        )
    )
    say(marked_screen(result))
