"""Revisions of one formula beside each other, with how sure that is.

Places and means are of the marks as they were given. Ranges and chances go by the same doughs with
their tasters set alike, each revision drawn towards the rest by how few doughs it has.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from ovenleaf.evidence import chances
from ovenleaf.evidence.gaps import decimal, gap, judge
from ovenleaf.evidence.ranking import by_revision, rank
from ovenleaf.evidence.scatter import scatter_for
from ovenleaf.evidence.tasters import Alike, alike
from ovenleaf.evidence.units import SCORE, doughs, mean_of
from ovenleaf.evidence.verdicts import FEW, Verdict

if TYPE_CHECKING:
    from collections.abc import Sequence
    from decimal import Decimal

    from ovenleaf.domain.trial import ScoreScale, Trial
    from ovenleaf.evidence.chances import Judgement
    from ovenleaf.evidence.gaps import Gap
    from ovenleaf.evidence.ranking import RankedRevision, Weights
    from ovenleaf.evidence.scatter import Scatter
    from ovenleaf.evidence.units import Dough


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """One revision: its row as marked, the mean that is compared, the range in which its true mean lies nine times
    in ten, and its chance to be the best, None where there is nothing to compare it with."""

    row: RankedRevision
    compared: Decimal
    low: Decimal
    high: Decimal
    chance: Decimal | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Blindness:
    """How many of the marks were given blind, knowingly, or without a word about it."""

    blind: int
    knew: int
    unsaid: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Standings:
    """All revisions of a formula that have scored doughs, by their places, and what can be said of them.

    `leader` is whether the likeliest best is the best, `first` which that is, `gap` it or the surest two of
    several doughs beside each other; None where there is but one revision. `reckoned` is the scatter in marks
    that the chances go by: what was found and what is assumed.
    """

    formula: str
    rows: tuple[Standing, ...]
    scatter: Scatter
    reckoned: Decimal
    tasters: Alike
    blind: Blindness
    first: Standing | None = None
    leader: Verdict | None = None
    gap: Gap | None = None


def standings(trials: Sequence[Trial], weights: Weights, scale: ScoreScale, others: Sequence[Dough] = ()) -> Standings:
    """The revisions of one formula. `trials` are those that can be ranked; `others` are doughs of other formulas,
    which say how doughs scatter in this book."""
    as_marked = by_revision(rank(trials, weights, scale))
    set_alike = alike(trials, weights)
    made = doughs(rank(set_alike.trials, weights, scale).rows)
    formula = trials[0].formula
    scatter = scatter_for(formula, (*made, *others), SCORE)
    compared = [mean_for(made, row.revision, SCORE) for row in as_marked]
    judged = judge(list(zip(compared, (row.doughs for row in as_marked), strict=True)), scatter, scale)
    best = chances.chances_best(judged) if len(compared) > 1 else (None,)
    rows = tuple(
        _standing(row, mean, judged, place, best[place], scale)
        for place, (row, mean) in enumerate(zip(as_marked, compared, strict=True))
    )
    found = Standings(
        formula=formula,
        rows=rows,
        scatter=scatter,
        reckoned=decimal(chances.assumed(scatter, scale.high - scale.low)),
        tasters=set_alike,
        blind=blindness(trials),
    )
    return _with_leader(found, judged) if len(rows) > 1 else found


def mean_for(made: Sequence[Dough], revision: str, what: str) -> Decimal:
    """The mean over the doughs of a revision, of which there is at least one with such a mark."""
    value = mean_of(dough.mark(what) for dough in made if dough.revision == revision)
    assert value is not None
    return value


def _standing(
    row: RankedRevision, mean: Decimal, judged: Judgement, place: int, chance: float | None, scale: ScoreScale
) -> Standing:
    low, high = chances.mean_range(judged, place)
    return Standing(
        row=row,
        compared=mean,
        low=max(decimal(low), scale.low),
        high=min(decimal(high), scale.high),
        chance=None if chance is None else decimal(chance),
    )


def _with_leader(found: Standings, judged: Judgement) -> Standings:
    """The likeliest best, and the two that are worth setting beside each other."""
    order = sorted(range(len(found.rows)), key=lambda place: -(found.rows[place].chance or 0))
    first = found.rows[order[0]]
    fewest = min(standing.row.doughs for standing in found.rows)
    several = [place for place in order if found.rows[place].row.doughs >= FEW]
    one, other = several[:2] if len(several) > 1 else order[:2]
    pair = found.rows[one], found.rows[other]
    return replace(
        found,
        first=first,
        leader=Verdict(chance=float(first.chance or 0), fewest=fewest),
        gap=gap(
            judged,
            (one, other),
            (pair[0].row.revision, pair[1].row.revision),
            pair[0].compared - pair[1].compared,
            found.reckoned,
        ),
    )


def blindness(trials: Sequence[Trial]) -> Blindness:
    """How the marks behind some trials were given."""
    said = [marks.blind for trial in trials for marks in trial.scores]
    return Blindness(blind=said.count(True), knew=said.count(False), unsaid=said.count(None))


def by_formula(trials: Sequence[Trial]) -> dict[str, list[Trial]]:
    """Trials by their formula, in their order."""
    groups: dict[str, list[Trial]] = {}
    for trial in trials:
        groups.setdefault(trial.formula, []).append(trial)
    return groups


def doughs_alike(trials: Sequence[Trial], weights: Weights, scale: ScoreScale) -> tuple[Dough, ...]:
    """The doughs behind all trials that can be ranked, each formula's tasters set alike."""
    groups = by_formula([row.trial for row in rank(trials, weights, scale).rows]).values()
    return tuple(dough for group in groups for dough in doughs(rank(alike(group, weights).trials, weights, scale).rows))


def all_standings(
    wanted: Sequence[Trial], book: Sequence[Trial], weights: Weights, scale: ScoreScale
) -> tuple[Standings, ...]:
    """The standings of each formula among the wanted trials, judged by the scatter of all trials of the book."""
    made = doughs_alike(book, weights, scale)
    ranked = by_formula([row.trial for row in rank(wanted, weights, scale).rows])
    return tuple(
        standings(trials, weights, scale, [dough for dough in made if dough.formula != formula])
        for formula, trials in sorted(ranked.items())
    )


def repeats_enough(trials: Sequence[Trial], weights: Weights, scale: ScoreScale) -> bool:
    """True where each formula among the trials has repeats enough of its own, so that the book need not be read."""
    made = doughs_alike(trials, weights, scale)
    return all(
        scatter_for(formula, [dough for dough in made if dough.formula == formula], SCORE).formula
        for formula in by_formula(trials)
    )
