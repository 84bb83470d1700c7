"""ovenleaf finish [TRIAL]"""

from __future__ import annotations

from typing import Annotated

import typer

from ovenleaf.cli.answer import NewTaster, Preview, own_words, say
from ovenleaf.cli.asking import signed
from ovenleaf.cli.context import current
from ovenleaf.cli.zone import in_this_zone


def command(
    trial: Annotated[
        list[str] | None,
        typer.Argument(metavar="[TRIAL] [WORDS]", help="Its code, if not the newest in hand; then marks in words."),
    ] = None,
    crumb: Annotated[str, typer.Option(metavar="MARK")] = "",
    crust: Annotated[str, typer.Option(metavar="MARK")] = "",
    flavour: Annotated[str, typer.Option(metavar="MARK")] = "",
    taster: Annotated[str, typer.Option(metavar="NAME", help="Who gives the marks, if not you.")] = "",
    new_taster: NewTaster = False,
    fault: Annotated[list[str] | None, typer.Option(metavar="TEXT", help='Such as "too pale".')] = None,
    hours_after: Annotated[str, typer.Option(metavar="H", help="Hours from baking to tasting.")] = "",
    note: Annotated[str, typer.Option(metavar="TEXT")] = "",
    cut_short: Annotated[bool, typer.Option("--cut-short", help="It was stopped on the way; say --because.")] = False,
    given_up: Annotated[bool, typer.Option("--given-up", help="There is no bread of it; say --because.")] = False,
    because: Annotated[
        str, typer.Option(metavar="TEXT", callback=own_words, help="Why it was cut short or given up.")
    ] = "",
    baked_on: Annotated[str, typer.Option(metavar="DAY", help="As 2026-11-18, if no line says it.")] = "",
    preview: Preview = False,
) -> None:
    """Close a bake in hand, with its marks; or say that it was cut short or given up, and why.

    Example: ovenleaf finish --crumb 7 --crust 8

    Example: ovenleaf finish A3 crumb 7, crust 8, a little dry

    Example: ovenleaf finish --cut-short --because "the power failed"
    """
    from ovenleaf.jobs.finish import FinishOptions, MarkOptions, finish
    from ovenleaf.present.finishing import finished_screen

    context = current()
    marks = MarkOptions(
        crumb=crumb, crust=crust, flavour=flavour, faults=tuple(fault or ()), hours_after=hours_after, note=note
    )
    options = FinishOptions(marks=marks, cut_short=cut_short, given_up=given_up, because=because, baked_on=baked_on)
    result = signed(
        lambda baker: finish(
            context.book,
            context.cwd,
            " ".join(trial or ()),
            options,
            taster=taster,
            new_taster=new_taster,
            baker=baker,
            at=in_this_zone(context.now),
            preview=preview,
        )
    )
    say(finished_screen(result))
