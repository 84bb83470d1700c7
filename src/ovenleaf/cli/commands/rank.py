"""ovenleaf rank [FORMULA...]"""

from __future__ import annotations

from typing import Annotated

import typer

from ovenleaf.cli.answer import AsJson, AsSentences, say_document, say_screen
from ovenleaf.cli.context import current


def command(
    formulas: Annotated[list[str] | None, typer.Argument(metavar="[FORMULA...]", help="All, if none is named.")] = None,
    by: Annotated[str, typer.Option(metavar="WHAT", help="trial or revision")] = "trial",
    weights: Annotated[str, typer.Option(metavar="WEIGHTS", help="crumb=2,crust=1, instead of the book's own.")] = "",
    top: Annotated[int | None, typer.Option(metavar="N", min=1, help="Only the first N.")] = None,
    scale: Annotated[
        str, typer.Option(metavar="SCALE", help='Bakes scored on this scale, as in "1 to 5"; the book\'s own if none.')
    ] = "",
    convert: Annotated[bool, typer.Option("--convert", help="Move marks of other scales to it.")] = False,
    as_json: AsJson = False,
    sentences: AsSentences = False,
) -> None:
    """Order bakes or revisions by their crumb and crust scores.

    Example: ovenleaf rank market-roll --by revision
    """
    from ovenleaf.jobs.rank import ranked
    from ovenleaf.present.documents import comparing
    from ovenleaf.present.ranking import rank_screen

    context = current()
    result = ranked(
        context.book, context.cwd, formulas or (), by=by, weights=weights, top=top, scale=scale, convert=convert
    )
    if as_json:
        say_document(comparing.rank(result))
    else:
        say_screen(lambda: rank_screen(result), sentences=sentences)
