"""Trials and revisions in their places, as text. A leader on one dough is never called a winner."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain.figures import mark, score
from ovenleaf.errors import Next
from ovenleaf.present.findings import findings_block
from ovenleaf.present.screen import blocks, count, join_words, next_block, rows, short_date, wrap
from ovenleaf.present.trial import weights_words

if TYPE_CHECKING:
    from ovenleaf.domain.trial import Trial
    from ovenleaf.evidence.ranking import Ranked, RankedRevision
    from ovenleaf.results import RankedTrials


def rank_screen(result: RankedTrials) -> str:
    """The ranking, by trial or by revision."""
    return _by_revision(result) if result.revisions is not None else _by_trial(result)


def _what(result: RankedTrials) -> str:
    names = [name.replace("-", " ") for name in result.formulas]
    return join_words(names).capitalize() if names else "All formulas"


def _aim(result: RankedTrials) -> str:
    top = f"; {result.book.scale.high} is {result.book.top}" if result.book.top else ""
    return f"Score is {weights_words(result.weights)}{top}."


def _tasters(result: RankedTrials) -> str:
    names = sorted({name for row in result.ranking.rows for name in row.outcome.tasters})
    if len(names) < 2:
        return f"One taster, {names[0]}." if names else ""
    return f"{count(len(names), 'taster').capitalize()}, {join_words(names)}, averaged within each trial."


def _by_trial(result: RankedTrials) -> str:
    rows_ = result.ranking.rows
    counted = len(rows_) + len(result.ranking.left_out)
    ranked = "" if len(rows_) == counted else f", {count(len(rows_), 'ranked', 'ranked')}"
    shown = rows_ if result.top is None else rows_[: result.top]
    table = rows([_row(result, row) for row in shown], "<<>>>", heading=("place", "trial", "crumb", "crust", "score"))
    return blocks(
        "\n".join(
            filter(
                None,
                (
                    wrap(f"{_what(result)}: {count(counted, 'trial')}{ranked}, by the scores entered."),
                    wrap(_aim(result)),
                    wrap(_tasters(result)),
                ),
            )
        ),
        table if shown else "No trial could be ranked.",
        f"  and {count(len(rows_) - len(shown), 'more', 'more')} below" if len(shown) < len(rows_) else "",
        _left_out(result),
        _single_words(result),
        findings_block(result.findings),
        next_block(_next(result)),
    )


def _row(result: RankedTrials, row: Ranked) -> tuple[str, str, str, str, str]:
    of = row.outcome
    place = f"{row.place} equal" if row.tied else str(row.place)
    assert of.score is not None
    crumb, crust = ("not scored" if value is None else mark(value) for value in (of.crumb, of.crust))
    return place, _trial_words(result, row.trial), crumb, crust, score(of.score)


def _trial_words(result: RankedTrials, trial: Trial) -> str:
    what = f"{trial.formula}, " if len(result.formulas) != 1 else ""
    return f"{trial.code}, {short_date(trial.day)}, {what}{spoken(result, trial.formula, trial.revision)}"


def spoken(result: RankedTrials, formula: str, revision: str) -> str:
    """A revision as this screen says it."""
    return dict(result.spoken).get((formula, revision), revision)


def _left_out(result: RankedTrials) -> str:
    if not result.ranking.left_out:
        return ""
    lines = [wrap(f"{_trial_words(result, trial)}: {why}", 2, hanging=2) for trial, why in result.ranking.left_out]
    return "\n".join(("Left out", *lines))


def _single_words(result: RankedTrials) -> str:
    revisions = {(row.trial.formula, row.trial.revision) for row in result.ranking.rows}
    if len(revisions) < 2 or len(result.formulas) != 1:
        return ""
    return "These are single bakes. Which revision is better is another question."


def _next(result: RankedTrials) -> tuple[Next, ...]:
    name = result.formulas[0] if len(result.formulas) == 1 else ""
    if result.revisions is not None:
        lead = result.revisions[0] if result.revisions else None
        if lead is None or lead.doughs > 1:
            return (Next(f"ovenleaf history {name or 'FORMULA'}", "what each revision changed"),)
        return (Next(f"ovenleaf record {lead.formula} {_typed(result, lead)}", "a second dough would tell most"),)
    if name:
        return (Next(f"ovenleaf rank {name} --by revision", "the doughs of each revision together"),)
    return (Next("ovenleaf rank FORMULA", "one formula alone"),)


def _typed(result: RankedTrials, row: RankedRevision) -> str:
    """A revision as it may be typed: `r5` while only one baker has that number."""
    short = row.revision.split(".")[0]
    only = spoken(result, row.formula, row.revision) == f"revision {short.removeprefix('r')}"
    return short if only else row.revision


def _by_revision(result: RankedTrials) -> str:
    revisions = result.revisions or ()
    doughs = sum(row.doughs for row in revisions)
    lines = [_revision_row(result, row) for row in revisions]
    table = rows(lines, "<<<><", heading=("place", "revision", "doughs", "mean", "lowest to highest"))
    head = f"{_what(result)}: {count(len(revisions), 'revision')}, {count(doughs, 'dough')}."
    return blocks(
        "\n".join(
            filter(None, (wrap(head), wrap(f"{_aim(result)} Averaged over the doughs."), wrap(_tasters(result))))
        ),
        table if lines else "No revision could be ranked.",
        _left_out(result),
        wrap(_lead(result, revisions)),
        findings_block(result.findings),
        next_block(_next(result)),
    )


def _revision_row(result: RankedTrials, row: RankedRevision) -> tuple[str, str, str, str, str]:
    place = f"{row.place} equal" if row.tied else str(row.place)
    what = f"{row.formula}, " if len(result.formulas) != 1 else ""
    spread = f"{score(row.low)} to {score(row.high)}" if row.doughs > 1 else f"{score(row.low)}, one dough"
    return place, f"{what}{spoken(result, row.formula, row.revision)}", str(row.doughs), score(row.mean), spread


def _lead(result: RankedTrials, revisions: tuple[RankedRevision, ...]) -> str:
    """Who is ahead, and how little that may mean."""
    if len({row.formula for row in revisions}) > 1:
        return "Each formula is scored by its own aims, so the places say nothing of one formula beside another."
    if len(revisions) < 2:
        return ""
    lead = revisions[0]
    name = spoken(result, lead.formula, lead.revision)
    if lead.tied:
        return "The first place is shared."
    if lead.doughs == 1:
        return f"Ahead so far: {name}, and no more than that, for it rests on one dough."
    second = revisions[1]
    if second.high >= lead.low:
        other = spoken(result, second.formula, second.revision)
        return (
            f"Ahead so far: {name}. Its lowest dough is not above the best of {other}, so a repeat could turn it round."
        )
    return f"Ahead so far: {name}; all {lead.doughs} of its doughs came out above those of the next."
