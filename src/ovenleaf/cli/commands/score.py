"""ovenleaf score TRIAL"""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from ovenleaf.cli.answer import NewTaster, Preview, own_words, say
from ovenleaf.cli.asking import signed
from ovenleaf.cli.context import current

if TYPE_CHECKING:
    from ovenleaf.jobs.score import Marks


def command(
    trial: Annotated[
        list[str],
        typer.Argument(
            metavar="TRIAL [WORDS]",
            help="Its code, such as C4; or last; or formula and day; then marks in words.",
        ),
    ],
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
    why: Annotated[
        str, typer.Option(metavar="TEXT", callback=own_words, help="Why a mark that was given already changes.")
    ] = "",
    preview: Preview = False,
) -> None:
    """Add a taster's marks to a bake.

    Example: ovenleaf score C4 --taster tomas --crumb 6 --crust 7

    Example: ovenleaf score C4 crumb 6, crust 7, a little dry

    Without marks, at a terminal, it asks for them: ovenleaf score C4 --taster tomas
    """
    from ovenleaf.jobs.score import MarkOptions, apart, score
    from ovenleaf.present.trial import scored_screen

    context = current()
    which = " ".join(trial)
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
    answers = None
    if context.interactive and marks == MarkOptions() and not apart(which)[1]:
        answers = _asked(which, taster, new_taster=new_taster)
    result = signed(
        lambda baker: score(
            context.book,
            context.cwd,
            which,
            marks,
            answers=answers,
            taster=taster,
            new_taster=new_taster,
            why=why,
            baker=baker,
            at=context.now,
            preview=preview,
        )
    )
    say(scored_screen(result))


def _asked(which: str, taster: str, *, new_taster: bool) -> Marks | None:
    """The marks in answers to questions; None where none was given."""
    from ovenleaf.cli.questions import ask_bake, open_line, remark
    from ovenleaf.jobs.ask import tasting
    from ovenleaf.present.trial import tasting_words

    context = current()
    asked = signed(
        lambda baker: tasting(context.book, context.cwd, which, taster=taster, new_taster=new_taster, baker=baker)
    )
    say(tasting_words(asked.code, asked.label, asked.spoken, asked.day, asked.taster))
    with open_line():
        told = ask_bake(asked.questions)
    remark("")
    return next(iter(told.marks), None)
