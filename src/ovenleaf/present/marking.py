"""What `mark`, `retire` and `copy` say when they are done."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain.book import KEEPER
from ovenleaf.domain.figures import score
from ovenleaf.errors import Next
from ovenleaf.present.screen import blocks, count, date_words, next_block, wrap
from ovenleaf.present.writing import ahead

if TYPE_CHECKING:
    from ovenleaf.results import Copied, Marked, Retired


def marked_screen(result: Marked) -> str:
    """A revision was marked; a keeper is what is weighed up and published from now on."""
    head = f"Marked: {result.title}, {result.spoken}, {result.mark}, {date_words(result.at)}, by {result.by}."
    means = ""
    if result.mark == KEEPER:
        means = (
            f"From now on weigh and publish take {result.spoken} unless you name another, and keeper means it wherever"
            " a revision may stand."
        )
    return blocks(
        ahead(result),
        "\n".join(filter(None, (wrap(head), wrap(f"Why: {result.why}"), wrap(means)))),
        wrap(_higher(result)),
        next_block((Next(f"ovenleaf history {result.formula}", "its revisions and their marks"),)),
    )


def _higher(result: Marked) -> str:
    row = result.higher
    if row is None:
        return ""
    name = f"{result.higher_spoken[:1].upper()}{result.higher_spoken[1:]}"
    return f"{name} stands higher, {score(row.mean)}, on {count(row.doughs, 'dough')}."


def retired_screen(result: Retired) -> str:
    """A formula was put away, or taken out again."""
    if result.back:
        head = f"Taken out again: {result.title}."
    else:
        head = f"Put away: {result.title}. Nothing of it is lost, and its bakes stay in the book."
    following = (
        Next("ovenleaf list", "the formulas in use")
        if result.back
        else Next(f'ovenleaf retire {result.formula} --back --why "..."', "take it out again")
    )
    return blocks(ahead(result), f"{wrap(head)}\n{wrap(f'Why: {result.why}')}", next_block((following,)))


def copied_screen(result: Copied) -> str:
    """A new formula was begun from another."""
    formula = result.sheet.formula
    head = f"Copied: {formula.label}, revision 1, begun from {result.source}. The two go their own ways now."
    return blocks(
        ahead(result),
        wrap(head),
        next_block(
            (
                Next(f'ovenleaf tweak {formula.name} water=+2points --why "..."', "change it"),
                Next(f"ovenleaf show {formula.name}", "what it says"),
            )
        ),
    )
