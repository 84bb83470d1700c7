"""ovenleaf list"""

from __future__ import annotations

from ovenleaf.cli.answer import AsJson, AsSentences, say_document, say_screen
from ovenleaf.cli.context import current


def command(as_json: AsJson = False, sentences: AsSentences = False) -> None:
    """Say what is in the book.

    Example: ovenleaf list
    """
    from ovenleaf.jobs.listing import listing
    from ovenleaf.present.documents import books
    from ovenleaf.present.lists import list_screen

    context = current()
    result = listing(context.book, context.cwd)
    if as_json:
        say_document(books.listing(result))
    else:
        say_screen(lambda: list_screen(result), sentences=sentences)
