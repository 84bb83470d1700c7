"""ovenleaf find WORDS"""

from __future__ import annotations

from typing import Annotated

import typer

from ovenleaf.cli.answer import AsJson, AsSentences, say_document, say_screen
from ovenleaf.cli.context import current


def command(
    words: Annotated[
        list[str],
        typer.Argument(
            metavar="WORDS...", help="gummy; dough above 26C; since October; by tomas; not recorded oven; left out."
        ),
    ],
    as_json: AsJson = False,
    sentences: AsSentences = False,
) -> None:
    """Find bakes by what was measured, done and noted; a comma between two means both.

    Example: ovenleaf find gummy, dough above 26C, since October

    Figures: ovenleaf find crumb below 6, bulk between 55 and 65 min
    """
    from ovenleaf.jobs.find import find
    from ovenleaf.present.documents import bakes
    from ovenleaf.present.found import found_screen

    context = current()
    result = find(context.book, context.cwd, " ".join(words), context.now.date())
    if as_json:
        say_document(bakes.found(result))
    else:
        say_screen(lambda: found_screen(result), sentences=sentences)
