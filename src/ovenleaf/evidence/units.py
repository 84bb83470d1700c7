"""The unit that evidence counts in: the dough.

Whatever is estimated takes doughs, and a dough is only ever made here: people are combined within a
trial, trials that share one mixing within a dough. So loaves, halves of a dough and tasters cannot be
counted as if they were independent.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from ovenleaf.domain.numbers import CONTEXT, ZERO
from ovenleaf.domain.trial import Marks, Trial, remarked

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence
    from decimal import Decimal

    from ovenleaf.domain.trial import ScoreScale
    from ovenleaf.evidence.ranking import Ranked

SCORE = "score"  # what is compared beside the attributes themselves


@dataclass(frozen=True, slots=True, kw_only=True)
class Dough:
    """One mixing and how it came out: marks on the book's scale, None where nobody scored. `codes` are its trials."""

    formula: str
    revision: str
    codes: tuple[str, ...]
    crumb: Decimal | None
    crust: Decimal | None
    flavour: Decimal | None
    score: Decimal | None

    def mark(self, what: str) -> Decimal | None:
        """Its crumb, crust, flavour or score."""
        value: Decimal | None = getattr(self, what)
        return value


def mean(values: Sequence[Decimal]) -> Decimal:
    """The plain mean.

    >>> from decimal import Decimal
    >>> mean((Decimal(7), Decimal(8)))
    Decimal('7.5')
    """
    return CONTEXT.divide(sum(values, ZERO), CONTEXT.create_decimal(len(values)))


def mean_of(values: Iterable[Decimal | None]) -> Decimal | None:
    """The mean of those that are there, or None."""
    known = [value for value in values if value is not None]
    return mean(known) if known else None


def doughs(rows: Iterable[Ranked]) -> tuple[Dough, ...]:
    """The doughs behind ranked trials, in their order; the trials of one mixing are averaged.

    Halves that were baked as two revisions are one dough in each, for neither can be counted twice.
    """
    ranked = tuple(rows)
    mixing = mixings(row.trial for row in ranked)
    groups: dict[tuple[str, str, str], list[Ranked]] = {}
    for row in ranked:
        key = (row.trial.formula, row.trial.revision, mixing[row.trial.code])
        groups.setdefault(key, []).append(row)
    return tuple(_dough(formula, revision, group) for (formula, revision, _), group in groups.items())


def _dough(formula: str, revision: str, group: list[Ranked]) -> Dough:
    return Dough(
        formula=formula,
        revision=revision,
        codes=tuple(row.trial.code for row in group),
        crumb=mean_of(row.outcome.crumb for row in group),
        crust=mean_of(row.outcome.crust for row in group),
        flavour=mean_of(row.outcome.flavour for row in group),
        score=mean_of(row.outcome.score for row in group),
    )


def mixings(trials: Iterable[Trial]) -> dict[str, str]:
    """The first trial of the mixing that each trial belongs to, by code; a half of a half leads to the same one."""
    shares = {trial.code: trial.shares_dough_with for trial in trials}

    def first(code: str) -> str:
        seen = {code}
        while (other := shares.get(code, "")) and other not in seen:
            seen.add(other)
            code = other
        return code

    return {code: first(code) for code in shares}


def by_person(trials: Iterable[Trial], persons: Mapping[str, str]) -> tuple[Trial, ...]:
    """The trials with people in place of handles: marks that one person gave under two handles are averaged."""
    return tuple(_by_person(trial, persons) for trial in trials) if persons else tuple(trials)


def _by_person(trial: Trial, persons: Mapping[str, str]) -> Trial:
    groups: dict[str, list[Marks]] = {}
    for marks in trial.scores:
        groups.setdefault(persons.get(marks.taster, marks.taster), []).append(marks)
    scores = tuple(_together(person, group) for person, group in groups.items())
    return replace(trial, scores=scores, baker=persons.get(trial.baker, trial.baker))


def _together(person: str, group: list[Marks]) -> Marks:
    blind = {marks.blind for marks in group}
    together = remarked(group[0], lambda name, _: mean_of(getattr(marks, name) for marks in group))
    return replace(together, taster=person, blind=blind.pop() if len(blind) == 1 else None)


def on_scale(trial: Trial, scale: ScoreScale) -> Trial:
    """The trial with its marks moved to `scale` in proportion: lowest to lowest, highest to highest."""
    old = trial.scale
    if old is None or old == scale or old.high == old.low:
        return trial

    def moved(_: str, value: Decimal | None) -> Decimal | None:
        if value is None:
            return None
        part = CONTEXT.divide(value - old.low, old.high - old.low)
        return scale.low + part * (scale.high - scale.low)

    return replace(trial, scale=scale, scores=tuple(remarked(marks, moved) for marks in trial.scores))
