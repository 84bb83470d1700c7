"""ovenleaf weigh FORMULA [R]"""

from __future__ import annotations

import shlex
from pathlib import Path
from typing import Annotated

import typer

from ovenleaf.cli.answer import AsJson, AsSentences, say_document, say_screen
from ovenleaf.cli.context import current


def command(
    words: Annotated[
        list[str], typer.Argument(metavar="FORMULA [R]", help="A formula, or several; or one and its revision.")
    ],
    pieces: Annotated[str, typer.Option(metavar="N", help="How many pieces; 24,12 for two formulas.")] = "",
    each: Annotated[str, typer.Option(metavar="WEIGHT", help="One piece of dough, as 85g.")] = "",
    baked: Annotated[bool, typer.Option("--baked", help="A piece weighs that much when baked.")] = False,
    dough: Annotated[str, typer.Option(metavar="WEIGHT", help="All the dough.")] = "",
    flour: Annotated[str, typer.Option(metavar="WEIGHT", help="All the flour.")] = "",
    factor: Annotated[str, typer.Option(metavar="N", help="So many times the page.")] = "",
    bench_loss: Annotated[str, typer.Option(metavar="PERCENT", help="What stays on bowl and bench.")] = "",
    bake_loss: Annotated[str, typer.Option(metavar="PERCENT", help="What the oven takes; else as measured.")] = "",
    scale: Annotated[str, typer.Option(metavar="STEP", help='1g, or "1 g, 0.1 g below 100 g".')] = "",
    water_temp: Annotated[bool, typer.Option("--water-temp", help="How warm the water should be.")] = False,
    room: Annotated[str, typer.Option(metavar="20C", help="The room.")] = "",
    flour_temp: Annotated[str, typer.Option(metavar="19C", help="The flour.")] = "",
    preferment_temp: Annotated[str, typer.Option(metavar="20C", help="The preferment.")] = "",
    target: Annotated[str, typer.Option(metavar="25C", help="The dough, if not as planned.")] = "",
    warming: Annotated[str, typer.Option(metavar="4C", help="What your mixer warms the dough by.")] = "",
    tap: Annotated[str, typer.Option(metavar="22C", help="The tap water, for how much ice.")] = "",
    swap: Annotated[
        list[str] | None,
        typer.Option(metavar="WHAT", help='"fresh yeast", "strong wheat flour=spelt flour", poolish=60%.'),
    ] = None,
    household: Annotated[bool, typer.Option("--household", help="Cups and spoons beside the weights.")] = False,
    ounces: Annotated[bool, typer.Option("--ounces", help="Ounces and pounds instead of grams.")] = False,
    ready: Annotated[str, typer.Option(metavar="TIME", help="When it should be ready: 2026-11-29T07:00.")] = "",
    begin: Annotated[str, typer.Option(metavar="TIME", help="When you begin.")] = "",
    calendar: Annotated[str, typer.Option(metavar="FILE", help="Write the schedule as a calendar, with alarms.")] = "",
    sheet: Annotated[str, typer.Option(metavar="FILE", help="Write a plain sheet to print and tick.")] = "",
    as_json: AsJson = False,
    sentences: AsSentences = False,
) -> None:
    """Weigh a formula up: for pieces, dough or flour; with water, swaps and a schedule.

    Example: ovenleaf weigh market-roll --pieces 24 --each 85g --bench-loss 2%
    """
    from ovenleaf.cli.questions import ask
    from ovenleaf.cli.zone import in_this_zone
    from ovenleaf.jobs.weigh import WeighOptions, check_free, formulas_and_revision, preferment_to_ask, weigh, write_new
    from ovenleaf.present.calendar import calendar_text
    from ovenleaf.present.documents import formulas
    from ovenleaf.present.sheet import printed_sheet
    from ovenleaf.present.weighing import weigh_screen

    context = current()
    names, revision = formulas_and_revision(words)
    if context.interactive and water_temp and not as_json:
        part = preferment_to_ask(context.book, context.cwd, names, revision)
        room = room or ask("Room") or ""
        flour_temp = flour_temp or ask("Flour") or ""
        preferment_temp = preferment_temp or (part and ask(part.capitalize())) or ""
    options = WeighOptions(
        pieces=pieces,
        each=each,
        baked=baked,
        dough=dough,
        flour=flour,
        factor=factor,
        bench_loss=bench_loss,
        bake_loss=bake_loss,
        scale=scale,
        water=water_temp,
        room=room,
        flour_temp=flour_temp,
        preferment_temp=preferment_temp,
        target=target,
        warming=warming,
        tap=tap,
        swaps=tuple(swap or ()),
        household=household,
        ready=ready,
        begin=begin,
        ounces=ounces,
        calendar=calendar,
        sheet=sheet,
    )
    check_free(context.cwd, calendar, sheet)
    result = weigh(context.book, context.cwd, names, revision, options, in_this_zone(context.now))
    if calendar:
        write_new(context.cwd / Path(calendar), calendar, calendar_text(result))
    if sheet:
        write_new(context.cwd / Path(sheet), sheet, printed_sheet(result))
    if as_json:
        say_document(formulas.weigh(result))
    else:
        say_screen(lambda: weigh_screen(result, _to_repeat(context.typed)), sentences=sentences)


def _to_repeat(typed: tuple[str, ...]) -> str:
    """The command line without the files it wrote, which are there now, and without how it was to be told."""
    words: list[str] = []
    given = iter(typed)
    for word in given:
        option, equals, _ = word.partition("=")
        if option in ("--sheet", "--calendar"):
            if not equals:
                next(given, None)
        elif word != "--sentences":
            words.append(word)
    return shlex.join(words)
