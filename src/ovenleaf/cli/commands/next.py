"""ovenleaf next FORMULA"""

from __future__ import annotations

from typing import Annotated

import typer

from ovenleaf.cli.answer import AsJson, AsSentences, Preview, say, say_document, say_screen
from ovenleaf.cli.asking import signed
from ovenleaf.cli.context import current


def command(
    formula: Annotated[str, typer.Argument(metavar="FORMULA", help="The formula's name.")],
    keep: Annotated[int | None, typer.Option(metavar="N", min=1, help="Keep the Nth as a planned trial.")] = None,
    preview: Preview = False,
    as_json: AsJson = False,
    sentences: AsSentences = False,
) -> None:
    """Say what to bake next, with the reason and what it would tell.

    Example: ovenleaf next market-roll --keep 1
    """
    from ovenleaf.jobs import next_bake
    from ovenleaf.present import planning
    from ovenleaf.present.documents.planning import next_bakes

    context = current()
    if keep is not None:
        say(
            planning.planned_screen(
                signed(
                    lambda baker: next_bake.keep(
                        context.book, context.cwd, formula, keep, baker=baker, at=context.now, preview=preview
                    )
                )
            )
        )
        return
    result = next_bake.next_bakes(context.book, context.cwd, formula)
    if as_json:
        say_document(next_bakes(result))
    else:
        say_screen(lambda: planning.next_screen(result), sentences=sentences)
