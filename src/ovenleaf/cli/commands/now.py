"""ovenleaf, alone: what is going on."""

from __future__ import annotations

from ovenleaf.cli.answer import say
from ovenleaf.cli.context import current


def command() -> None:
    """Show what is in hand, what came last, and what is not saved."""
    from ovenleaf.present.lists import now_screen, outside_screen

    context = current()
    if context.book is None:
        say(outside_screen())
        return
    from ovenleaf.jobs.now import now

    say(now_screen(now(context.book, context.cwd, context.now)))
