"""ovenleaf correct TRIAL FIELD=VALUE..."""

from __future__ import annotations

from typing import Annotated

import typer

from ovenleaf.cli.answer import Preview, Why, say
from ovenleaf.cli.asking import signed
from ovenleaf.cli.context import current


def command(
    words: Annotated[
        list[str],
        typer.Argument(
            metavar="TRIAL FIELD=VALUE...",
            help="The trial's code, and what should be what: weighed.salt=10g, measured.pieces=12,"
            " scores.noor.crumb=7, steps.bulk.time=58min, bake_date=2026-11-18, revision=r2; =none takes a value away.",
        ),
    ],
    why: Why = "",
    preview: Preview = False,
) -> None:
    """Put a bake right, with the old value kept beside the new one.

    Example: ovenleaf correct D2 weighed.salt=10g --why "misread the scale"
    """
    from ovenleaf.jobs.correct import correct
    from ovenleaf.present.correcting import corrected_screen

    context = current()
    behind = next((place for place, word in enumerate(words) if "=" in word), len(words))
    result = signed(
        lambda baker: correct(
            context.book,
            context.cwd,
            " ".join(words[:behind]),
            words[behind:],
            why=why,
            baker=baker,
            at=context.now,
            preview=preview,
        )
    )
    say(corrected_screen(result))
