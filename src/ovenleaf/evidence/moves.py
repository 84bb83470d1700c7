"""What a changed mark or a trial put aside moves: places of single bakes, and means of revisions."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.evidence.ranking import by_revision, rank

if TYPE_CHECKING:
    from collections.abc import Iterable
    from decimal import Decimal

    from ovenleaf.domain.trial import ScoreScale, Trial
    from ovenleaf.evidence.ranking import Ranked, RankedRevision, Weights


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """A place in a ranking, whether it is shared, and the score it stands on."""

    place: int
    tied: bool
    score: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """A trial (by its code) or a revision (by its name) before and after; None is left out."""

    name: str
    before: Standing | None
    after: Standing | None


def trial_moves(
    before: Iterable[Trial], after: Iterable[Trial], weights: Weights, scale: ScoreScale
) -> tuple[Move, ...]:
    """The trials of which place or score is another than before, in the order of their new places."""
    old = {row.trial.code: _standing(row) for row in rank(before, weights, scale).rows}
    new = {row.trial.code: _standing(row) for row in rank(after, weights, scale).rows}
    return _moves(old, new)


def revision_moves(
    before: Iterable[Trial], after: Iterable[Trial], weights: Weights, scale: ScoreScale
) -> tuple[Move, ...]:
    """The revisions of which place or mean is another than before, in the order of their new places."""
    old = {row.revision: _mean(row) for row in by_revision(rank(before, weights, scale))}
    new = {row.revision: _mean(row) for row in by_revision(rank(after, weights, scale))}
    return _moves(old, new)


def _standing(row: Ranked) -> Standing:
    assert row.outcome.score is not None, "what is ranked has a score"
    return Standing(place=row.place, tied=row.tied, score=row.outcome.score)


def _mean(row: RankedRevision) -> Standing:
    return Standing(place=row.place, tied=row.tied, score=row.mean)


def _moves(old: dict[str, Standing], new: dict[str, Standing]) -> tuple[Move, ...]:
    names = dict.fromkeys((*new, *old))
    found = (Move(name=name, before=old.get(name), after=new.get(name)) for name in names)
    return tuple(move for move in found if move.before != move.after)
