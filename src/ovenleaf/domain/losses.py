"""What is lost between the bowl and the shelf, and where the figure is from."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain.measures import in_grams
from ovenleaf.domain.numbers import CONTEXT, HUNDRED, ZERO, share_of
from ovenleaf.domain.quantity import GRAMS_PER, AmountFault, Unit, amount
from ovenleaf.domain.trial import State

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ovenleaf.domain.trial import Trial


@dataclass(frozen=True, slots=True, kw_only=True)
class Loss:
    """A loss in percent, and where it is from: `given`, `formula`, `trials` (then `bakes` of them) or `none`."""

    pct: Decimal
    source: str
    bakes: int = 0


NO_LOSS = Loss(pct=ZERO, source="none")


def baked_loss(dough: Decimal, baked: Decimal) -> Decimal:
    """Bake loss in percent of the dough that went in: 100 x (dough - baked) / dough.

    1020 g of dough that come out as 884 g have lost 13.3 %.
    """
    return share_of(dough - baked, dough) if dough else ZERO


def bake_loss(trial: Trial) -> Decimal | None:
    """The bake loss of a trial that has both its weights, or None."""
    measured = dict(trial.measured)
    dough, baked = (_grams(measured.get(name, "")) for name in ("dough weight", "baked weight"))
    return baked_loss(dough, baked) if dough and baked is not None else None


def _grams(text: str) -> Decimal | None:
    try:
        read = amount(text, bare=Unit.G)
    except AmountFault:
        return None
    return in_grams(read.value, read.unit) if read.unit in GRAMS_PER else None


def measured_loss(trials: Sequence[Trial]) -> Loss | None:
    """The mean bake loss of the finished trials that have both weights, or None where there is none.

    A loaf that comes out heavier than its dough is a slip of the pen and teaches nothing.
    """
    done = [trial for trial in trials if trial.state is State.DONE]
    losses = [loss for trial in done if (loss := bake_loss(trial)) is not None and 0 < loss < HUNDRED]
    if not losses:
        return None
    return Loss(pct=CONTEXT.divide(sum(losses, ZERO), Decimal(len(losses))), source="trials", bakes=len(losses))
