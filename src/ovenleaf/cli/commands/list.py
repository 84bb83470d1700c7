"""ovenleaf list"""

from __future__ import annotations

from ovenleaf.cli.answer import AsJson, say, say_document
from ovenleaf.cli.context import current


def command(as_json: AsJson = False) -> None:
    """Say what is in the book.

    Example: ovenleaf list
    """
    from ovenleaf.jobs.listing import listing
    from ovenleaf.present import documents
    from ovenleaf.present.lists import list_screen

    context = current()
    result = listing(context.book, context.cwd)
    if as_json:
        say_document(documents.listing(result))
    else:
        say(list_screen(result))
