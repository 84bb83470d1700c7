"""How far doughs of one and the same revision come out apart: the book's own scatter, pooled from its repeats.

Exact: sums of squares are taken about each revision's own mean in Decimals of 28 digits, so that
large figures with small differences lose nothing.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain.numbers import CONTEXT, ZERO
from ovenleaf.evidence.units import mean

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from ovenleaf.evidence.units import Dough

ENOUGH = 8  # repeats of a formula from which on the rest of the book is not asked for its scatter


@dataclass(frozen=True, slots=True, kw_only=True)
class Scatter:
    """Pooled scatter: the sum of squares about the revisions' means, in marks squared, and the number of
    repeats behind it (each dough of a revision after its first; the degrees of freedom). `formula` is the
    one it was taken from, "" where it is the whole book."""

    squares: Decimal = ZERO
    repeats: int = 0
    formula: str = ""

    @property
    def deviation(self) -> Decimal | None:
        """The pooled standard deviation in marks, None before there is a repeat."""
        return CONTEXT.sqrt(CONTEXT.divide(self.squares, Decimal(self.repeats))) if self.repeats else None


def scatter(doughs: Iterable[Dough], what: str) -> Scatter:
    """The scatter of `what` (score, crumb, crust) between doughs of the same revision, pooled over the revisions."""
    groups: dict[tuple[str, str], list[Decimal]] = {}
    for dough in doughs:
        if (value := dough.mark(what)) is not None:
            groups.setdefault((dough.formula, dough.revision), []).append(value)
    return pooled_within(tuple(groups.values()))


def pooled_within(groups: Iterable[Sequence[Decimal]]) -> Scatter:
    """Squares and repeats within groups: the residual of a one-way analysis of variance."""
    squares, repeats = ZERO, 0
    for values in groups:
        middle = mean(values)
        squares += sum(((value - middle) ** 2 for value in values), ZERO)
        repeats += len(values) - 1
    return Scatter(squares=squares, repeats=repeats)


def scatter_for(formula: str, doughs: Sequence[Dough], what: str) -> Scatter:
    """The scatter to judge a formula by: its own repeats where they are enough, else those of the whole book."""
    own = scatter((dough for dough in doughs if dough.formula == formula), what)
    if own.repeats >= ENOUGH:
        return Scatter(squares=own.squares, repeats=own.repeats, formula=formula)
    return scatter(doughs, what)
