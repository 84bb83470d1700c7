"""Several doughs weighed up at once: the flour they need together, and what can be built once for all of them."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain.ingredients import Kind
from ovenleaf.domain.numbers import ZERO, share_of
from ovenleaf.domain.scaling import Bowl

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.scaling import Weight

    Dough = tuple[Bowl, ...]

ALIKE = Decimal(2)  # points of its own weight that lines of one build may differ by, which is rounding


def flours_together(doughs: Sequence[Dough], pantry: Pantry) -> tuple[tuple[str, Decimal], ...]:
    """What all the doughs together need of each flour, in g."""
    found: dict[str, Decimal] = {}
    for line in (line for dough in doughs for bowl in dough for line in bowl.lines):
        if pantry.get(line.item).kind is Kind.FLOUR:
            found[line.item] = found.get(line.item, ZERO) + line.grams
    return tuple(found.items())


def builds_together(doughs: Sequence[Dough], pantry: Pantry) -> tuple[Bowl, ...]:
    """What more than one dough takes and is made alike, each as one bowl: preferments, soakers, and ripe
    cultures, which are a bowl of one line."""
    alike: dict[str, list[Bowl]] = {}
    for dough in doughs:
        for bowl in (*dough[:-1], *_cultures(dough, pantry)):
            alike.setdefault(bowl.name, []).append(bowl)
    return tuple(
        _one(bowls) for bowls in alike.values() if len(bowls) > 1 and all(_same(bowls[0], one) for one in bowls)
    )


def _cultures(dough: Dough, pantry: Pantry) -> list[Bowl]:
    """The cultures that a dough takes from outside of its own bowls."""
    own = {bowl.name for bowl in dough}
    lines = [line for bowl in dough for line in bowl.lines if pantry.get(line.item).kind is Kind.CULTURE]
    return [Bowl(name=line.item, lines=(line,)) for line in lines if line.item not in own]


def _same(one: Bowl, other: Bowl) -> bool:
    mine, theirs = ({n.item: share_of(n.grams, bowl.total) for n in bowl.lines} for bowl in (one, other))
    return mine.keys() == theirs.keys() and all(abs(share - theirs[item]) <= ALIKE for item, share in mine.items())


def _one(bowls: Sequence[Bowl]) -> Bowl:
    first = bowls[0]
    lines = tuple(_added([n for bowl in bowls for n in bowl.lines if n.item == line.item]) for line in first.lines)
    return replace(first, lines=lines, kept=sum((bowl.kept for bowl in bowls), ZERO))


def _added(lines: Sequence[Weight]) -> Weight:
    grams, exact = (sum((getattr(line, name) for line in lines), ZERO) for name in ("grams", "exact"))
    return replace(lines[0], grams=grams, exact=exact)
