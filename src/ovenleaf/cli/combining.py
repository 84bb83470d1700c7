"""`ovenleaf combine-page BEFORE ONE OTHER PAGE`, as git calls it: typer is not loaded, nothing is printed."""

from __future__ import annotations

from pathlib import Path

GIVEN_UP = 1  # whoever called goes on in another way


def answer(words: list[str]) -> int:
    """The exit code: 0 where the file ONE holds the outcome now."""
    from ovenleaf.jobs.combine_page import combine_page

    if len(words) != 4:
        return GIVEN_UP
    before, one, other = map(Path, words[:3])
    try:
        return 0 if combine_page(Path.cwd(), before, one, other, words[3]) else GIVEN_UP
    except Exception:  # a fault of ours may not leave one side alone
        return GIVEN_UP
