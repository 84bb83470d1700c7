"""What was understood of a line at the bench, as facts for a screen; each thing that went somewhere, and where."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from datetime import datetime
    from decimal import Decimal

    from ovenleaf.domain.bench_plan import PlanStep
    from ovenleaf.domain.benchvalues import Value
    from ovenleaf.domain.durations import Duration


@dataclass(frozen=True, slots=True, kw_only=True)
class Begun:
    """A step runs. `look` is when to look at it, None where the plan gives no time; `until` the sign to look for."""

    step: PlanStep
    since: datetime
    look: datetime | None
    until: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Ended:
    """A step is over. `took` is None where its beginning was not told; `clock` is what the clock says where
    that is another than what was told."""

    step: PlanStep
    took: Duration | None
    planned: Duration | None
    clock: Duration | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class EndUnknown:
    """Work further on shows that a step is over; when it ended was not told."""

    step: PlanStep


@dataclass(frozen=True, slots=True, kw_only=True)
class Folded:
    """The dough was folded, so many times in all."""

    step: PlanStep
    folds: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """A reading. `step` is the step it is kept with, "" where it is kept among what was measured; `usual` is
    what bakers usually find, where this is far from it."""

    name: str
    value: Value
    step: str = ""
    planned: Value | None = None
    usual: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stands:
    """Something that the page has already, in other figures: the page stays, this is in the log."""

    name: str
    said: str
    stands: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Weighed:
    """What went in of one item, in g and in percent of all the flour; `instead` of what was so far.
    `pct` and `planned_pct` are None where the batch is not known."""

    item: str
    grams: Decimal
    instead: Decimal | None
    pct: Decimal | None
    planned_pct: Decimal | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """Words kept under a name: a flour's lot, the room, the batch, pieces."""

    name: str
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Bread:
    """Bread on the scale. `after` is the time since it came out; `loss` is of `dough`, in g, which `of` explains."""

    pieces: str
    weight: str
    after: Duration | None
    loss: Decimal | None
    dough: Decimal | None
    of: str = ""
    usual: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """Words, kept as such; `hint` says what would make more of them, or ""."""

    text: str
    hint: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class AsWords:
    """Something that cannot be so: kept in the log as words and not counted. `why` is a clause."""

    text: str
    why: str


Echo = Begun | Ended | EndUnknown | Folded | Measured | Stands | Weighed | Kept | Bread | Note | AsWords
