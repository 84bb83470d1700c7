"""What `weigh` is told, read and looked over: numbers with their units, losses, scales, temperatures, times."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime
from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain import benchline
from ovenleaf.domain.benchvalues import Pieces
from ovenleaf.domain.completeness import is_waiting
from ovenleaf.domain.formula import all_lines
from ovenleaf.domain.heats import shown
from ovenleaf.domain.ingredients import Kind
from ovenleaf.domain.losses import NO_LOSS, Loss, measured_loss
from ovenleaf.domain.measures import in_grams
from ovenleaf.domain.numbers import CONTEXT, HUNDRED, ZERO, NumberFault, number, plain, rounded
from ovenleaf.domain.percent import WorkedPart
from ovenleaf.domain.quantity import GRAMS_PER, Amount, AmountFault, Temperature, Unit, amount, temperature
from ovenleaf.domain.quantity import Scale as Thermometer
from ovenleaf.domain.scaling import Scale, Wanted
from ovenleaf.domain.temperature import GUESSED_WARMING, Warming, warming
from ovenleaf.errors import Refusal

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ovenleaf.domain.formula import Formula
    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.sheet import Sheet
    from ovenleaf.domain.trial import Trial


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
        raise CannotWeigh(about, f"a {about} of {typed} is nothing.", "As in 85g, 2.5 kg or 3 oz.")
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


_OUNCE = GRAMS_PER[Unit.OZ]
# A scale in ounces where none is said: such as kitchens have them (common practice, no source).
OUNCES = Scale(step=_OUNCE / 10, fine=_OUNCE / 100, below=_OUNCE * 4, per=_OUNCE)


def scale_of(typed: str, book: str = "", *, ounces: bool = False) -> Scale:
    """A scale in words: `1g`, or `1 g, 0.1 g below 100 g`; as the option says, else as the book does.

    What a book says in grams is of no use in ounces.
    """
    said = typed or ("" if ounces and not _OUNCES_SAID.search(book) else book)
    if not said:
        return OUNCES if ounces else Scale()
    found = re.fullmatch(r"(?P<step>[^,]+?)(?:,\s*(?P<fine>.+?)\s+below\s+(?P<below>.+))?", said.strip())
    if found is None:
        raise CannotWeigh("scale", f"the scale {said} cannot be read.", _SCALE_HINT)
    step = weight("scale", found["step"])
    fine = weight("scale", found["fine"]) if found["fine"] else step
    if fine > step:
        raise CannotWeigh("scale", f"the scale {said} is no finer for small weights.", _SCALE_HINT)
    below = weight("scale", found["below"]) if found["below"] else ZERO
    return Scale(step=step, fine=fine, below=below, per=_OUNCE if ounces else Decimal(1))


_SCALE_HINT = "As in 1g, or: 1 g, 0.1 g below 100 g."
_OUNCES_SAID = re.compile(r"oz|ounce|lb|pound")


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
        meant = f"Did you mean {shown(other)}? Then write {plain(other.value)}{other.scale}."
        again = meant if low <= other.celsius <= high else "Read it off again, as in 24C or 75F."
        raise CannotWeigh(about, f"{about} {shown(read)} is out of reach of a kitchen.", again)
    return read.celsius


_OTHER = {Thermometer.C: Thermometer.F, Thermometer.F: Thermometer.C}


def in_fahrenheit(typed: str) -> bool:
    """True for a temperature that was read off in °F."""
    try:
        return temperature(typed).scale is Thermometer.F
    except AmountFault:
        return False


def risen(typed: str) -> Decimal:
    """What the mixer warms by, in degrees Celsius: a difference, so 7F is 3.9."""
    try:
        read = temperature(typed)
    except AmountFault as fault:
        if fault.kind == "no scale":
            raise CannotWeigh(
                "warming", f"a warming of {typed} has no scale: is it °C or °F?", f"Write {typed}C or {typed}F."
            ) from None
        raise CannotWeigh("warming", f"a warming of {typed} is no number of degrees.", "As in 4C or 7F.") from None
    degrees = CONTEXT.divide(read.value, Decimal("1.8")) if read.scale is Thermometer.F else read.value
    if not 0 <= degrees <= MOST_WARMING:
        raise CannotWeigh("warming", f"no mixer warms a dough by {typed}.", "As in 4C or 7F.")
    return degrees


# "2 to 35 F" of allowance for the mixer in three factors (A Treatise on Baking; its author, J. E. Wihlfahrt, is from
# memory) is 12 °F a factor; twice that is out of reach.
MOST_WARMING = Decimal(14)


def moment(about: str, typed: str, now: datetime) -> datetime:
    """A day and a clock time, on this kitchen's clock: `2026-11-29T07:00`.

    `now` carries the kitchen's time zone, so that a night between in which the clocks change counts.
    """
    try:
        read = datetime.fromisoformat(typed.strip().replace(" ", "T", 1)) if _DAY_AND_TIME.match(typed) else None
    except ValueError:
        read = None
    if read is None:
        raise CannotWeigh(about, f"{typed} is not a day and a time.", "As in 2026-11-29T07:00.")
    return read.replace(tzinfo=now.tzinfo) if read.tzinfo is None else read.astimezone(now.tzinfo)


_DAY_AND_TIME = re.compile(r"\s*\d{4}-\d{2}-\d{2}[T ]\d{2}:\d{2}")


def wanted_by_page(sheet: Sheet) -> Wanted:
    """What the page says it makes, else its own weights, else 1000 g of flour."""
    line = benchline.read(sheet.formula.makes)
    said, each = line.get("pieces"), line.get("weight")
    if isinstance(said, Pieces) and isinstance(each, Amount) and each.unit in GRAMS_PER:
        return Wanted(pieces=said.count, each=in_grams(each.value, each.unit))
    return Wanted(flour=sheet.worked.flour_g or Decimal(1000))


def times_the_page(sheet: Sheet, times: Decimal) -> Wanted:
    """So many times what the page makes: whole pieces where that comes out, otherwise as much dough."""
    usual = wanted_by_page(sheet)
    if usual.pieces is None or usual.each is None:
        return replace(usual, flour=(usual.flour or ZERO) * times)
    pieces = usual.pieces * times
    if pieces % 1 == 0:
        return replace(usual, pieces=int(pieces))
    return Wanted(dough=usual.each * pieces)


def loss(kind: str, typed: str, formula: Formula, trials: Sequence[Trial]) -> Loss:
    """A loss: as given, as the formula says, as its own trials measured, or none; and which of these."""
    if typed:
        return Loss(pct=percent(f"{kind} loss", typed), source="given")
    if said := dict(formula.losses).get(kind, ""):
        return Loss(pct=percent(f"{kind} loss", said), source="formula")
    measured = measured_loss(trials) if kind == "bake" else None
    return measured or NO_LOSS


def learned_warming(formula: str, trials: Sequence[Trial]) -> Warming:
    """The mean warming of the bakes that recorded room, flour, water and dough, to a tenth of a degree.

    Learned of the mixer that this formula was last baked with, on any formula; where that is not recorded, of
    this formula's own bakes; a guess where there is neither.
    """
    own = [trial for trial in trials if trial.formula == formula]
    mixer = next((known for trial in reversed(own) if (known := mixer_of(trial))), "")
    taught = [t for t in trials if mixer_of(t) == mixer] if mixer else own
    found = [rise for trial in taught if (rise := _rise(trial)) is not None]
    if not found:
        return Warming(degrees=GUESSED_WARMING, source="guess")
    mean = CONTEXT.divide(sum(found, ZERO), Decimal(len(found)))
    return Warming(degrees=rounded(mean, 1), source="learned", bakes=len(found), mixer=mixer)


def mixer_of(trial: Trial) -> str:
    """The mixer that a trial names, or ""."""
    return dict(trial.kitchen).get("mixer", "").strip().lower()


def _rise(trial: Trial) -> Decimal | None:
    kitchen = dict(trial.kitchen)
    into = [_celsius(kitchen.get(name, "")) for name in ("room", "flour", "water")]
    preferment = _celsius(kitchen.get("preferment", ""))
    dough = _celsius(dict(trial.measured).get("dough temperature", ""))
    for step in trial.steps:
        said = None if is_waiting(step.name) else step.line.get("dough temperature")
        dough = said.celsius if isinstance(said, Temperature) else dough
    known = [one for one in (*into, preferment) if one is not None]
    if dough is None or None in into:
        return None
    rise = warming(dough, tuple(known))
    return rise if abs(rise) <= MOST_WARMING else None  # more than any mixer does is a slip of the pen


def _celsius(typed: str) -> Decimal | None:
    try:
        return temperature(typed).celsius
    except AmountFault:
        return None


def standing(sheet: Sheet, pantry: Pantry) -> tuple[WorkedPart, ...]:
    """What must be made ahead: the parts, and ripe cultures whose line says how long they stand.

    `rye sour: 40%, ripe, 14 h at 26 C` is one.
    """
    cultures = (share for share in sheet.worked.final if pantry.get(share.item).kind is Kind.CULTURE and share.note)
    ahead = (
        WorkedPart(name=one.item, leavened=True, flour=ZERO, water=ZERO, lines=(), rest=one.note) for one in cultures
    )
    return (*sheet.worked.parts, *ahead)


def raised_by_yeast_alone(sheet: Sheet, pantry: Pantry) -> bool:
    """True for a yeast dough: no culture in any bowl, whose time no rule of thumb knows."""
    kinds = {pantry.get(line.item).kind for _, line in all_lines(sheet.formula)}
    named = {pantry.get(part.name).kind for part in sheet.worked.parts}
    return Kind.YEAST in kinds and Kind.CULTURE not in kinds | named
