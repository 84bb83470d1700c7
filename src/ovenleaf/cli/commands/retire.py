"""ovenleaf retire FORMULA"""

from __future__ import annotations

from typing import Annotated

import typer

from ovenleaf.cli.answer import Preview, Why, say
from ovenleaf.cli.asking import signed
from ovenleaf.cli.context import current


def command(
    formula: Annotated[str, typer.Argument(metavar="FORMULA", help="The formula's name.")],
    back: Annotated[bool, typer.Option("--back", help="Take it out again.")] = False,
    why: Why = "",
    preview: Preview = False,
) -> None:
    """Put a formula away. Nothing of it is lost.

    Example: ovenleaf retire stall-loaf --why "the rye sells better"
    """
    from ovenleaf.jobs.mark import retire
    from ovenleaf.present.marking import retired_screen

    context = current()
    result = signed(
        lambda baker: retire(
            context.book, context.cwd, formula, back=back, why=why, baker=baker, at=context.now, preview=preview
        )
    )
    say(retired_screen(result))
