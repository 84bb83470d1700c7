"""ovenleaf history FORMULA"""

from __future__ import annotations

from typing import Annotated

import typer

from ovenleaf.cli.answer import AsJson, AsSentences, say_document, say_screen
from ovenleaf.cli.context import current


def command(
    formula: Annotated[str, typer.Argument(help="The formula's name.")],
    as_json: AsJson = False,
    sentences: AsSentences = False,
) -> None:
    """Show a formula's revisions, why each was made, and what came of it.

    Example: ovenleaf history market-roll
    """
    from ovenleaf.jobs.history import history
    from ovenleaf.present.documents import comparing
    from ovenleaf.present.lists import history_screen

    context = current()
    result = history(context.book, context.cwd, formula)
    if as_json:
        say_document(comparing.history(result))
    else:
        say_screen(lambda: history_screen(result), sentences=sentences)
