"""ovenleaf share"""

from __future__ import annotations

from typing import Annotated

import typer

from ovenleaf.cli.answer import say
from ovenleaf.cli.asking import signed
from ovenleaf.cli.context import current
from ovenleaf.errors import ExitCode


def command(
    at: Annotated[
        str, typer.Option("--at", metavar="ADDRESS", help="A folder, or an ssh, https or git address. Asked once.")
    ] = "",
    preview: Annotated[bool, typer.Option("--preview", help="Show what would go, and send nothing.")] = False,
    invite: Annotated[bool, typer.Option("--invite", help="A note for somebody who is to join.")] = False,
) -> None:
    """Exchange the book with your co-bakers. Exit code 4 if there is something to settle.

    Example: ovenleaf share --at /media/stick/ferry-lane
    """
    from ovenleaf.jobs import share as job
    from ovenleaf.present import sharing as screens

    context = current()
    if invite:
        say(screens.invited_screen(job.invite(context.book, context.cwd)))
        return
    result = signed(
        lambda baker: job.share(context.book, context.cwd, to=at, baker=baker, at=context.now, preview=preview)
    )
    say(screens.preview_screen(result) if preview else screens.shared_screen(result))
    if result.asked:
        raise typer.Exit(ExitCode.OPEN)
