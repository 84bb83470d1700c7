"""ovenleaf diff FORMULA [R R]"""

from __future__ import annotations

from typing import Annotated

import typer

from ovenleaf.cli.answer import AsJson, AsSentences, say_document, say_screen
from ovenleaf.cli.context import current


def command(
    formula: Annotated[str, typer.Argument(metavar="FORMULA", help="The formula's name.")] = "",
    words: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="[R R]", help="The two revisions, older first; the last two if none is named. Or another formula."
        ),
    ] = None,
    trials: Annotated[
        tuple[str, str], typer.Option("--trials", metavar="TRIAL TRIAL", help="Compare two bakes, by their codes.")
    ] = ("", ""),
    draft: Annotated[bool, typer.Option("--draft", help="Compare with the page as it was edited by hand.")] = False,
    as_json: AsJson = False,
    sentences: AsSentences = False,
) -> None:
    """Compare two revisions in shares of all the flour, with their bakes and how they came out.

    Example: ovenleaf diff market-roll r1 r3

    Two bakes: ovenleaf diff --trials A3 A5
    """
    from ovenleaf.jobs.diff import diff, diff_trials
    from ovenleaf.present.comparison import diff_screen
    from ovenleaf.present.documents import comparing

    context = current()
    if any(trials):
        result = diff_trials(context.book, context.cwd, *trials)
    elif formula:
        result = diff(context.book, context.cwd, formula, words or (), draft=draft)
    else:
        raise typer.BadParameter("name a formula, or two bakes with --trials")
    if as_json:
        say_document(comparing.diff(result))
    else:
        say_screen(lambda: diff_screen(result), sentences=sentences)
