"""Numbers for the sceptic: what a formula's dough and bread come to by the definitions of trade and law."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain.flour_types import FlourTypes, flour_types
from ovenleaf.domain.ingredients import Kind
from ovenleaf.domain.measures import in_grams
from ovenleaf.domain.numbers import CONTEXT, HUNDRED, ZERO, portion, share_of
from ovenleaf.domain.quantity import GRAMS_PER, MILLILITRES_PER, AmountFault, Unit, amount

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.losses import Loss
    from ovenleaf.domain.sheet import Sheet
    from ovenleaf.domain.trial import Trial

LEAST_SOLIDS = Decimal(62)  # percent, 21 CFR 136.110
USUAL_LOSSES = (Decimal(10), Decimal(15), Decimal(20))  # a typical German range is 10 to 20 %
SODIUM = Decimal("2.5")  # g of salt to the g of sodium, as an EU label counts


@dataclass(frozen=True, slots=True, kw_only=True)
class Baked:
    """The bread at one bake loss (percent): g of bread per 100 g of flour, g of salt and mg of sodium per 100 g
    of bread, and its solids in percent of it (None where not all the water in the dough is known)."""

    loss: Decimal
    bread_yield: Decimal
    salt: Decimal
    sodium_mg: Decimal
    solids: Decimal | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Volume:
    """A bread's volume that a trial measured, in ml to the g."""

    code: str
    specific: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Numbers:
    """All of it. Yields are g per 100 g of flour: `poured` counts the water that is poured, `all_water` also the
    water inside other ingredients, `gross` everything. `water_not_known` names what may hold water that no list
    knows. `loss` says where the bake loss is from; `enough_loss` is the one at which 62 % are solids."""

    poured: Decimal
    all_water: Decimal
    gross: Decimal
    loss: Loss
    baked: tuple[Baked, ...]
    enough_loss: Decimal | None
    water_not_known: tuple[str, ...]
    volumes: tuple[Volume, ...]
    flours: tuple[FlourTypes, ...]


def numbers(sheet: Sheet, loss: Loss, trials: Sequence[Trial], pantry: Pantry) -> Numbers:
    """Work them out. Dough yield is 100 x (flour + water) / flour (IREKS-Kompendium); salt per 100 g of bread is
    100 x salt / total / (1 - loss); what the oven takes is taken to be water."""
    whole = sheet.worked.whole
    unknown = tuple(one.item for one in whole if _water(one.item, pantry) is None)
    water = sum((portion(_water(one.item, pantry) or ZERO, one.pct) for one in whole), ZERO)
    solids = None if unknown else sheet.worked.total - water
    losses = USUAL_LOSSES if loss.source == "none" else (loss.pct,)
    flours = (flour_types(one.item, pantry.get(one.item)) for one in whole)
    return Numbers(
        poured=HUNDRED + sheet.totals.water_poured,
        all_water=sheet.totals.dough_yield,
        gross=sheet.worked.total,
        loss=loss,
        baked=tuple(baked(sheet.worked.total, sheet.totals.salt, solids, each) for each in losses),
        enough_loss=None if solids is None else enough_loss(sheet.worked.total, solids),
        water_not_known=unknown,
        volumes=tuple(found for trial in trials if (found := volume(trial)) is not None),
        flours=tuple(one for one in flours if one is not None),
    )


def _water(item: str, pantry: Pantry) -> Decimal | None:
    """The water in 100 g of an item, its own moisture too; None where it is not known."""
    one = pantry.get(item)
    if one.kind is Kind.WATER:
        return one.water_told
    if not one.made_of:
        return one.water
    total = sum((share for _, share in one.made_of), ZERO)  # a culture holds the moisture of its flour too
    waters = [(_water(name, pantry), share) for name, share in one.made_of if name != item]
    if any(water is None for water, _ in waters):
        return None
    return CONTEXT.divide(sum(((water or ZERO) * share for water, share in waters), ZERO), total)


def baked(total: Decimal, salt: Decimal, solids: Decimal | None, loss: Decimal) -> Baked:
    """The bread of a dough of `total` percent of the flour, of which `salt` and `solids` are likewise percent.

    Total 170.4, salt 2, loss 15 %: 144.84 g of bread to 100 g of flour, with 1.38 g of salt in 100 g of it.
    """
    bread = portion(HUNDRED - loss, total)
    in_bread = share_of(salt, bread)
    return Baked(
        loss=loss,
        bread_yield=bread,
        salt=in_bread,
        sodium_mg=CONTEXT.divide(in_bread * 1000, SODIUM),
        solids=None if solids is None else share_of(solids, bread),
    )


def enough_loss(total: Decimal, solids: Decimal) -> Decimal:
    """The bake loss in percent from which the bread holds 62 % of solids; 0 where the dough does already."""
    return max(ZERO, HUNDRED - share_of(share_of(solids, LEAST_SOLIDS), total))


def volume(trial: Trial) -> Volume | None:
    """The specific volume, ml to the g, of a trial that measured `volume` and `baked weight` of the same bread."""
    measured = dict(trial.measured)
    millilitres = _amount(measured.get("volume", ""), MILLILITRES_PER)
    grams = _amount(measured.get("baked weight", ""), GRAMS_PER)
    return (
        None if not millilitres or not grams else Volume(code=trial.code, specific=CONTEXT.divide(millilitres, grams))
    )


def _amount(text: str, units: dict[Unit, Decimal]) -> Decimal | None:
    """A measured amount in ml or g; None where it is neither."""
    try:
        read = amount(text)
    except AmountFault:
        return None
    if read.unit not in units:
        return None
    return in_grams(read.value, read.unit) if units is GRAMS_PER else read.value * units[read.unit]
