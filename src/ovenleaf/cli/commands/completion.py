"""ovenleaf completion SHELL"""

from __future__ import annotations

from typing import Annotated

import typer

from ovenleaf.cli.answer import say
from ovenleaf.cli.completing import FIXED, SCRIPTS
from ovenleaf.cli.handler import Usage
from ovenleaf.errors import Next


def command(
    shell: Annotated[str, typer.Argument(metavar="SHELL", help="bash, zsh, fish or powershell")],
) -> None:
    """Print what lets your shell finish names when you press Tab: commands, formulas, revisions, trials, ingredients.

    Add it to what the shell reads when it starts, such as ~/.bashrc or ~/.zshrc.

    Example: ovenleaf completion bash
    """
    if shell not in SCRIPTS:
        known = FIXED["shell"]
        raise Usage(
            f"There is no completion for {shell}, only for {', '.join(known[:-1])} and {known[-1]}.",
            next=tuple(Next(f"ovenleaf completion {one}") for one in known[:2]),
        )
    say(SCRIPTS[shell].rstrip())
