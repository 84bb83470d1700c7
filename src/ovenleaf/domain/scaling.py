"""From a formula to a batch: how much flour, how it is weighed on a real scale, what the rounding did.

Formulas: flour = dough / (total % / 100); piece dough = baked target / (1 - bake loss);
batch = pieces x piece dough / (1 - bench loss); losses multiply (W. Gisslen, Professional Baking).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import ROUND_HALF_UP, Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain.ingredients import Kind
from ovenleaf.domain.numbers import CONTEXT, HUNDRED, ZERO, portion, share_of
from ovenleaf.domain.percent import Share, expanded, main_flour

if TYPE_CHECKING:
    from collections.abc import Mapping

    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.percent import Worked, WorkedPart

FEW_STEPS = 10  # under ten steps of the scale a weight is off by five percent or more
FINAL = "final dough"  # what the last bowl is called

# What may be diluted where it is too little for the scale: it spreads evenly in water.
DILUTED = (Kind.YEAST, Kind.SALT)


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """What is to be made; weights in g, losses in percent. Exactly one of `pieces`, `dough`, `flour` is given.

    `each` is one piece as dough, or as baked when `baked`.
    """

    pieces: int | None = None
    each: Decimal | None = None
    baked: bool = False
    dough: Decimal | None = None
    flour: Decimal | None = None
    bench_loss: Decimal = ZERO
    bake_loss: Decimal = ZERO


@dataclass(frozen=True, slots=True, kw_only=True)
class Batch:
    """A batch, in g: its flour, all its dough, one piece of dough, and what of the dough stays on bowl and bench."""

    flour: Decimal
    dough: Decimal
    pieces: int | None
    each: Decimal | None
    lost: Decimal


class BadBatch(ValueError):
    """A batch that cannot be made. Fact: `why`, a clause."""

    def __init__(self, why: str) -> None:
        super().__init__(why)
        self.why = why


def batch(wanted: Wanted, total: Decimal) -> Batch:
    """The batch for what is wanted; `total` is all the dough in percent of the flour. Raises BadBatch.

    24 rolls of 85 g with 2 % bench loss are 2040 / 0.98 = 2081.6 g of dough. A batch by its dough or its flour
    is all the dough there is, and the bench loss comes off it.
    """
    for loss, name in ((wanted.bench_loss, "bench loss"), (wanted.bake_loss, "bake loss")):
        if not 0 <= loss < HUNDRED:
            raise BadBatch(f"a {name} of {loss} % leaves nothing" if loss >= HUNDRED else f"a {name} is zero or more")
    each = _piece(wanted)
    if each is not None and wanted.pieces is not None:
        needed = each * wanted.pieces
        dough = CONTEXT.divide(needed * HUNDRED, HUNDRED - wanted.bench_loss)
    else:
        dough = wanted.dough if wanted.dough is not None else portion(total, wanted.flour or ZERO)
        needed = portion(HUNDRED - wanted.bench_loss, dough)
    if dough <= 0:
        raise BadBatch("there must be some dough")
    flour = CONTEXT.divide(dough * HUNDRED, total)
    return Batch(flour=flour, dough=dough, pieces=wanted.pieces, each=each, lost=dough - needed)


def _piece(wanted: Wanted) -> Decimal | None:
    """One piece of dough in g, or None where no pieces are wanted."""
    if wanted.pieces is None or wanted.each is None:
        return None
    if wanted.pieces < 1 or wanted.each <= 0:
        raise BadBatch("there must be a piece at least, and it must weigh something")
    return CONTEXT.divide(wanted.each * HUNDRED, HUNDRED - wanted.bake_loss) if wanted.baked else wanted.each


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """A baker's scale: `step` is what it shows, `fine` what it (or a finer one) shows below `below`, all in g.

    `per` is what one unit on its display weighs, in g: 1, or 28.35 for a scale in ounces.
    """

    step: Decimal = Decimal(1)
    fine: Decimal = Decimal("0.1")
    below: Decimal = HUNDRED
    per: Decimal = Decimal(1)

    def step_at(self, weight: Decimal) -> Decimal:
        """The step for a weight of about `weight` g."""
        return self.fine if weight < self.below else self.step

    def rounded(self, weight: Decimal) -> Decimal:
        """`weight` as this scale can show it."""
        step = self.step_at(weight)
        return CONTEXT.divide(weight, step).quantize(Decimal(1), rounding=ROUND_HALF_UP) * step

    def two_figures(self, weight: Decimal) -> Decimal:
        """A weight too small for this scale, to two figures of its unit: 0.248 g is 0.25 g."""
        shown = CONTEXT.divide(weight, self.per)
        return shown.quantize(Decimal(1).scaleb(shown.adjusted() - 1), rounding=ROUND_HALF_UP) * self.per


@dataclass(frozen=True, slots=True, kw_only=True)
class Weight:
    """One line of a weigh-up: `exact` and `grams` (as the scale shows it), its share of all the flour.

    `few` is True where `grams` is under ten steps of the scale.
    """

    item: str
    pct: Decimal
    exact: Decimal
    grams: Decimal
    note: str = ""
    few: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Bowl:
    """One bowl: what goes in, in the order it is weighed. Its total is the sum of its lines as printed.

    `into` is the bowl it goes into ("" is the final dough); `kept` is what stays back for next time, in g.
    """

    name: str
    lines: tuple[Weight, ...]
    rest: str = ""
    into: str = ""
    kept: Decimal = ZERO

    @property
    def total(self) -> Decimal:
        """All that is in it, in g, as printed."""
        return sum((line.grams for line in self.lines), ZERO)

    @property
    def used(self) -> Decimal:
        """What of it goes on into the dough, in g."""
        return self.total - self.kept


def weigh_up(worked: Worked, flour: Decimal, scale: Scale, pantry: Pantry) -> tuple[Bowl, ...]:
    """The bowls in the order they are weighed, the final dough last, rounded for the scale.

    In each bowl water takes up the rounding, salt and yeast never do. What is kept for next time is made too.
    """
    bowls: dict[str, Bowl] = {}
    for part in worked.parts:
        bowls[part.name] = _bowl(part, flour, scale, pantry, bowls)
    final = [_weight(share, flour, scale, pantry, bowls) for share in worked.final]
    return (*bowls.values(), Bowl(name=FINAL, lines=_water_takes_up(final, scale, pantry)))


def _bowl(part: WorkedPart, flour: Decimal, scale: Scale, pantry: Pantry, made: Mapping[str, Bowl]) -> Bowl:
    lines = [_weight(share, flour, scale, pantry, made) for share in part.lines]
    kept = scale.rounded(portion(part.kept, flour)) if part.kept else ZERO
    weighed = _water_takes_up(lines, scale, pantry)
    return Bowl(name=part.name, lines=weighed, rest=part.rest, into=part.into, kept=kept)


def _weight(share: Share, flour: Decimal, scale: Scale, pantry: Pantry, made: Mapping[str, Bowl]) -> Weight:
    """One line; a bowl that goes in weighs what of it was printed, less what is kept for next time."""
    exact = portion(share.pct, flour)
    bowl = made.get(share.item)
    grams = scale.rounded(exact if bowl is None else bowl.used)
    few = bowl is None and exact < FEW_STEPS * scale.step_at(exact)
    if exact and (not grams or (few and pantry.get(share.item).kind in DILUTED)):
        grams = scale.two_figures(exact)
    return Weight(item=share.item, pct=share.pct, exact=exact, grams=grams, note=share.note, few=few)


def _water_takes_up(lines: list[Weight], scale: Scale, pantry: Pantry) -> tuple[Weight, ...]:
    """The lines with water changed by what the others were rounded, as far as its own step allows."""
    place = next((n for n, line in enumerate(lines) if pantry.get(line.item).kind is Kind.WATER), None)
    if place is None:
        return tuple(lines)
    others = sum((line.grams - line.exact for n, line in enumerate(lines) if n != place), ZERO)
    water = lines[place]
    taken_up = scale.rounded(water.exact - others)
    if taken_up <= 0:
        return tuple(lines)
    return tuple(replace(line, grams=taken_up) if n == place else line for n, line in enumerate(lines))


def as_weighed(
    bowls: tuple[Bowl, ...], pantry: Pantry, whole: tuple[Share, ...] = ()
) -> tuple[tuple[str, Decimal], ...]:
    """What the printed weights come to, item by item, in percent of all the flour that is printed.

    A culture counts as the flour and water it is made of unless the `whole` lists it under its own name;
    what is kept for next time does not count.
    """
    names = {bowl.name: bowl for bowl in bowls}
    listed = frozenset(share.item for share in whole)
    main = main_flour(whole, pantry)
    raw = _raw(bowls[-1], Decimal(1), names, listed, main, pantry)
    flour = sum((portion(pantry.get(item).flour, weight) for item, weight in raw.items()), ZERO)
    order = [*(share.item for share in whole if share.item in raw), *(item for item in raw if item not in listed)]
    return tuple((item, share_of(raw[item], flour)) for item in order)


def _raw(
    bowl: Bowl, factor: Decimal, bowls: Mapping[str, Bowl], listed: frozenset[str], main: str, pantry: Pantry
) -> dict[str, Decimal]:
    """All that is in a bowl, in g, down to what is not a bowl itself, times `factor`."""
    bowls = {name: one for name, one in bowls.items() if name != bowl.name}  # a levain is seeded with levain
    own = [Share(item=n.item, pct=n.grams * factor) for n in bowl.lines if n.item not in bowls]
    raw = expanded(own, pantry, listed, main_flour(own, pantry) or main)
    for line in bowl.lines:
        if line.item in bowls:
            inner = bowls[line.item]
            share = factor * CONTEXT.divide(line.grams, inner.total)
            for item, grams in _raw(inner, share, bowls, listed, main, pantry).items():
                raw[item] = raw.get(item, ZERO) + grams
    return raw
