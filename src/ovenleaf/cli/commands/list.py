"""ovenleaf list"""

from __future__ import annotations

from typing import Annotated

import typer

from ovenleaf.cli import remembered
from ovenleaf.cli.answer import AsJson, AsSentences, say_document, say_screen
from ovenleaf.cli.context import current
from ovenleaf.cli.zone import in_this_zone


def command(
    gaps: Annotated[
        bool, typer.Option("--gaps", help="What each bake's page lacks for repeating or comparing it.")
    ] = False,
    as_json: AsJson = False,
    sentences: AsSentences = False,
) -> None:
    """Say what is in hand and what is in the book.

    Example: ovenleaf list

    Missing: ovenleaf list --gaps
    """
    if gaps:
        _gaps(as_json=as_json, sentences=sentences)
        return
    from ovenleaf.jobs.listing import listing
    from ovenleaf.present.documents import books
    from ovenleaf.present.lists import list_screen

    context = current()
    result = listing(context.book, context.cwd, in_this_zone(context.now))
    if result.in_hand or as_json:
        remembered.leave()  # what is due, and when it was asked, is another thing a minute later
    if as_json:
        say_document(books.listing(result))
    else:
        say_screen(lambda: list_screen(result), sentences=sentences)


def _gaps(*, as_json: bool, sentences: bool) -> None:
    """What the pages of the bakes lack."""
    from ovenleaf.jobs.gaps import gaps
    from ovenleaf.present.documents import bakes
    from ovenleaf.present.gaps import gaps_screen

    context = current()
    result = gaps(context.book, context.cwd)
    if as_json:
        say_document(bakes.gaps(result))
    else:
        say_screen(lambda: gaps_screen(result), sentences=sentences)
