"""What stands behind a revision that goes out: how often it was baked, in which size, by how many; who made it."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain.batch import flour_in_batch
from ovenleaf.domain.figures import pct
from ovenleaf.domain.numbers import HUNDRED
from ovenleaf.domain.trial import State

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from ovenleaf.domain.losses import Loss
    from ovenleaf.domain.percent import Worked
    from ovenleaf.domain.trial import Trial

NEAR = Decimal(5)  # percent of the flour by which two batches may differ and still be of one size


@dataclass(frozen=True, slots=True, kw_only=True)
class Behind:
    """Doughs of a revision that were baked to the end, and by how many people.

    `of_size` are those of the size that goes out, `no_size` those whose page does not say theirs; `sizes` is the
    flour of the others, in g. `first` and `last` are their days.
    """

    doughs: int
    bakers: int
    of_size: int
    no_size: int
    sizes: tuple[Decimal, ...] = ()
    first: str = ""
    last: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Credits:
    """Who made the formula, by name, up to this revision; and the sources it names, the nearest first."""

    by: tuple[str, ...]
    sources: tuple[str, ...] = ()


def baked(trials: Sequence[Trial], revision: str) -> tuple[Trial, ...]:
    """The trials of a revision that were baked to the end and count."""
    return tuple(one for one in trials if one.revision == revision and one.state is State.DONE and one.counts)


def doughs(done: Sequence[Trial], mixing: Mapping[str, str]) -> tuple[Trial, ...]:
    """One trial for each dough, the first of its mixing; `mixing` names the mixing of each trial, by its code."""
    return tuple({mixing[one.code]: one for one in reversed(done)}.values())[::-1]


def behind(done: Sequence[Trial], mixing: Mapping[str, str], worked: Worked, flour: Decimal) -> Behind:
    """What `done` tells of a batch with so much flour."""
    sizes = [flour_in_batch(one.batch, worked) for one in doughs(done, mixing)]
    days = sorted(one.day for one in done if one.day)
    return Behind(
        doughs=len(sizes),
        bakers=len({one.baker for one in done if one.baker}),
        of_size=sum(size is not None and alike(size, flour) for size in sizes),
        no_size=sum(size is None for size in sizes),
        sizes=tuple(sorted({size for size in sizes if size is not None and not alike(size, flour)})),
        first=days[0] if days else "",
        last=days[-1] if days else "",
    )


def leaning(found: Behind | None, loss: Loss) -> tuple[str, ...]:
    """What a page that goes out says of bakes, in words that the book keeps; None where it tells of no bakes.

    >>> from ovenleaf.domain.losses import NO_LOSS
    >>> leaning(Behind(doughs=3, bakers=2, of_size=2, no_size=0), NO_LOSS)
    ('doughs 3, of this size 2, bakers 2',)
    """
    told = [] if found is None else [f"doughs {found.doughs}, of this size {found.of_size}, bakers {found.bakers}"]
    if loss.source == "trials":
        told.append(f"bake loss {pct(loss.pct)} by {loss.bakes} bake{'' if loss.bakes == 1 else 's'}")
    return tuple(told)


def alike(one: Decimal, other: Decimal) -> bool:
    """True for two batches of one size, each by its flour in g."""
    return abs(one - other) * HUNDRED <= NEAR * max(one, other)


def usual_size(done: Sequence[Trial], mixing: Mapping[str, str], worked: Worked) -> Decimal | None:
    """The flour, in g, of the size that was mixed most often; of several, the one that was mixed last."""
    sizes = [size for one in doughs(done, mixing) if (size := flour_in_batch(one.batch, worked)) is not None]
    counted = Counter(reversed(sizes))
    return max(counted, key=lambda size: counted[size], default=None)
