"""A batch as a home kitchen weighs it: round weights, and what the rounding does to the formula.

Steps: flour, water and whatever else is heavy to 5 g, to 1 g below 100 g and to 0.5 g below 10 g; salt to 0.5 g;
yeast to 0.1 g, to 0.05 g below 1 g (common practice, no source).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import ROUND_HALF_UP, Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain.ingredients import Kind
from ovenleaf.domain.numbers import CONTEXT, HUNDRED, ZERO
from ovenleaf.domain.scaling import Bowl, Scale, as_weighed, weigh_up

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.percent import Share, Worked
    from ovenleaf.domain.scaling import Weight

USUAL_TOLERANCE = Decimal("0.5")  # points
OF_ITSELF = Decimal(10)  # percent of its own share by which salt and yeast may move

_EXACT = Scale(step=Decimal("0.000001"), fine=Decimal("0.000001"), below=ZERO)
_LITTLE = (Kind.SALT, Kind.YEAST)
_COARSE, _FINE = Decimal(5), Decimal(1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved:
    """What rounding did to one item, in percent of all the flour: by the formula, and by the weights that are told."""

    item: str
    formula: Decimal
    page: Decimal
    too_far: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class HomeBatch:
    """The bowls in round weights, and what the rounding moved."""

    bowls: tuple[Bowl, ...]
    moved: tuple[Moved, ...]

    @property
    def too_far(self) -> tuple[Moved, ...]:
        """What moved further than it may."""
        return tuple(one for one in self.moved if one.too_far)


def home_batch(worked: Worked, flour: Decimal, tolerance: Decimal, pantry: Pantry) -> HomeBatch:
    """Weigh `flour` g of flour and all that goes with it up in round weights.

    Heavy weights are told to 5 g where that moves nothing by more than `tolerance` points, else to 1 g.
    """
    exact = weigh_up(worked, flour, _EXACT, pantry)
    coarse = _rounded(exact, worked.whole, _COARSE, tolerance, pantry)
    return _rounded(exact, worked.whole, _FINE, tolerance, pantry) if coarse.too_far else coarse


def _rounded(
    exact: Sequence[Bowl], whole: tuple[Share, ...], heavy: Decimal, tolerance: Decimal, pantry: Pantry
) -> HomeBatch:
    bowls: dict[str, Bowl] = {}
    for bowl in exact:
        lines = tuple(_line(line, bowls, heavy, pantry) for line in bowl.lines)
        bowls[bowl.name] = replace(bowl, lines=lines, kept=home_weight(bowl.kept, Kind.OTHER, heavy))
    told = tuple(bowls.values())
    page = dict(as_weighed(told, pantry, whole))
    moved = (_moved(share, page.get(share.item, ZERO), tolerance, pantry) for share in whole)
    return HomeBatch(bowls=told, moved=tuple(moved))


def _line(line: Weight, made: dict[str, Bowl], heavy: Decimal, pantry: Pantry) -> Weight:
    """A bowl that goes in weighs what of it was told; anything else is rounded by what it is."""
    if line.item in made:
        return replace(line, grams=made[line.item].used)
    return replace(line, grams=home_weight(line.exact, pantry.get(line.item).kind, heavy), few=False)


def home_weight(grams: Decimal, kind: Kind, heavy: Decimal = _COARSE) -> Decimal:
    """A weight as a home kitchen is told it, in g; never nothing where there is something.

    >>> home_weight(Decimal(288), Kind.WATER), home_weight(Decimal("3.72"), Kind.YEAST)
    (Decimal('290'), Decimal('3.7'))
    """
    step = _step(grams, kind, heavy)
    told = CONTEXT.divide(grams, step).quantize(Decimal(1), rounding=ROUND_HALF_UP) * step
    return told or grams.quantize(Decimal(1).scaleb(grams.adjusted() - 1), rounding=ROUND_HALF_UP) if grams else ZERO


def _step(grams: Decimal, kind: Kind, heavy: Decimal) -> Decimal:
    if kind is Kind.YEAST:
        return Decimal("0.1") if grams >= 1 else Decimal("0.05")
    if kind is Kind.SALT and grams >= 5:
        return Decimal("0.5")
    if grams >= HUNDRED:
        return heavy
    return _FINE if grams >= 10 else Decimal("0.5") if grams >= 5 else Decimal("0.1")


def _moved(share: Share, page: Decimal, tolerance: Decimal, pantry: Pantry) -> Moved:
    """Salt and yeast may move by a tenth of themselves, and never by more points than anything else."""
    gap = abs(page - share.pct)
    little = pantry.get(share.item).kind in _LITTLE and gap * HUNDRED > share.pct * OF_ITSELF
    return Moved(item=share.item, formula=share.pct, page=page, too_far=little or gap > tolerance)
