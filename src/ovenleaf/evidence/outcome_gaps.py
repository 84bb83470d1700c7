"""How two revisions, or two bakes, came out beside each other: crumb, crust and score, each with its range."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.evidence.chances import assumed
from ovenleaf.evidence.gaps import decimal, gap, judge
from ovenleaf.evidence.ranking import rank
from ovenleaf.evidence.scatter import scatter_for
from ovenleaf.evidence.standing import blindness
from ovenleaf.evidence.tasters import alike
from ovenleaf.evidence.units import SCORE, Dough, doughs, mean_of

if TYPE_CHECKING:
    from collections.abc import Sequence
    from decimal import Decimal

    from ovenleaf.domain.trial import ScoreScale, Trial
    from ovenleaf.evidence.gaps import Gap
    from ovenleaf.evidence.ranking import Weights
    from ovenleaf.evidence.scatter import Scatter
    from ovenleaf.evidence.standing import Blindness
    from ovenleaf.evidence.tasters import Alike

WHAT = ("crumb", "crust", SCORE)


@dataclass(frozen=True, slots=True, kw_only=True)
class OutcomeGaps:
    """The gaps that can be told, by what is scored; the scatter of the score and what is reckoned with; and how
    the doughs were tasted."""

    gaps: tuple[tuple[str, Gap], ...]
    scatter: Scatter
    reckoned: Decimal
    tasters: Alike
    blind: Blindness

    def gap(self, what: str) -> Gap | None:
        """The gap in crumb, crust or score, None where one side was not scored."""
        return dict(self.gaps).get(what)


def between_revisions(
    trials: Sequence[Trial],
    sides: tuple[str, str],
    weights: Weights,
    scale: ScoreScale,
    others: Sequence[Dough] = (),
) -> OutcomeGaps | None:
    """Two revisions of one formula, among all its revisions; None where one of them has no scored dough."""
    ranked = [row.trial for row in rank(trials, weights, scale).rows]
    if not set(sides) <= {trial.revision for trial in ranked}:
        return None
    set_alike = alike(ranked, weights)
    made = doughs(rank(set_alike.trials, weights, scale).rows)
    groups = {name: [dough for dough in made if dough.revision == name] for name in {d.revision for d in made}}
    of_both = [trial for trial in ranked if trial.revision in sides]
    return _gaps(groups, sides, (made, others), set_alike, blindness(of_both), scale)


def between_bakes(
    trials: Sequence[Trial],
    sides: tuple[str, str],
    weights: Weights,
    scale: ScoreScale,
    others: Sequence[Dough] = (),
) -> OutcomeGaps | None:
    """Two bakes of one formula by their codes; None where one was not scored, or where both are of one dough."""
    ranked = [row.trial for row in rank(trials, weights, scale).rows]
    set_alike = alike([trial for trial in ranked if trial.code in sides], weights)
    made = doughs(rank(alike(ranked, weights).trials, weights, scale).rows)
    pair = doughs(rank(set_alike.trials, weights, scale).rows)
    groups = {code: [dough for dough in pair if code in dough.codes] for code in sides}
    if not all(groups.values()) or any(set(sides) <= set(dough.codes) for dough in made):
        return None
    return _gaps(groups, sides, (made, others), set_alike, blindness(set_alike.trials), scale)


def _gaps(
    groups: dict[str, list[Dough]],
    sides: tuple[str, str],
    whole: tuple[Sequence[Dough], Sequence[Dough]],
    tasters: Alike,
    blind: Blindness,
    scale: ScoreScale,
) -> OutcomeGaps:
    made, others = whole
    formula = groups[sides[0]][0].formula
    scatters = {what: scatter_for(formula, (*made, *others), what) for what in WHAT}
    found = ((what, _gap(groups, sides, what, scatters[what], scale)) for what in WHAT)
    return OutcomeGaps(
        gaps=tuple((what, one) for what, one in found if one is not None),
        scatter=scatters[SCORE],
        reckoned=decimal(assumed(scatters[SCORE], scale.high - scale.low)),
        tasters=tasters,
        blind=blind,
    )


def _gap(
    groups: dict[str, list[Dough]], sides: tuple[str, str], what: str, scatter: Scatter, scale: ScoreScale
) -> Gap | None:
    means = {name: mean_of(dough.mark(what) for dough in made) for name, made in groups.items()}
    counts = {name: sum(dough.mark(what) is not None for dough in made) for name, made in groups.items()}
    known = {name: (mean, counts[name]) for name, mean in means.items() if mean is not None}
    if not set(sides) <= set(known):
        return None
    names = [*known]
    places = names.index(sides[1]), names.index(sides[0])
    return gap(
        judge([*known.values()], scatter, scale),
        places,
        (sides[1], sides[0]),
        known[sides[1]][0] - known[sides[0]][0],
        decimal(assumed(scatter, scale.high - scale.low)),
    )
