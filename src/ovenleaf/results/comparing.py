"""Revisions and bakes beside one another."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from decimal import Decimal

    from ovenleaf.compare.bakes import BakeRow
    from ovenleaf.compare.formula_diff import FormulaDiff
    from ovenleaf.compare.nearness import Apart
    from ovenleaf.compare.separating import Pair
    from ovenleaf.domain.book import BookPage
    from ovenleaf.domain.sheet import Sheet
    from ovenleaf.domain.trial import ScoreScale, Trial
    from ovenleaf.evidence.outcome_gaps import OutcomeGaps
    from ovenleaf.evidence.ranking import Outcome, RankedRevision, Ranking
    from ovenleaf.evidence.standing import Standing, Standings
    from ovenleaf.findings import Finding


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """One side of a comparison: a revision, and how its doughs came out; or one bake, `last_bake`, alone."""

    sheet: Sheet
    spoken: str
    doughs: int
    outcome: Outcome
    last_bake: Trial | None
    one_bake: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Diff:
    """Two revisions compared, older on the left. `beside` are the conditions of all doughs of both, `things` names each
    independent thing that differs; where that is more than one, `pairs` are bakes that differ in one of them alone.
    `gaps` is None where nothing can be said of how sure the outcome is."""

    before: Side
    after: Side
    diff: FormulaDiff
    bakes: tuple[BakeRow, ...]
    beside: Apart
    things: tuple[str, ...]
    pairs: tuple[Pair, ...]
    gaps: OutcomeGaps | None
    scale_top: Decimal
    top: str
    findings: tuple[Finding, ...]

    @property
    def other_scales(self) -> bool:
        """True for two bakes that were scored on two scales, so that their marks cannot be compared."""
        scales = [side.last_bake.scale for side in (self.before, self.after) if side.one_bake and side.last_bake]
        return len(set(filter(None, scales))) > 1

    @property
    def same_dough(self) -> bool:
        """True for two bakes of one dough."""
        bakes = [side.last_bake for side in (self.before, self.after) if side.one_bake and side.last_bake]
        return len(bakes) == 2 and bakes[0].dough == bakes[1].dough


@dataclass(frozen=True, slots=True, kw_only=True)
class RankedTrials:
    """Trials ranked, and by revision where it was asked for. `formulas` () is all of them; `scale` is the one that
    the ranked bakes were scored on, `converted` says that marks of other scales were moved to it."""

    formulas: tuple[str, ...]
    ranking: Ranking
    revisions: tuple[RankedRevision, ...] | None
    standings: tuple[Standings, ...]
    book: BookPage
    scale: ScoreScale
    converted: bool
    weights: tuple[tuple[str, Decimal], ...]
    top: int | None
    findings: tuple[Finding, ...]
    spoken: tuple[tuple[tuple[str, str], str], ...]

    def standing(self, row: RankedRevision) -> Standing:
        """What is known of a revision beside the others of its formula."""
        found = (s for of in self.standings if of.formula == row.formula for s in of.rows)
        return next(s for s in found if s.row.revision == row.revision)
