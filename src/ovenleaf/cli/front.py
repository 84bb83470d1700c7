"""Where the installed program begins: what must answer at once, and what was answered before, goes by without typer."""

from __future__ import annotations

import atexit
import gc
import sys
from contextlib import suppress
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ovenleaf.jobs.answers import Asked


# How many new things between two searches for such as nobody holds any more. Nearly all that a command makes it holds
# to its end, which is near: as often as Python searches of itself it finds nothing, for a tenth of the time.
_SELDOM = 200_000


def run() -> None:
    """What the installed program calls."""
    gc.set_threshold(_SELDOM)
    atexit.register(gc.freeze)  # nor is there anything to be searched for at the very end
    raise SystemExit(answer(sys.argv[1:]))


def answer(words: list[str]) -> int:
    """Runs one command line by the shortest way there is, and gives its exit code."""
    if words[:2] == ["completion", "--at"]:
        from ovenleaf.cli import completing

        completing.answer(words[1:])
        return 0
    from ovenleaf.cli import remembered

    code, question = remembered.say_again(words)
    return _worked_out(words, question) if code is None else code


def _worked_out(words: list[str], question: Asked | None) -> int:
    """Run the command, and keep its answer where it can be asked for again."""
    from ovenleaf.cli import remembered

    if words[:1] == ["combine-page"]:
        from ovenleaf.cli.combining import answer

        raise SystemExit(answer(words[1:]))
    from ovenleaf.cli.main import main

    if question is None:
        return main(words)
    remembered.listen()
    code = main(words)
    with suppress(KeyboardInterrupt):  # all is said by now; whoever does not wait for this loses nothing
        remembered.keep(question, code)
    return code
