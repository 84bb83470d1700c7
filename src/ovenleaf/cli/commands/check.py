"""ovenleaf check"""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated

import typer

from ovenleaf.cli.answer import AsJson, AsSentences, Meant, Preview, say, say_document, say_screen
from ovenleaf.cli.asking import signed
from ovenleaf.cli.context import current
from ovenleaf.errors import ExitCode


def command(
    formula: Annotated[
        str, typer.Argument(metavar="[FORMULA]", help="With --meant: the formula that is answered for.")
    ] = "",
    meant: Meant = "",
    report: Annotated[bool, typer.Option("--report", help="Show the last report of a fault of ours.")] = False,
    repair: Annotated[
        bool, typer.Option("--repair", help="Mend what can be mended first, and say what was done.")
    ] = False,
    whole: Annotated[bool, typer.Option("--whole", help="Look through the whole history too, file by file.")] = False,
    preview: Preview = False,
    as_json: AsJson = False,
    sentences: AsSentences = False,
) -> None:
    """Look the whole book over for mistakes. Exit code 1 if there are any.

    Example: ovenleaf check
    """
    from ovenleaf.jobs.check import check
    from ovenleaf.jobs.repair import repair as mend
    from ovenleaf.present.documents import books
    from ovenleaf.present.findings import check_screen

    context = current()
    if report:
        from ovenleaf.cli.reports import newest

        kept = newest(context.book)
        none = "No report is kept: nothing has gone wrong in ovenleaf itself."
        say(none if kept is None else f"{kept}\n\n{kept.read_text(encoding='utf-8')}")
        return
    if meant:
        _answer(formula, meant, preview=preview)
        return
    mended = None
    if repair:
        mended = signed(
            lambda baker: mend(context.book, context.cwd, baker=baker, at=context.now, preview=preview), mends=True
        )
    result = check(context.book, context.cwd, context.now.date(), whole=whole)
    if mended is not None:
        result = replace(result, mended=mended.done, not_mended=mended.left, repaired=True, ahead=mended.ahead)
    if as_json:
        say_document(books.check(result))
    else:
        say_screen(lambda: check_screen(result), sentences=sentences)
    if result.trouble:
        raise typer.Exit(ExitCode.FOUND)


def _answer(formula: str, meant: str, *, preview: bool) -> None:
    """Remember that what looks like a slip is meant."""
    from ovenleaf.jobs.check import answer_slips
    from ovenleaf.present.writing import answered_screen

    if not formula:
        raise typer.BadParameter("name the formula that is meant so")
    context = current()
    result = signed(
        lambda baker: answer_slips(
            context.book, context.cwd, formula, meant, baker=baker, at=context.now, preview=preview
        )
    )
    say(answered_screen(result))
