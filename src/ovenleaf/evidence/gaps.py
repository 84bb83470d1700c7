"""Two revisions, or two bakes, beside each other: how far apart, how surely, and what would make it surer."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain.numbers import rounded
from ovenleaf.evidence import chances
from ovenleaf.evidence.distributions import normal_quantile
from ovenleaf.evidence.verdicts import BETTER, Verdict

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ovenleaf.domain.trial import ScoreScale
    from ovenleaf.evidence.chances import Judgement
    from ovenleaf.evidence.scatter import Scatter

_PLACES = 4
MOST_MORE = 20  # more doughs of each than that are not worth asking for


@dataclass(frozen=True, slots=True, kw_only=True)
class Gap:
    """How far one revision (or bake) stands above another: the doughs of each, `apart` between the means that are
    compared, and from where to where the true gap lies nine times in ten. `more` doughs of each would show a gap
    of that size, None where it is shown already, above MOST_MORE where that is too many."""

    above: str
    below: str
    doughs: tuple[int, int]
    apart: Decimal
    low: Decimal
    high: Decimal
    verdict: Verdict
    more: int | None


def judge(groups: Sequence[tuple[Decimal, int]], scatter: Scatter, scale: ScoreScale) -> Judgement:
    """Means and numbers of doughs judged together, with the book's scatter and the usual spread."""
    width = scale.high - scale.low
    units = [chances.Group(float(mean), number) for mean, number in groups]
    return chances.judge(units, chances.scatters(scatter, width), chances.spreads(width))


def gap(judged: Judgement, places: tuple[int, int], names: tuple[str, str], apart: Decimal, scatter: Decimal) -> Gap:
    """Two of those judged beside each other, the likelier above; `apart` is the first's mean less the second's."""
    (one, other), (name, than) = places, names
    chance = chances.chance_ahead(judged, one, other)
    if chance < 0.5:
        (one, other), (name, than), apart, chance = (other, one), (than, name), -apart, 1 - chance
    low, high = chances.gap_range(judged, one, other)
    numbers = judged.groups[one].doughs, judged.groups[other].doughs
    verdict = Verdict(chance=chance, fewest=min(numbers))
    return Gap(
        above=name,
        below=than,
        doughs=numbers,
        apart=apart,
        low=decimal(low),
        high=decimal(high),
        verdict=verdict,
        more=None if chance >= BETTER else more_doughs((low + high) / 2, float(scatter), numbers),
    )


def more_doughs(apart: float, scatter: float, numbers: tuple[int, int]) -> int:
    """How many more doughs of each would show a gap of `apart` if it is as large as it looks: the fewest for which
    apart / (scatter x sqrt(1/n + 1/m)) reaches the normal quantile of what is called better; MOST_MORE + 1 for more.

    >>> more_doughs(0.8, 0.5, (1, 1))
    3
    """
    needed = normal_quantile(BETTER)
    for more in range(1, MOST_MORE + 1):
        error = scatter * sum(1 / (number + more) for number in numbers) ** 0.5
        if apart >= needed * error:
            return more
    return MOST_MORE + 1


def decimal(value: float) -> Decimal:
    """A chance or an estimate as a Decimal, to a ten-thousandth: past what sums over points can tell."""
    return rounded(Decimal(repr(value)), _PLACES)
