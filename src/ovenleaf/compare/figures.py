"""One bake in figures: what was weighed and measured of it, each with its unit and where it is from."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal
from enum import StrEnum
from typing import TYPE_CHECKING

from ovenleaf.compare.bakes import done, weighed
from ovenleaf.compare.formula_diff import TOTALS
from ovenleaf.domain.batch import flour_in_batch
from ovenleaf.domain.benchvalues import Heat, Pieces, Value
from ovenleaf.domain.durations import Duration
from ovenleaf.domain.edits import meant
from ovenleaf.domain.ingredients import Kind
from ovenleaf.domain.losses import bake_loss
from ovenleaf.domain.numbers import CONTEXT, HUNDRED, ZERO, portion
from ovenleaf.domain.quantity import GRAMS_PER, Amount, Temperature, Unit
from ovenleaf.domain.totals import totals

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.percent import Share, Worked
    from ovenleaf.domain.totals import Totals
    from ovenleaf.domain.trial import Trial

POURED, ALL_WATER = "water as poured", "all water"  # hydration, in its two meanings


class Source(StrEnum):
    """Where a figure of a bake is from; the words are for a screen."""

    RECORDED = "as recorded"
    CONFIRMED = "as planned, confirmed"
    PLANNED = "as planned, not confirmed"


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """One figure. `unit` is `%` (of all the flour, or of the dough for a loss), `°C`, `min`, `g` or ""."""

    value: Decimal
    unit: str
    source: Source


def figures(trial: Trial, worked: Worked, pantry: Pantry) -> dict[str, Figure]:
    """Every figure of a bake by its name: items and totals in percent of all the flour, then what was measured.

    What was not weighed stands as the formula has it, and says so; what was not measured is left out, since a plan
    for a temperature or a time is no measurement.
    """
    shares, told = _as_weighed(trial, worked, pantry)
    plan = Source.CONFIRMED if trial.as_planned else Source.PLANNED
    items = {share.item: Figure(value=share.pct, unit="%", source=told.get(share.item, plan)) for share in shares}
    measured = {c.name: figure for c in done(trial, worked, pantry) if (figure := _measured(c.value)) is not None}
    sources = {item: figure.source for item, figure in items.items()}
    return {**_totals(worked, shares, pantry, sources), **measured, **items, **_loss(trial)}


def named(typed: str, names: Iterable[str]) -> tuple[str, ...]:
    """Those of `names` that a baker may mean: a name, one of its words, or hydration for the water.

    >>> named("hydration", ("salt", "all water", "water as poured")), named("dough temp", ("dough temperature",))
    (('water as poured',), ('dough temperature',))
    """
    known = tuple(dict.fromkeys(names))
    if typed.strip().lower() == "hydration":
        return next(((water,) for water in (POURED, ALL_WATER) if water in known), ())
    return meant(typed.strip(), known)


def _as_weighed(trial: Trial, worked: Worked, pantry: Pantry) -> tuple[tuple[Share, ...], dict[str, Source]]:
    """The whole formula as it went into the bowls, and which of its items were weighed."""
    flour = flour_in_batch(trial.batch, worked) or worked.flour_g
    pcts = {share.item: share.pct for share in worked.whole}
    told: dict[str, Source] = {}
    for (name, _), row in zip(trial.weighed, weighed(trial, flour, pantry), strict=True):
        bowl, _, item = name.rpartition(":")
        if item not in pcts or not isinstance(row.value, Amount) or not row.value.is_share:
            continue
        part = worked.part(bowl)
        there = sum((line.pct for line in part.lines if line.item == item), ZERO) if part else ZERO
        pcts[item] = pcts[item] + row.value.value - there if bowl else row.value.value
        told[item] = Source.RECORDED
    flours = sum((portion(pantry.get(item).flour, pct) for item, pct in pcts.items()), ZERO)
    if not flours:
        return worked.whole, {}
    factor = CONTEXT.divide(HUNDRED, flours) if abs(flours - HUNDRED) > Decimal("0.05") else Decimal(1)
    return tuple(replace(s, pct=CONTEXT.multiply(pcts[s.item], factor)) for s in worked.whole), told


def _totals(
    worked: Worked, shares: tuple[Share, ...], pantry: Pantry, sources: Mapping[str, Source]
) -> dict[str, Figure]:
    """The totals that the bake has; each is known as well as the item that brings most of it."""
    summed = totals(replace(worked, whole=shares), pantry)
    found = {}
    for name, field in TOTALS.items():
        value: Decimal = getattr(summed, field)
        if value:
            source = sources.get(_bringer(name, summed, shares, pantry), Source.PLANNED)
            found[name] = Figure(value=value, unit="%", source=source)
    return found


_OF_KIND = {POURED: Kind.WATER, "salt": Kind.SALT, "yeast as instant": Kind.YEAST}


def _bringer(name: str, summed: Totals, shares: tuple[Share, ...], pantry: Pantry) -> str:
    """The item that brings most of a total."""
    if name in _OF_KIND:
        own = [(share.item, share.pct) for share in shares if pantry.get(share.item).kind is _OF_KIND[name]]
    else:
        own = list(getattr(summed, f"{TOTALS[name]}_from", None) or summed.all_water_from)
    return max(own, key=lambda row: row[1])[0] if own else ""


def _loss(trial: Trial) -> dict[str, Figure]:
    lost = bake_loss(trial)
    return {} if lost is None else {"bake loss": Figure(value=lost, unit="%", source=Source.RECORDED)}


def _measured(value: Value) -> Figure | None:
    """A measured value as one figure; None for words, for ranges, and for an oven that falls from heat to heat."""
    match value:
        case Temperature():
            return Figure(value=value.celsius, unit="°C", source=Source.RECORDED)
        case Heat() if len(value.temperatures) == 1:
            return Figure(value=value.temperatures[0].celsius, unit="°C", source=Source.RECORDED)
        case Duration() if value.low == value.high:
            return Figure(value=value.low, unit="min", source=Source.RECORDED)
        case Amount() if value.unit in GRAMS_PER:
            grams = CONTEXT.multiply(value.value, GRAMS_PER[value.unit])
            return Figure(value=grams, unit=str(Unit.G), source=Source.RECORDED)
        case Amount() if value.is_share:
            return Figure(value=value.value, unit="%", source=Source.RECORDED)
        case Decimal():
            return Figure(value=value, unit="", source=Source.RECORDED)
        case Pieces():
            return Figure(value=Decimal(value.count), unit="", source=Source.RECORDED)
        case _:
            return None
