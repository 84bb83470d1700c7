"""What `weigh` is told, read and looked over: numbers with their units, losses, scales, temperatures, times."""

from __future__ import annotations

import re
from datetime import datetime
from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain import benchline
from ovenleaf.domain.benchvalues import Pieces
from ovenleaf.domain.ingredients import Kind
from ovenleaf.domain.losses import NO_LOSS, Loss, measured_loss
from ovenleaf.domain.measures import in_grams
from ovenleaf.domain.numbers import CONTEXT, HUNDRED, ZERO, NumberFault, number
from ovenleaf.domain.quantity import GRAMS_PER, Amount, AmountFault, Temperature, Unit, amount, temperature
from ovenleaf.domain.quantity import Scale as Thermometer
from ovenleaf.domain.scaling import Scale, Wanted
from ovenleaf.domain.temperature import GUESSED_WARMING, Warming, warming
from ovenleaf.errors import Refusal

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ovenleaf.domain.formula import Formula
    from ovenleaf.domain.sheet import Sheet
    from ovenleaf.domain.trial import Trial

FREEZING, BOILING = Decimal(0), Decimal(100)


class CannotWeigh(Refusal):
    """Something that `weigh` was told cannot be so. Fact: `about`."""

    def __init__(self, about: str, what: str, *detail: str) -> None:
        super().__init__(f"Not weighed up: {what}", detail=detail)
        self.about = about


def weight(about: str, typed: str) -> Decimal:
    """A weight in g: `85g`, `2 kg`, `3 oz`; a bare number is g."""
    try:
        read = amount(typed, bare=Unit.G)
    except AmountFault:
        raise CannotWeigh(about, f"{about} {typed} is not a weight.", "As in 85g, 2.5 kg or 3 oz.") from None
    if read.unit not in GRAMS_PER:
        raise CannotWeigh(about, f"{about} {typed} is not a weight.", "As in 85g, 2.5 kg or 3 oz.")
    grams = in_grams(read.value, read.unit)
    if not grams:
        raise CannotWeigh(about, f"{about} of nothing makes no bread.")
    return grams


def pieces(typed: str) -> int:
    """How many pieces; one at least."""
    if not re.fullmatch(r"[0-9]{1,6}", typed.strip()) or not int(typed):
        raise CannotWeigh("pieces", f"{typed} pieces cannot be made.", "Give a whole number, one at least, as in 24.")
    return int(typed)


def factor(typed: str) -> Decimal:
    """How many times the page's batch: `2`, `1.5`, `2x`."""
    try:
        times = number(typed.lower().removesuffix("x").strip())
    except NumberFault:
        times = ZERO
    if times <= 0:
        raise CannotWeigh("factor", f"{typed} times makes nothing.", "As in 2 or 1.5.")
    return times


def percent(about: str, typed: str) -> Decimal:
    """A loss in percent, from 0 to under 100: `12%` or `12`."""
    try:
        read = amount(typed, bare=Unit.SHARE)
    except AmountFault:
        raise CannotWeigh(about, f"a {about} of {typed} is no percentage.", "As in 12%.") from None
    if not read.is_share or not 0 <= read.value < HUNDRED:
        raise CannotWeigh(about, f"a {about} of {typed} leaves nothing.", "A loss is from 0 to under 100 %.")
    return read.value


def scale_of(typed: str, book: str = "") -> Scale:
    """A scale in words: `1g`, or `1 g, 0.1 g below 100 g`; what the option leaves out the book says."""
    usual = Scale()
    said = typed or book
    if not said:
        return usual
    found = re.fullmatch(r"(?P<step>[^,]+?)(?:,\s*(?P<fine>.+?)\s+below\s+(?P<below>.+))?", said.strip())
    if found is None:
        raise CannotWeigh("scale", f"the scale {said} cannot be read.", "As in 1g, or: 1 g, 0.1 g below 100 g.")
    step = weight("scale", found["step"])
    if not found["fine"]:
        return Scale(step=step, fine=step, below=ZERO)
    return Scale(step=step, fine=weight("scale", found["fine"]), below=weight("scale", found["below"]))


