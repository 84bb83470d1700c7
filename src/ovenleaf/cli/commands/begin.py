"""ovenleaf begin FORMULA [R]"""

from __future__ import annotations

import shlex
from typing import TYPE_CHECKING, Annotated

import typer

from ovenleaf.cli.answer import Preview, say
from ovenleaf.cli.asking import signed
from ovenleaf.cli.context import current
from ovenleaf.cli.zone import in_this_zone

if TYPE_CHECKING:
    from ovenleaf.jobs.begin import BeginOptions, BegunAlready, BegunBake


def command(
    formula: Annotated[
        str, typer.Argument(metavar="FORMULA", help="The formula to bake; or the code of a planned trial.")
    ] = "",
    revision: Annotated[str, typer.Argument(metavar="[R]", help="The revision, if not the newest.")] = "",
    flour: Annotated[str, typer.Option(metavar="WEIGHT", help="All the flour, as in 600g.")] = "",
    dough: Annotated[str, typer.Option(metavar="WEIGHT", help="All the dough, as in 1020g.")] = "",
    pieces: Annotated[str, typer.Option(metavar="N", help="So many pieces.")] = "",
    each: Annotated[str, typer.Option(metavar="WEIGHT", help="One piece of dough, as in 85g.")] = "",
    question: Annotated[str, typer.Option(metavar="TEXT", help="What this bake should answer.")] = "",
    swap: Annotated[
        list[str] | None,
        typer.Option(metavar="WHAT", help='For this bake alone: "fresh yeast", "rye flour=spelt flour", poolish=60%.'),
    ] = None,
    shares: Annotated[
        str, typer.Option("--shares-dough-with", metavar="TRIAL", help="A part of the dough of that bake.")
    ] = "",
    another: Annotated[bool, typer.Option("--another", help="A second dough of it at the same time is meant.")] = False,
    preview: Preview = False,
) -> None:
    """Begin a bake: it is in hand from now, and has a code for tape and tub.

    Example: ovenleaf begin market-roll --flour 600g

    With another yeast today: ovenleaf begin market-roll --swap "fresh yeast"

    A dough baked in two ways: ovenleaf begin market-roll --shares-dough-with D2
    """
    from ovenleaf.jobs.begin import BatchOptions, BeginOptions, BegunAlready
    from ovenleaf.present.bench import begun_screen

    context = current()
    options = BeginOptions(
        batch=BatchOptions(flour=flour, dough=dough, pieces=pieces, each=each),
        question=question,
        swaps=tuple(swap or ()),
        shares=shares,
        another=another,
        typed=_behind(context.typed, formula),
    )
    try:
        result = _keep(formula, revision, options, preview=preview)
    except BegunAlready as refusal:
        if not context.interactive or not _another_meant(refusal):
            raise
        result = _keep(formula, revision, _with_another(options), preview=preview)
    say(begun_screen(result))


def _keep(formula: str, revision: str, options: BeginOptions, *, preview: bool) -> BegunBake:
    from ovenleaf.jobs.begin import begin

    context = current()
    return signed(
        lambda baker: begin(
            context.book,
            context.cwd,
            formula,
            revision,
            options,
            baker=baker,
            at=in_this_zone(context.now),
            preview=preview,
        )
    )


def _another_meant(refusal: BegunAlready) -> bool:
    from ovenleaf.cli.questions import ask_one_of

    say(f"{refusal.formula} was begun {refusal.minutes} min ago, as {refusal.code}, and is in hand.")
    return ask_one_of("Is that the one, or do you begin another", (refusal.code.lower(), "another")) == "another"


def _with_another(options: BeginOptions) -> BeginOptions:
    from dataclasses import replace

    return replace(options, another=True)


def _behind(typed: tuple[str, ...], formula: str) -> str:
    """All that was typed behind the formula's name, to be repeated in a refusal."""
    if formula not in typed:
        return ""
    rest = typed[typed.index(formula) + 1 :]
    return f" {shlex.join(rest)}" if rest else ""
