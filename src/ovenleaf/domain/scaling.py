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

if TYPE_CHECKING:
    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.percent import Share, Worked

FEW_STEPS = 10  # under ten steps of the scale a weight is off by five percent or more


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
    """A batch, in g: its flour, all its dough, one piece of dough, and what stays on bowl and bench."""

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

    24 rolls of 85 g with 2 % bench loss are 2040 / 0.98 = 2081.6 g of dough.
    """
    for loss, name in ((wanted.bench_loss, "bench loss"), (wanted.bake_loss, "bake loss")):
        if not 0 <= loss < HUNDRED:
            raise BadBatch(f"a {name} of {loss} % leaves nothing" if loss >= HUNDRED else f"a {name} is zero or more")
    each = None
    if wanted.pieces is not None and wanted.each is not None:
        if wanted.pieces < 1 or wanted.each <= 0:
            raise BadBatch("there must be a piece at least, and it must weigh something")
        each = wanted.each if not wanted.baked else CONTEXT.divide(wanted.each * HUNDRED, HUNDRED - wanted.bake_loss)
        needed = each * wanted.pieces
        dough = CONTEXT.divide(needed * HUNDRED, HUNDRED - wanted.bench_loss)
    elif wanted.dough is not None:
        dough = needed = wanted.dough
    else:
        dough = needed = portion(total, wanted.flour or ZERO)
    if dough <= 0:
        raise BadBatch("there must be some dough")
    flour = CONTEXT.divide(dough * HUNDRED, total)
    return Batch(flour=flour, dough=dough, pieces=wanted.pieces, each=each, lost=dough - needed)


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """A baker's scale: `step` is what it shows, `fine` what it (or a finer one) shows below `below` g."""

    step: Decimal = Decimal(1)
    fine: Decimal = Decimal("0.1")
    below: Decimal = HUNDRED

    def step_at(self, weight: Decimal) -> Decimal:
        """The step for a weight of about `weight` g."""
        return self.fine if weight < self.below else self.step

    def rounded(self, weight: Decimal) -> Decimal:
        """`weight` as this scale can show it."""
        step = self.step_at(weight)
        return CONTEXT.divide(weight, step).quantize(Decimal(1), rounding=ROUND_HALF_UP) * step


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
    """One bowl: what goes in, in the order it is weighed. Its total is the sum of its lines as printed."""

    name: str
    lines: tuple[Weight, ...]
    rest: str = ""
    into: str = ""

    @property
    def total(self) -> Decimal:
        """All that is in it, in g, as printed."""
        return sum((line.grams for line in self.lines), ZERO)


def weigh_up(worked: Worked, flour: Decimal, scale: Scale, pantry: Pantry) -> tuple[Bowl, ...]:
    """The bowls in the order they are weighed, the final dough last, rounded for the scale.

    In each bowl water takes up the rounding, salt and yeast never do.
    """
    bowls: dict[str, Bowl] = {}
    for part in worked.parts:
        lines = [_weight(share, flour, scale, bowls) for share in part.lines]
        bowls[part.name] = Bowl(
            name=part.name, lines=_water_takes_up(lines, scale, pantry), rest=part.rest, into=part.into
        )
    final = [_weight(share, flour, scale, bowls) for share in worked.final]
    return (*bowls.values(), Bowl(name="final dough", lines=_water_takes_up(final, scale, pantry)))


def _weight(share: Share, flour: Decimal, scale: Scale, made: dict[str, Bowl]) -> Weight:
    """One line; a bowl that goes in whole weighs what it was printed to weigh."""
    exact = portion(share.pct, flour)
    grams = scale.rounded(made[share.item].total if share.item in made else exact)
    if not grams and exact:
        grams = exact.quantize(scale.fine / 10, rounding=ROUND_HALF_UP) or exact
    few = share.item not in made and exact < FEW_STEPS * scale.step_at(exact)
    shown = _fine(exact) if few else grams
    return Weight(item=share.item, pct=share.pct, exact=exact, grams=shown, note=share.note, few=few)


def _fine(exact: Decimal) -> Decimal:
    """A weight too small for the scale, to two figures: it is measured another way."""
    return CONTEXT.plus(exact).quantize(Decimal("0.01"), rounding=ROUND_HALF_UP) or exact


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


def as_weighed(bowls: tuple[Bowl, ...], pantry: Pantry) -> tuple[tuple[str, Decimal], ...]:
    """What the printed weights come to, item by item, in percent of all the flour that is printed."""
    names = {bowl.name for bowl in bowls}
    grams: dict[str, Decimal] = {}
    for bowl in bowls:
        for line in bowl.lines:
            if line.item not in names:
                grams[line.item] = grams.get(line.item, ZERO) + line.grams
    flour = sum((portion(pantry.get(item).flour, weight) for item, weight in grams.items()), ZERO)
    return tuple((item, share_of(weight, flour)) for item, weight in grams.items())


@dataclass(frozen=True, slots=True, kw_only=True)
class Dilution:
    """A weight too small for the scale, weighed as part of a stirred mixture with water. All in g."""

    bowl: str
    item: str
    exact: Decimal
    stir: Decimal  # of the item
    water: Decimal  # into so much water
    take: Decimal  # so much of the mixture goes into the bowl
    less: Decimal  # and so much less water


def dilutions(bowls: tuple[Bowl, ...], scale: Scale, pantry: Pantry) -> tuple[Dilution, ...]:
    """A dilution for each line under ten steps of the scale that dissolves in its bowl's water.

    1 part in 100 where the bowl has the water for it, otherwise 1 part in 10.
    """
    found = []
    for bowl in bowls:
        water = sum((line.grams for line in bowl.lines if pantry.get(line.item).kind is Kind.WATER), ZERO)
        for line in bowl.lines:
            if line.few and pantry.get(line.item).kind in (Kind.YEAST, Kind.SALT):
                parts = next((n for n in (100, 10) if line.exact * n < water), None)
                if parts is not None:
                    found.append(_dilution(bowl.name, line, parts, scale))
    return tuple(found)


def _dilution(bowl: str, line: Weight, parts: int, scale: Scale) -> Dilution:
    """Enough is stirred up that it can be weighed itself, and that there is enough of it to take from."""
    least = FEW_STEPS * scale.fine
    stir = max(least, scale.rounded(line.exact))
    take = scale.rounded(line.exact * parts)
    return Dilution(
        bowl=bowl,
        item=line.item,
        exact=line.exact,
        stir=stir,
        water=stir * (parts - 1),
        take=take,
        less=take,
    )
