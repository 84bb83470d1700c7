"""Bakes that were looked for, as text: what was understood, what fits, what they have in common."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.errors import Next
from ovenleaf.present.findings import findings_block
from ovenleaf.present.formula import revision_words
from ovenleaf.present.screen import blocks, count, join_words, next_block, rows, short_date, wrap

if TYPE_CHECKING:
    from ovenleaf.compare.found import Fit
    from ovenleaf.results import Found

MOST_ROWS = 30
MOST_COMMON = 8


def found_screen(result: Found) -> str:
    """The bakes that fit, newest first."""
    asked = join_words([one.said for one in result.asked])
    number = len(result.fits)
    head = (
        f"{result.book.title}: {count(number, 'bake')} of {result.looked_at} {'fits' if number == 1 else 'fit'}."
        if number
        else f"{result.book.title}: of {count(result.looked_at, 'bake')} none fits."
        if result.looked_at
        else f"{result.book.title}: nothing is baked yet, so there is nothing to find."
    )
    shown = result.fits[:MOST_ROWS]
    left = number - len(shown)
    return blocks(
        "\n".join((wrap(head), wrap(f"Asked for: {asked}."))),
        rows([_row(fit) for fit in shown], "<<<<") if shown else "",
        wrap(f"And {count(left, 'more bake')}, older ones.") if left else "",
        _each(result),
        _common(result),
        findings_block(result.findings),
        next_block(_next(result)),
    )


def _row(fit: Fit) -> tuple[str, str, str, str]:
    trial = fit.view.trial
    which = f"{trial.formula}, {revision_words(fit.view.sheet)}"
    return trial.code, short_date(trial.bake_date), which, "; ".join(filter(None, dict.fromkeys(fit.why)))


def _each(result: Found) -> str:
    """Where nothing fits all of it: how many fit each thing alone."""
    if result.fits or len(result.asked) < 2:
        return ""
    lines = [(one.said, count(number, "bake")) for one, number in zip(result.asked, result.each, strict=True)]
    return f"Each by itself\n{rows(lines, '<<')}"


def _common(result: Found) -> str:
    """What all that fit recorded; said to be no cause."""
    if not result.common:
        return ""
    number = len(result.fits)
    head = "Recorded in both bakes" if number == 2 else f"Recorded in all {count(number, 'bake')}"
    told = rows(result.common[:MOST_COMMON], "<<")
    return f"{head}\n{told}\n{wrap('Others may have had the same; none of this is shown to be a cause.')}"


def _next(result: Found) -> tuple[Next, ...]:
    if not result.fits:
        return (Next("ovenleaf list", "what is in the book"),)
    first = result.fits[0].view.trial
    alike = [fit.view.trial for fit in result.fits if fit.view.trial.formula == first.formula]
    two = [Next(f"ovenleaf diff --trials {one.code} {first.code}", "two of them side by side") for one in alike[1:2]]
    return (Next(f"ovenleaf show {first.code}", "the newest of them" if len(result.fits) > 1 else "all of it"), *two)
