"""Where the installed program begins: what must answer while a key is held down goes by without typer."""

from __future__ import annotations

import sys


def run() -> None:
    """What the installed program calls."""
    words = sys.argv[1:]
    if words[:2] == ["completion", "--at"]:
        from ovenleaf.cli.completing import answer

        answer(words[1:])
        return
    from ovenleaf.cli.main import main

    raise SystemExit(main())
