"""ovenleaf photo TRIAL FILE..."""

from __future__ import annotations

from typing import Annotated

import typer

from ovenleaf.cli.answer import Preview, say
from ovenleaf.cli.asking import signed
from ovenleaf.cli.context import current


def command(
    trial: Annotated[str, typer.Argument(metavar="TRIAL", help="Its code, such as D2; or last.")],
    files: Annotated[list[str], typer.Argument(metavar="FILE...", help="JPEG, PNG or WebP, up to 12 MB each.")],
    preview: Preview = False,
) -> None:
    """Put pictures with a bake; the place, the camera and the like are taken out of the copies.

    Example: ovenleaf photo D2 IMG_2041.jpg
    """
    from ovenleaf.jobs.photo import photo
    from ovenleaf.present.photos import photo_screen

    context = current()
    result = signed(
        lambda baker: photo(context.book, context.cwd, trial, files, baker=baker, at=context.now, preview=preview)
    )
    say(photo_screen(result))
