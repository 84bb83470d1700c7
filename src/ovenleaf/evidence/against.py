"""Scores against something weighed or measured: one point a dough, and the line through them.

Tasters are combined within a bake, and bakes that share a dough are one point.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.evidence.regression import Fit, fit
from ovenleaf.evidence.units import mean

if TYPE_CHECKING:
    from collections.abc import Mapping
    from decimal import Decimal

    from ovenleaf.domain.trial import Trial
    from ovenleaf.evidence.ranking import Ranked, Ranking


@dataclass(frozen=True, slots=True, kw_only=True)
class Point:
    """One dough: its bakes, where it lies, how it came out, and whether its place is only planned."""

    trials: tuple[Trial, ...]
    value: Decimal
    score: Decimal
    source: str

    @property
    def codes(self) -> str:
        """Its bakes by their codes."""
        return " and ".join(trial.code for trial in self.trials)


@dataclass(frozen=True, slots=True, kw_only=True)
class Against:
    """Scores against `what`, by `value`. `of` is what is scored; `left_out` says why a bake has no point."""

    what: str
    unit: str
    of: str
    points: tuple[Point, ...]
    line: Fit | None
    left_out: tuple[tuple[Trial, str], ...]


def against(
    ranking: Ranking, known: Mapping[str, tuple[Decimal, str]], *, what: str, unit: str, of: str, why_not: str
) -> Against:
    """The points of all bakes that are scored and whose value is `known` (by code: value, source).

    `why_not` is said of a scored bake without a value.
    """
    doughs: dict[str, list[Ranked]] = {}
    left_out = list(ranking.left_out)
    for row in ranking.rows:
        if row.trial.code in known:
            doughs.setdefault(row.trial.dough, []).append(row)
        else:
            left_out.append((row.trial, why_not))
    points = sorted((_point(rows, known) for rows in doughs.values()), key=lambda point: (point.value, point.codes))
    return Against(
        what=what,
        unit=unit,
        of=of,
        points=tuple(points),
        line=fit([(point.value, point.score) for point in points]),
        left_out=tuple(sorted(left_out, key=lambda row: (row[0].bake_date, row[0].name))),
    )


def _point(rows: list[Ranked], known: Mapping[str, tuple[Decimal, str]]) -> Point:
    rows = sorted(rows, key=lambda row: row.trial.name)
    return Point(
        trials=tuple(row.trial for row in rows),
        value=mean([known[row.trial.code][0] for row in rows]),
        score=mean([row.outcome.score for row in rows if row.outcome.score is not None]),
        source=known[rows[0].trial.code][1],
    )
