"""Which bakes could tell two changes apart: pairs of doughs of a formula that differ in one thing only."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING

from ovenleaf.compare.bakes import condition_name
from ovenleaf.compare.nearness import apart
from ovenleaf.domain.figures import pct

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from decimal import Decimal

    from ovenleaf.compare.bakes import Condition
    from ovenleaf.compare.formula_diff import FormulaDiff
    from ovenleaf.compare.revisions import Revisions
    from ovenleaf.domain.trial import Trial

LOOKED_AT = 60  # the latest bakes: 1,770 pairs, more than which nobody waits for


@dataclass(frozen=True, slots=True, kw_only=True)
class Bake:
    """One scored bake: its trial, the dough it is of, what was recorded, how it came out."""

    trial: Trial
    dough: str
    conditions: tuple[Condition, ...]
    crumb: Decimal | None
    crust: Decimal | None
    score: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Pair:
    """Two bakes that differ in `thing` alone, the earlier first: its `values` in words, "" where they are not known
    in one figure; `unsaid` is the number of conditions that only one of them recorded."""

    thing: str
    before: Bake
    after: Bake
    unsaid: int
    values: tuple[str, str]

    @property
    def revisions(self) -> frozenset[str]:
        """Which revisions the two are of."""
        return frozenset((self.before.trial.revision, self.after.trial.revision))


def planned_so(diff: FormulaDiff) -> frozenset[str]:
    """Conditions of a bake that the formula itself changes: a longer bulk that was planned is one change, not two."""
    rows = (*diff.process, *diff.said)
    return frozenset(condition_name(row.step, "time" if row.field == "rest" else row.field) for row in rows)


def independent(diff: FormulaDiff, conditions: Sequence[str]) -> tuple[str, ...]:
    """Each thing that differs, once: the formula's changes, and conditions that these do not bring with them."""
    told = {*diff.differing, *planned_so(diff)}
    return (*diff.differing, *(name for name in conditions if name not in told))


def separating(
    bakes: Sequence[Bake], things: Sequence[str], sides: frozenset[str], revisions: Revisions
) -> tuple[Pair, ...]:
    """For each thing the pair that differs in it alone, if there is one.

    Of several that of the very revisions in question (`sides`), then that with the least left unsaid, then the
    latest. `bakes` are of one formula, oldest first.
    """
    found = [*_pairs(bakes[-LOOKED_AT:], frozenset(things), revisions)]
    return tuple(
        min(of, key=lambda pair: (pair.revisions != sides, pair.unsaid, -bakes.index(pair.after)))
        for thing in things
        if (of := [pair for pair in found if pair.thing == thing])
    )


def _pairs(bakes: Sequence[Bake], things: frozenset[str], revisions: Revisions) -> Iterator[Pair]:
    for before, after in combinations(bakes, 2):
        if before.dough == after.dough:
            continue
        diff = revisions.between(*((bake.trial.formula, bake.trial.revision) for bake in (before, after)))
        if len(diff.differing) > 1 or not things.issuperset(diff.differing):
            continue
        beside = apart([before.conditions], [after.conditions])
        differing = independent(diff, beside.differ)
        if len(differing) == 1 and differing[0] in things:
            values = _values(differing[0], diff, before, after)
            yield Pair(thing=differing[0], before=before, after=after, unsaid=len(beside.one_sided), values=values)


def _values(thing: str, diff: FormulaDiff, before: Bake, after: Bake) -> tuple[str, str]:
    """What the thing was on either side: the share in the formula, or the words of the condition."""
    for row in diff.items:
        if row.stage is None and row.item == thing:
            return ("none" if row.before is None else pct(row.before)), (
                "none" if row.after is None else pct(row.after)
            )
    left, right = ({c.name: c.text for c in bake.conditions} for bake in (before, after))
    return left.get(thing, ""), right.get(thing, "")
