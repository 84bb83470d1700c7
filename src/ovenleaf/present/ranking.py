"""Trials in their places, as text."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain.figures import mark, score
from ovenleaf.errors import Next
from ovenleaf.present.findings import findings_block
from ovenleaf.present.ranked import aim, left_out, of_other_scales, scale_words, tasters_line, trial_words, what_words
from ovenleaf.present.screen import blocks, count, next_block, rows, wrap
from ovenleaf.present.standing import standing_screen

if TYPE_CHECKING:
    from ovenleaf.evidence.ranking import Ranked
    from ovenleaf.results import RankedTrials


def rank_screen(result: RankedTrials) -> str:
    """The ranking, by trial or by revision."""
    return standing_screen(result) if result.revisions is not None else _by_trial(result)


def _by_trial(result: RankedTrials) -> str:
    rows_ = result.ranking.rows
    counted = len(rows_) + len(result.ranking.left_out)
    ranked = "" if len(rows_) == counted else f", {_ranked_words(len(rows_), counted)}"
    shown = rows_ if result.top is None else rows_[: result.top]
    table = rows([_row(result, row) for row in shown], "<<>>>", heading=("place", "trial", "crumb", "crust", "score"))
    return blocks(
        "\n".join(
            filter(
                None,
                (
                    wrap(f"{what_words(result)}: {count(counted, 'trial')}{ranked}, by the scores entered."),
                    wrap(aim(result)),
                    wrap(scale_words(result)),
                    wrap(tasters_line(result)),
                ),
            )
        ),
        table if shown else "No trial could be ranked.",
        f"  and {count(len(rows_) - len(shown), 'more', 'more')} below" if len(shown) < len(rows_) else "",
        left_out(result),
        _single_words(result),
        findings_block(result.findings),
        next_block(_next(result)),
    )


def _ranked_words(ranked: int, counted: int) -> str:
    """How many of several trials have a place, or that the only one has none."""
    if not ranked:
        return "not ranked" if counted == 1 else "none ranked"
    return count(ranked, "ranked", "ranked")


def _row(result: RankedTrials, row: Ranked) -> tuple[str, str, str, str, str]:
    of = row.outcome
    place = f"{row.place} equal" if row.tied else str(row.place)
    assert of.score is not None
    crumb, crust = ("not scored" if value is None else mark(value) for value in (of.crumb, of.crust))
    return place, trial_words(result, row.trial), crumb, crust, score(of.score)


def _single_words(result: RankedTrials) -> str:
    revisions = {(row.trial.formula, row.trial.revision) for row in result.ranking.rows}
    if len(revisions) < 2 or len(result.formulas) != 1:
        return ""
    return "These are single bakes. Which revision is better is another question."


def _next(result: RankedTrials) -> tuple[Next, ...]:
    scales = of_other_scales(result)
    trials = [row.trial for row in result.ranking.rows] or [trial for trial, _ in result.ranking.left_out]
    ranked = list(dict.fromkeys(result.formulas or [trial.formula for trial in trials]))
    if not result.ranking.rows:
        return (*scales, *(Next(f"ovenleaf history {name}", "its revisions, and their bakes") for name in ranked[:1]))
    if len(ranked) == 1:
        return (*scales, Next(f"ovenleaf rank {ranked[0]} --by revision", "the doughs of each revision together"))
    return (*scales, *(Next(f"ovenleaf rank {name}", "one formula alone") for name in ranked[:1]))
