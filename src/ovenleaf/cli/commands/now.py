"""ovenleaf, alone: what is going on."""

from __future__ import annotations

from ovenleaf.cli.answer import AsJson, AsSentences, say, say_document, say_screen
from ovenleaf.cli.context import current
from ovenleaf.cli.zone import in_this_zone


def command(as_json: AsJson = False, sentences: AsSentences = False) -> None:
    """Show what is in hand, what came last, and what is not saved.

    Outside a book it says how to begin; as JSON there is nothing to say then, and it is refused.
    """
    from ovenleaf.present.lists import now_screen, outside_screen

    context = current()
    if context.book is None and not as_json:
        say(outside_screen())
        return
    from ovenleaf.jobs.now import now

    result = now(context.book, context.cwd, in_this_zone(context.now))
    if as_json:
        from ovenleaf.present.documents import books

        say_document(books.now(result))
    else:
        say_screen(lambda: now_screen(result), sentences=sentences)