def degrees(about: str, typed: str, low: Decimal = Decimal(-30), high: Decimal = Decimal(60)) -> Decimal:
    """A temperature in degrees Celsius, with its scale: `24C`, `75F`. Refused without one, or out of reach."""
    try:
        read = temperature(typed)
    except AmountFault as fault:
        if fault.kind == "no scale":
            raise CannotWeigh(
                about, f"{about} {typed} has no scale: is it °C or °F?", f"Write {typed}C or {typed}F."
            ) from None
        raise CannotWeigh(about, f"{about} {typed} is not a temperature.", "As in 24C or 75F.") from None
    if not low <= read.celsius <= high:
        other = Temperature(read.value, _OTHER[read.scale])
        may = f" Did you mean {other}?" if low <= other.celsius <= high else ""
        raise CannotWeigh(about, f"{about} {typed} is out of reach of a kitchen.{may}")
    return read.celsius


_OTHER = {Thermometer.C: Thermometer.F, Thermometer.F: Thermometer.C}


def risen(typed: str) -> Decimal:
    """What the mixer warms by, in degrees Celsius: a difference, so 7F is 3.9."""
    try:
        read = temperature(typed)
        value, fahrenheit = read.value, read.scale.value == "F"
    except AmountFault:
        try:
            value, fahrenheit = number(typed), False
        except NumberFault:
            raise CannotWeigh("warming", f"a warming of {typed} is no number of degrees.", "As in 4C or 7F.") from None
    return CONTEXT.divide(value, Decimal("1.8")) if fahrenheit else value


def moment(about: str, typed: str, now: datetime) -> datetime:
    """A day and a clock time, on this kitchen's clock: `2026-11-29T07:00`."""
    try:
        read = datetime.fromisoformat(typed.replace(" ", "T", 1))
    except ValueError:
        raise CannotWeigh(about, f"{typed} is not a day and a time.", "As in 2026-11-29T07:00.") from None
    return read if read.tzinfo is not None else read.replace(tzinfo=now.tzinfo)


def wanted_by_page(formula: Formula) -> Wanted:
    """What the page says it makes, or 1000 g of flour where it does not say."""
    line = benchline.read(formula.makes)
    said, each = line.get("pieces"), line.get("weight")
    if isinstance(said, Pieces) and isinstance(each, Amount) and each.unit in GRAMS_PER:
        return Wanted(pieces=said.count, each=in_grams(each.value, each.unit))
    return Wanted(flour=Decimal(1000))


def loss(kind: str, typed: str, formula: Formula, trials: Sequence[Trial]) -> Loss:
    """A loss: as given, as the formula says, as its own trials measured, or none; and which of these."""
    if typed:
        return Loss(pct=percent(f"{kind} loss", typed), source="given")
    if said := dict(formula.losses).get(kind, ""):
        return Loss(pct=percent(f"{kind} loss", said), source="formula")
    measured = measured_loss(trials) if kind == "bake" else None
    return measured or NO_LOSS


def learned_warming(trials: Sequence[Trial]) -> Warming:
    """The mean warming of the bakes that recorded room, flour, water and dough; a guess where there is none."""
    found = [rise for trial in trials if (rise := _rise(trial)) is not None]
    if not found:
        return Warming(degrees=GUESSED_WARMING, source="guess")
    mean = CONTEXT.divide(sum(found, ZERO), Decimal(len(found)))
    return Warming(degrees=mean, source="learned", bakes=len(found))


def _rise(trial: Trial) -> Decimal | None:
    kitchen = dict(trial.kitchen)
    into = [_celsius(kitchen.get(name, "")) for name in ("room", "flour", "water")]
    preferment = _celsius(kitchen.get("preferment", ""))
    dough = _celsius(dict(trial.measured).get("dough temperature", ""))
    for step in trial.steps:
        said = step.line.get("dough temperature")
        dough = said.celsius if isinstance(said, Temperature) else dough
    known = [one for one in (*into, preferment) if one is not None]
    if dough is None or None in into:
        return None
    return warming(dough, tuple(known))


def _celsius(typed: str) -> Decimal | None:
    try:
        return temperature(typed).celsius
    except AmountFault:
        return None


def yeasts_of(sheet: Sheet) -> tuple[str, ...]:
    """The yeasts of a formula."""
    return tuple(item for item, kind in sheet.kinds if kind is Kind.YEAST)
