"""ovenleaf taste TRIAL TRIAL..., ovenleaf taste CODE"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Annotated

import typer

from ovenleaf.cli.answer import AsJson, AsSentences, NewTaster, Preview, Why, say_document, say_screen
from ovenleaf.cli.asking import signed
from ovenleaf.cli.context import current

if TYPE_CHECKING:
    from collections.abc import Callable

    from ovenleaf.jobs.taste import TastingSetUp
    from ovenleaf.jobs.taste_told import TastingShown, TastingTold

_CODE = re.compile(r"[1-9]\d\d")
_DAY = re.compile(r"\d{4}-\d\d-\d\d.*")


def command(
    words: Annotated[
        list[str] | None,
        typer.Argument(metavar="[TRIAL... | CODE [MARKS] | TASTING]", help="Bakes to taste; or a three-digit code."),
    ] = None,
    tasters: Annotated[str, typer.Option(metavar="NAMES", help="Who tastes, as in noor,tomas.")] = "",
    triangle: Annotated[bool, typer.Option("--triangle", help="Only ask which of three is the odd one.")] = False,
    question: Annotated[str, typer.Option(metavar="TEXT", help="What it should find out.")] = "",
    sheet: Annotated[str, typer.Option(metavar="FILE", help="Write score sheets to print.")] = "",
    labels: Annotated[str, typer.Option(metavar="FILE", help="Write the list for whoever cuts and serves.")] = "",
    taster: Annotated[str, typer.Option(metavar="NAME", help="Whose marks these are, if not yours.")] = "",
    new_taster: NewTaster = False,
    crumb: Annotated[str, typer.Option(metavar="MARK")] = "",
    crust: Annotated[str, typer.Option(metavar="MARK")] = "",
    flavour: Annotated[str, typer.Option(metavar="MARK")] = "",
    fault: Annotated[list[str] | None, typer.Option(metavar="TEXT", help='Such as "too pale".')] = None,
    note: Annotated[str, typer.Option(metavar="TEXT")] = "",
    odd: Annotated[bool, typer.Option("--odd", help="This code is the odd one of the three.")] = False,
    absent: Annotated[str, typer.Option(metavar="NAME", help="A taster from whom nothing (more) will come.")] = "",
    open_now: Annotated[bool, typer.Option("--open", help="Open it, and leave blank marks blank.")] = False,
    why: Why = "",
    preview: Preview = False,
    as_json: AsJson = False,
    sentences: AsSentences = False,
) -> None:
    """Taste blind: set a tasting up, take marks down by code, see what came of it.

    Example: ovenleaf taste C4 C9 --tasters noor,tomas,petra
    """
    from ovenleaf.jobs import taste, taste_told

    context = current()
    typed = words or []
    name = typed[0] if typed and _DAY.fullmatch(typed[0]) else ""

    if typed and _CODE.fullmatch(typed[0]):
        options = taste_told.MarkOptions(
            crumb=crumb, crust=crust, flavour=flavour, faults=tuple(fault or ()), note=note
        )
        result = signed(
            lambda baker: taste_told.told(
                context.book,
                context.cwd,
                typed[0],
                " ".join(typed[1:]),
                options,
                odd=odd,
                taster=taster,
                why=why,
                baker=baker,
                at=context.now,
                preview=preview,
            )
        )
        _say_told(result, as_json=as_json, sentences=sentences)
    elif absent or open_now:
        result = signed(
            lambda baker: (
                taste_told.absent(
                    context.book,
                    context.cwd,
                    absent,
                    name=name,
                    why=why,
                    baker=baker,
                    at=context.now,
                    preview=preview,
                )
                if absent
                else taste_told.open_now(
                    context.book, context.cwd, name=name, baker=baker, at=context.now, preview=preview
                )
            )
        )
        _say_told(result, as_json=as_json, sentences=sentences)
    elif name or not typed:
        if sheet or labels:
            taste.check_free(context.cwd, sheet, labels)
            with_key = taste_told.labels(context.book, context.cwd, name)
            _write(with_key, sheet, labels)
            _say_shown(with_key.shown, sheet, labels, as_json=as_json, sentences=sentences)
        else:
            _say_shown(taste_told.shown(context.book, context.cwd, name), as_json=as_json, sentences=sentences)
    else:
        taste.check_free(context.cwd, sheet, labels)
        made = signed(
            lambda baker: taste.set_up(
                context.book,
                context.cwd,
                typed,
                tasters,
                triangle=triangle,
                question=question,
                new_taster=new_taster,
                permute=context.permute,
                baker=baker,
                at=context.now,
                preview=preview,
            )
        )
        if not preview:
            _write(made, sheet, labels)
        _say_set_up(made, sheet, labels, as_json=as_json, sentences=sentences)


def _write(result: TastingSetUp, sheet: str, labels: str) -> None:
    from ovenleaf.jobs.taste import write_new
    from ovenleaf.present.tasting_sheet import labels_list, score_sheets

    folder = current().cwd
    if sheet:
        write_new(folder / sheet, sheet, score_sheets(result))
    if labels:
        write_new(folder / labels, labels, labels_list(result))


def _say(shown: TastingShown, screen: Callable[[], str], *, as_json: bool, sentences: bool) -> None:
    from ovenleaf.present.documents.tasting import tasting

    if as_json:
        say_document(tasting(shown))
    else:
        say_screen(screen, sentences=sentences)


def _say_set_up(result: TastingSetUp, sheet: str, labels: str, *, as_json: bool, sentences: bool) -> None:
    from ovenleaf.present.tasting import set_up_screen

    _say(result.shown, lambda: set_up_screen(result, sheet, labels), as_json=as_json, sentences=sentences)


def _say_told(result: TastingTold, *, as_json: bool, sentences: bool) -> None:
    from ovenleaf.present.tasting import told_screen

    _say(result.shown, lambda: told_screen(result), as_json=as_json, sentences=sentences)


def _say_shown(shown: TastingShown, sheet: str = "", labels: str = "", *, as_json: bool, sentences: bool) -> None:
    from ovenleaf.present.tasting import tasting_screen

    _say(shown, lambda: tasting_screen(shown, sheet, labels), as_json=as_json, sentences=sentences)
