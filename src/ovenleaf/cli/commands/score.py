"""ovenleaf score TRIAL"""

from __future__ import annotations

from typing import Annotated

import typer

from ovenleaf.cli.answer import NewTaster, Preview, say
from ovenleaf.cli.asking import signed
from ovenleaf.cli.context import current


def command(
    trial: Annotated[list[str], typer.Argument(help="Its code, such as C4; or last; or formula and day.")],
    taster: Annotated[str, typer.Option(metavar="NAME", help="Who gives the marks, if not you.")] = "",
    new_taster: NewTaster = False,
    crumb: Annotated[str, typer.Option(metavar="MARK")] = "",
    crust: Annotated[str, typer.Option(metavar="MARK")] = "",
    flavour: Annotated[str, typer.Option(metavar="MARK")] = "",
    fault: Annotated[list[str] | None, typer.Option(metavar="TEXT", help='Such as "too pale".')] = None,
    hours_after: Annotated[str, typer.Option(metavar="H", help="Hours from baking to tasting.")] = "",
    bake_again: Annotated[bool | None, typer.Option("--again/--not-again", help="Bake it again?")] = None,
    blind: Annotated[bool | None, typer.Option("--blind/--not-blind", help="Did the taster know which it was?")] = None,
    note: Annotated[str, typer.Option(metavar="TEXT")] = "",
    why: Annotated[str, typer.Option(metavar="TEXT", help="Why a mark that was given already changes.")] = "",
    preview: Preview = False,
) -> None:
    """Add a taster's marks to a bake.

    Example: ovenleaf score C4 --taster tomas --crumb 6 --crust 7
    """
    from ovenleaf.jobs.score import MarkOptions, score
    from ovenleaf.present.trial import scored_screen

    context = current()
    marks = MarkOptions(
        crumb=crumb,
        crust=crust,
        flavour=flavour,
        bake_again=bake_again,
        faults=tuple(fault or ()),
        hours_after=hours_after,
        blind=blind,
        note=note,
    )
    result = signed(
        lambda baker: score(
            context.book,
            context.cwd,
            " ".join(trial),
            marks,
            taster=taster,
            new_taster=new_taster,
            why=why,
            baker=baker,
            at=context.now,
            preview=preview,
        )
    )
    say(scored_screen(result))
