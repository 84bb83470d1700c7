"""ovenleaf check"""

from __future__ import annotations

from typing import Annotated

import typer

from ovenleaf.cli.answer import AsJson, AsSentences, say, say_document, say_screen
from ovenleaf.cli.context import current
from ovenleaf.errors import ExitCode


def command(
    report: Annotated[bool, typer.Option("--report", help="Show the last report of a fault of ours.")] = False,
    as_json: AsJson = False,
    sentences: AsSentences = False,
) -> None:
    """Look the whole book over for mistakes. Exit code 1 if there are any.

    Example: ovenleaf check
    """
    from ovenleaf.jobs.check import check
    from ovenleaf.present import documents
    from ovenleaf.present.findings import check_screen

    context = current()
    if report:
        from ovenleaf.cli.reports import newest

        kept = newest(context.book)
        none = "No report is kept: nothing has gone wrong in ovenleaf itself."
        say(none if kept is None else f"{kept}\n\n{kept.read_text(encoding='utf-8')}")
        return
    result = check(context.book, context.cwd, context.now.date())
    if as_json:
        say_document(documents.check(result))
    else:
        say_screen(lambda: check_screen(result), sentences=sentences)
    if result.trouble:
        raise typer.Exit(ExitCode.FOUND)
