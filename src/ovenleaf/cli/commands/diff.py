"""ovenleaf diff FORMULA [R R]"""

from __future__ import annotations

from typing import Annotated

import typer

from ovenleaf.cli.answer import AsJson, AsSentences, say_document, say_screen
from ovenleaf.cli.context import current


def command(
    formula: Annotated[str, typer.Argument(help="The formula's name.")],
    one: Annotated[str, typer.Argument(metavar="[R]", help="The older revision; the last two if none is named.")] = "",
    other: Annotated[str, typer.Argument(metavar="[R]", help="The newer one; the newest if only one is named.")] = "",
    draft: Annotated[bool, typer.Option("--draft", help="Compare with the page as it was edited by hand.")] = False,
    as_json: AsJson = False,
    sentences: AsSentences = False,
) -> None:
    """Compare two revisions in shares of all the flour, with their bakes and how they came out.

    Example: ovenleaf diff market-roll r1 r3
    """
    from ovenleaf.jobs.diff import diff
    from ovenleaf.present import documents
    from ovenleaf.present.comparison import diff_screen

    context = current()
    result = diff(context.book, context.cwd, formula, one, other, draft=draft)
    if as_json:
        say_document(documents.diff(result))
    else:
        say_screen(lambda: diff_screen(result), sentences=sentences)
