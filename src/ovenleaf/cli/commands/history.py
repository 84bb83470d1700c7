"""ovenleaf history FORMULA"""

from __future__ import annotations

from typing import Annotated

import typer

from ovenleaf.cli.answer import AsJson, AsSentences, say_document, say_screen
from ovenleaf.cli.context import current
from ovenleaf.errors import Next, Refusal


def command(
    formula: Annotated[str, typer.Argument(metavar="FORMULA", help="The formula's name.")],
    against: Annotated[
        str, typer.Option(metavar="WHAT", help='Scores against hydration, salt, "dough temperature", bulk, ...')
    ] = "",
    chart: Annotated[bool, typer.Option("--chart", help="Scores by revision, as a picture.")] = False,
    of: Annotated[str, typer.Option(metavar="WHAT", help="score, crumb, crust or flavour, for a picture.")] = "score",
    svg: Annotated[str, typer.Option(metavar="FILE", help="Write the picture into a new file.")] = "",
    as_json: AsJson = False,
    sentences: AsSentences = False,
) -> None:
    """Show a formula's revisions, why each was made, and what came of it.

    Example: ovenleaf history market-roll --against hydration
    """
    from ovenleaf.jobs.history import check_free, history, write_new
    from ovenleaf.present import against as screens
    from ovenleaf.present import against_pictures as pictures
    from ovenleaf.present.documents import comparing
    from ovenleaf.present.lists import history_screen

    context = current()
    if against and chart:
        raise Refusal("A picture shows one thing: --against or --chart.", detail=("Ask for one after the other.",))
    if svg and not (against or chart):
        raise Refusal(
            "Which picture? A file needs --chart or --against with it.",
            next=(Next(f"ovenleaf history {formula} --chart --svg {svg}", "scores by revision"),),
        )
    check_free(context.cwd, svg)
    result = history(context.book, context.cwd, formula, against=against, of=of, chart=chart)
    if svg:
        drawn = pictures.against_svg(result) if against else pictures.chart_svg(result, of)
        write_new(context.cwd / svg, svg, drawn)
    if as_json:
        say_document(comparing.history(result))
    elif against:
        say_screen(lambda: screens.against_screen(result, svg), sentences=sentences)
    elif chart:
        say_screen(lambda: screens.chart_screen(result, svg, of), sentences=sentences)
    else:
        say_screen(lambda: history_screen(result), sentences=sentences)
