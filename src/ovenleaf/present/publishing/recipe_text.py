"""A recipe for readers as plain text, 80 columns wide."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.present.publishing.recipe_words import reader_page
from ovenleaf.present.screen import blocks, clean, rows, spoken, wrap

if TYPE_CHECKING:
    from ovenleaf.present.publishing.recipe_words import Table
    from ovenleaf.results.publishing import Recipe


def recipe_text(recipe: Recipe) -> str:
    """The whole page, ending in a line end."""
    page = reader_page(recipe)
    numbered = [
        wrap(f"{n}. {name}: {words}", hanging=len(f"{n}. ")) for n, (name, words) in enumerate(page.steps, start=1)
    ]
    beside = "\n".join(("Besides", *(wrap(one, 2, hanging=2) for one in page.beside))) if page.beside else ""
    with spoken(False):
        tables = [_table(table, first=not n) for n, table in enumerate(page.tables)]
    return (
        blocks(
            clean(page.title),
            wrap(" ".join(page.intro)),
            *tables,
            beside,
            "\n".join(numbered),
            "\n".join(wrap(one) for one in page.foot),
        )
        + "\n"
    )


def _table(table: Table, *, first: bool) -> str:
    heads = ("weight", "or, less exactly") if first else ("", "")
    head, _, body = rows([("", *heads), *table.lines], "<><").partition("\n")
    return "\n".join((_headed(table.heading, head), body, *(wrap(note, 2) for note in table.notes)))


def _headed(heading: str, head: str) -> str:
    """The heading at the left edge, with what heads the columns on the same line where there is room."""
    told = clean(heading)
    return told + head[len(told) :] if not head[: len(told)].strip() else f"{told}\n{head}"
