"""Ranking by the scores the bakers entered. The unit is the dough; blank is never zero.

A dough's crumb is the plain mean of its tasters; score = sum of weight x mark / sum of weights.
Ties are found on unrounded values and take places 1, 1, 3 (competition ranking).
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain.numbers import CONTEXT, ZERO, rounded
from ovenleaf.domain.trial import ATTRIBUTES, Marks, ScoreScale, State, Trial
from ovenleaf.evidence.units import doughs, mean, mean_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from ovenleaf.evidence.units import Dough

EXACT = 20  # decimals; means of thirds and sevenths are exact far beyond that, and two that differ do so far before
Weights = tuple[tuple[str, Decimal], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """How one dough came out: means over its tasters, None where nobody scored; `score` by the weights."""

    crumb: Decimal | None
    crust: Decimal | None
    flavour: Decimal | None
    score: Decimal | None
    tasters: tuple[str, ...]


NOT_BAKED = Outcome(crumb=None, crust=None, flavour=None, score=None, tasters=())


@dataclass(frozen=True, slots=True, kw_only=True)
class Ranked:
    """One trial in its place."""

    place: int
    tied: bool
    trial: Trial
    outcome: Outcome


@dataclass(frozen=True, slots=True, kw_only=True)
class RankedRevision:
    """One revision in its place. `mean`, `lowest`, `highest` are over its doughs; `codes` names their trials."""

    place: int
    tied: bool
    formula: str
    revision: str
    doughs: int
    mean: Decimal
    lowest: Decimal
    highest: Decimal
    codes: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Ranking:
    """Those that could be ranked, best first, and those left out with the reason in words."""

    rows: tuple[Ranked, ...]
    left_out: tuple[tuple[Trial, str], ...]


def outcome(scores: Iterable[Marks], weights: Weights) -> Outcome:
    """What the tasters' marks come to. A weighted attribute that nobody scored leaves no score."""
    marks = tuple(scores)
    means = {name: _attribute(marks, name) for name in ATTRIBUTES}
    return Outcome(
        crumb=means["crumb"],
        crust=means["crust"],
        flavour=means["flavour"],
        score=weighted(means, weights),
        tasters=tuple(mark.taster for mark in marks if any(getattr(mark, name) is not None for name in ATTRIBUTES)),
    )


def _attribute(marks: tuple[Marks, ...], name: str) -> Decimal | None:
    return mean_of(getattr(mark, name) for mark in marks)


def weighted(means: dict[str, Decimal | None], weights: Weights) -> Decimal | None:
    """Sum of weight x mean / sum of weights, or None when one with weight is missing."""
    total = ZERO
    for name, weight in weights:
        value = means[name]
        if weight and value is None:
            return None
        total += weight * (value or ZERO)
    return CONTEXT.divide(total, sum((weight for _, weight in weights), ZERO))


_UNFINISHED = {
    State.PLANNED: "planned, not yet baked",
    State.IN_HAND: "still in hand",
    State.CUT_SHORT: "cut short",
    State.GIVEN_UP: "given up",
    State.WITHDRAWN: "withdrawn",
}


def why_left_out(trial: Trial, weights: Weights, scale: ScoreScale) -> str | None:
    """Why a trial cannot be ranked, in words, or None if it can."""
    if trial.state in _UNFINISHED:
        return f"{_UNFINISHED[trial.state]}{', ' + trial.left_out if trial.left_out else ''}"
    if trial.left_out:
        return trial.left_out
    if not trial.scores:
        return "not scored yet"
    if trial.scale is not None and trial.scale != scale:
        return f"scored on another scale, {trial.scale}"
    missing = [name for name, weight in weights if weight and _attribute(trial.scores, name) is None]
    return f"{' and '.join(missing)} not scored" if missing else None


def rank(trials: Iterable[Trial], weights: Weights, scale: ScoreScale) -> Ranking:
    """Rank single trials, best first; equal scores share a place."""
    kept: list[tuple[Trial, Outcome, Decimal]] = []
    left_out: list[tuple[Trial, str]] = []
    for trial in trials:
        result = outcome(trial.scores, weights)
        why = why_left_out(trial, weights, scale)
        if why is not None or result.score is None:
            left_out.append((trial, why or "not scored yet"))
        else:
            kept.append((trial, result, result.score))
    kept.sort(key=lambda row: (-rounded(row[2], EXACT), row[0].bake_date, row[0].name))
    places = _places([score for _, _, score in kept])
    rows = tuple(
        Ranked(place=place, tied=tied, trial=trial, outcome=result)
        for (trial, result, _), (place, tied) in zip(kept, places, strict=True)
    )
    return Ranking(rows=rows, left_out=tuple(sorted(left_out, key=lambda row: (row[0].day, row[0].name))))


def _places(scores: Sequence[Decimal]) -> list[tuple[int, bool]]:
    """Places 1, 1, 3 for scores that come best first, and whether the place is shared."""
    exact = [rounded(score, EXACT) for score in scores]
    first: dict[Decimal, int] = {}
    for place, score in enumerate(exact, start=1):
        first.setdefault(score, place)
    counts = Counter(exact)
    return [(first[score], counts[score] > 1) for score in exact]


def by_revision(ranking: Ranking) -> tuple[RankedRevision, ...]:
    """Rank revisions by the mean over their doughs; trials that share a dough count as one."""
    groups: dict[tuple[str, str], list[Dough]] = {}
    for dough in doughs(ranking.rows):
        groups.setdefault((dough.formula, dough.revision), []).append(dough)
    rows = [_revision_row(*key, made) for key, made in groups.items()]
    rows.sort(key=lambda row: (-rounded(row.mean, EXACT), row.formula, row.revision))
    return _placed(rows)


def _revision_row(formula: str, revision: str, made: list[Dough]) -> RankedRevision:
    scores = [dough.score for dough in made if dough.score is not None]
    return RankedRevision(
        place=0,
        tied=False,
        formula=formula,
        revision=revision,
        doughs=len(made),
        mean=mean(scores),
        lowest=min(scores),
        highest=max(scores),
        codes=tuple(code for dough in made for code in dough.codes),
    )


def _placed(rows: list[RankedRevision]) -> tuple[RankedRevision, ...]:
    places = _places([row.mean for row in rows])
    return tuple(replace(row, place=place, tied=tied) for row, (place, tied) in zip(rows, places, strict=True))


def pooled(trials: Iterable[Trial], weights: Weights, scale: ScoreScale) -> tuple[int, Outcome]:
    """How the doughs of several trials came out together: their number, and the means over doughs.

    Only trials that could be ranked count; tasters are combined within a dough first.
    """
    ranked = rank(trials, weights, scale).rows
    made = doughs(ranked)
    if not made:
        return 0, NOT_BAKED
    means = {name: mean_of(dough.mark(name) for dough in made) for name in ATTRIBUTES}
    tasters = sorted({name for row in ranked for name in row.outcome.tasters})
    return len(made), Outcome(**means, score=weighted(means, weights), tasters=tuple(tasters))
