"""What the pages of the bakes lack, as text: kindly, and with the easiest first step."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.errors import Next
from ovenleaf.present.findings import findings_block
from ovenleaf.present.formula import revision_words
from ovenleaf.present.screen import blocks, count, next_block, rows, short_date, wrap

if TYPE_CHECKING:
    from ovenleaf.compare.trial_view import TrialView
    from ovenleaf.results import Gaps

MOST = 12  # rows; the rest lack more, and are one command away

_KINDLY = "Nothing is wrong where something is missing; late is fine, and marked as late."


def gaps_screen(result: Gaps) -> str:
    """The trials that lack something, those that lack least first."""
    if not result.looked_at:
        return blocks(
            wrap(f"{result.book.title}: nothing is baked yet, so nothing is missing."),
            findings_block(result.findings),
            next_block((Next("ovenleaf list", "what could be baked"),)),
        )
    repeat = [view for view in result.rows if view.missing]
    compare = [view for view in result.rows if not view.missing]
    return blocks(
        wrap(_head(result)) + "\n" + wrap(_KINDLY),
        _block("To repeat it you would also want", repeat[:MOST], [", ".join(view.missing) for view in repeat]),
        _more(repeat),
        _block(
            "Can be repeated; to compare it you would also want",
            compare[:MOST],
            [", ".join(view.missing_to_compare) for view in compare],
        ),
        _more(compare),
        findings_block(result.findings),
        next_block(_next(result)),
    )


def _head(result: Gaps) -> str:
    if result.looked_at == 1:
        repeated, compared = ("can" if number else "cannot yet" for number in (result.repeatable, result.comparable))
        return f"{result.book.title}: its one bake {repeated} be repeated from its page, and {compared} be compared."
    pages = "its page" if result.repeatable == 1 else "their pages"
    return (
        f"{result.book.title}: of {count(result.looked_at, 'bake')}, {_can(result.repeatable)} be repeated from {pages}"
        f" and {_can(result.comparable)} be compared."
    )


def _can(number: int) -> str:
    return f"{count(number, 'bake').split()[0]} can" if number else "none can"


def _block(heading: str, views: list[TrialView], lacking: list[str]) -> str:
    lines = [
        (view.trial.code, short_date(view.trial.bake_date), _which(view), words)
        for view, words in zip(views, lacking, strict=False)
    ]
    return f"{heading}\n{rows(lines, '<<<<')}" if lines else ""


def _which(view: TrialView) -> str:
    return f"{view.trial.formula}, {revision_words(view.sheet)}"


def _more(views: list[TrialView]) -> str:
    left = len(views) - MOST
    return (
        wrap(f"And {count(left, 'more bake')} that {'lacks' if left == 1 else 'lack'} as much or more.")
        if left > 0
        else ""
    )


def _next(result: Gaps) -> tuple[Next, ...]:
    """The easiest first step: one line for the bake that lacks least."""
    for view in sorted(result.rows, key=lambda view: not view.missing):
        for gap in view.gaps:
            if gap.say and (gap.repeat or not view.missing):
                told = Next(f"ovenleaf jot --trial {view.trial.code} {gap.say}", f"or so: {gap.words}")
                return (told, Next(f"ovenleaf show {view.trial.code}", "what its page holds"))
    if result.rows:
        return (Next(f"ovenleaf show {result.rows[0].trial.code}", "what its page holds"),)
    return (Next("ovenleaf rank", "all bakes by their scores"),)
