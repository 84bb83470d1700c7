"""Figures that look like a slip of the fingers: asked about, never refused, and remembered when they were meant.

Bands are usual practice, never law (common practice, no source; the salt band starts at 1.4 % since the
UK limit of salt in bread is about 1.5 % of the flour). A dough whose name says what it is, is held
against what is usual for that; otherwise against what is usual for any bread.
"""

from __future__ import annotations

import re
from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain.batch import dough_in_batch
from ovenleaf.domain.benchvalues import Heat
from ovenleaf.domain.durations import Duration
from ovenleaf.domain.figures import pct
from ovenleaf.domain.heats import STANDING, heat_slips
from ovenleaf.domain.ingredients import Kind
from ovenleaf.domain.numbers import CONTEXT, HUNDRED, ZERO, share_of
from ovenleaf.domain.slip import Band, Slip, band

if TYPE_CHECKING:
    from collections.abc import Iterator

    from ovenleaf.domain.sheet import Sheet


SALT = band("1.4", "2.7")
SALT_ON_DOUGH = band("0.85", "1.45")
ANY_WATER = band("45", "92")
YEAST_LEAN, YEAST_RICH = band("0.02", "2.0"), band("0.1", "3.2")
# Yeast as instant, in percent, times the hours it works, counted as hours at 26 degrees.
YEAST_HOURS = band("0.25", "4.5")
WARM = Decimal(25)  # degrees C, where a step says none
SUGAR, FAT = Decimal(35), Decimal(100)

# What the name says the bread is, and how much water (in all) is usual for it.
STYLES = (
    (r"ciabatta|focaccia|pizza bianca", band("68", "92")),
    (r"bagel|pretzel|brezel", band("46", "60")),
    (r"brioche|challah|stollen|panettone|babka", band("42", "68")),
    (r"baguette", band("62", "78")),
    (r"bun|milk|sweet|enriched|toast|pan loaf|sandwich", band("52", "70")),
    (r"rye|roggen|vollkorn|whole ?grain|whole ?wheat|wholemeal", band("62", "95")),
    (r"flatbread|pita|naan|pizza", band("52", "82")),
    (r"roll|stick|plait", band("54", "73")),
    (r"levain|sourdough|country (?:loaf|bread)|hearth (?:loaf|bread)|loaf|bread", band("60", "84")),
)


def slips(sheet: Sheet, before: Sheet | None = None, why: str = "") -> tuple[Slip, ...]:
    """All that should be asked about a formula; `before` is the revision it was made from, `why` its reason."""
    return (*_absolute(sheet), *(_relative(sheet, before, why) if before is not None else ()))


def _absolute(sheet: Sheet) -> Iterator[Slip]:
    yield from _salt(sheet)
    yield from _water(sheet)
    yield from _yeast(sheet)
    yield from _rich(sheet)
    yield from _makes(sheet)
    yield from _levain(sheet)
    yield from heat_slips(sheet)


def _salt(sheet: Sheet) -> Iterator[Slip]:
    salt = sheet.totals.salt
    if not salt:
        yield Slip(about="salt", message="There is no salt in it. Was it forgotten?")
        return
    if SALT.holds(salt):
        return
    on_dough = share_of(salt, sheet.worked.total)
    if SALT_ON_DOUGH.holds(on_dough):
        return  # much of this dough is seeds, fruit or potato, and it is salted like any other
    yield Slip(
        about="salt",
        message=f"Salt is {pct(salt)} of the flour, {pct(on_dough)} of the dough; {pct(SALT.low)} to {pct(SALT.high)}"
        f" of the flour is usual.{_factor(salt, Decimal(2))}",
    )


def _factor(value: Decimal, usual: Decimal) -> str:
    """The slip that would make a usual figure into this one."""
    times = CONTEXT.divide(max(value, usual), min(value, usual))
    if 7 <= times <= 14:
        return " Did the point move?"
    if Decimal("2.5") <= times <= Decimal("3.6"):
        return " A tablespoon for a teaspoon, or the other way round?"
    return ""


def _water(sheet: Sheet) -> Iterator[Slip]:
    water = sheet.totals.all_water
    style, band = usual_water(sheet)
    if band.holds(water) or band.holds(water - _drunk_by_seeds(sheet)):
        return
    swapped = _digits_swapped(sheet.totals.water_poured)
    would = water - sheet.totals.water_poured + swapped if swapped else None
    guess = f" Was it {pct(swapped)}?" if swapped and would is not None and band.holds(would) else ""
    grams = " Were grams taken for percent?" if water > 150 else ""
    yield Slip(
        about="water",
        message=f"All water is {pct(water)} of the flour; {pct(band.low)} to {pct(band.high)} is usual"
        f"{' for ' + style if style else ''}.{guess}{grams}",
    )


def _drunk_by_seeds(sheet: Sheet) -> Decimal:
    """The water that seeds take up, about half their weight (common practice, no source)."""
    kinds = dict(sheet.kinds)
    return sum((share.pct for share in sheet.worked.whole if kinds[share.item] is Kind.SEED), ZERO) / 2


def usual_water(sheet: Sheet) -> tuple[str, Band]:
    """What is usual for a bread of that name, and the word in the name that says so; any bread otherwise."""
    name = f"{sheet.formula.name.replace('-', ' ')} {sheet.formula.title}".lower()
    for pattern, usual in STYLES:
        found = re.search(rf"\b(?:{pattern})", name)
        if found:
            return f"a {found[0]}" if found[0][0] not in "aeiou" else f"an {found[0]}", usual
    return "", ANY_WATER


def _digits_swapped(value: Decimal) -> Decimal | None:
    """72 for 27; None where swapping the two figures changes nothing."""
    text = str(int(value))
    return Decimal(text[::-1]) if len(text) == 2 and text != text[::-1] and value == int(value) else None


def _yeast(sheet: Sheet) -> Iterator[Slip]:
    yeast = sheet.totals.yeast_as_instant
    if not yeast:
        return
    rich = sheet.totals.added_sugar >= 5 or sheet.totals.fat >= 8
    band = YEAST_RICH if rich else YEAST_LEAN
    names = [item for item, kind in sheet.kinds if kind is Kind.YEAST]
    if not band.holds(yeast):
        fresh = " Is fresh yeast meant?" if yeast > band.high and not any("fresh" in name for name in names) else ""
        yield Slip(
            about="yeast",
            message=f"The yeast does the work of {pct(yeast)} instant; {pct(band.low)} to {pct(band.high)} is usual."
            f"{fresh or _factor(yeast, Decimal('0.6'))}",
        )
        return
    work = _hours_at_26(sheet)
    if work and not YEAST_HOURS.holds(yeast * work) and not any(kind is Kind.CULTURE for _, kind in sheet.kinds):
        much = "much" if yeast * work > YEAST_HOURS.high else "little"
        yield Slip(
            about="yeast",
            message=f"{pct(yeast)} yeast, as instant, is {much} for the time this dough is given. Are both as you mean"
            f" them?",
        )


def _hours_at_26(sheet: Sheet) -> Decimal:
    """The hours in which the yeast works, each counted by how warm it is (twice as fast per 9.44 degrees)."""
    hours = ZERO
    for step in sheet.formula.process:
        time, heat = step.line.get("time"), step.line.get("temperature")
        if isinstance(time, Duration) and any(
            word in step.name.lower() for word in ("bulk", "proof", "ferment", "rest")
        ):
            said = heat.temperatures[0].celsius if isinstance(heat, Heat) else WARM
            degrees = said if STANDING.holds(said) else WARM  # a slip in the heat is asked about as one
            speed = CONTEXT.power(Decimal(2), CONTEXT.divide(degrees - 26, Decimal("9.44")))
            hours += time.high / 60 * speed
    return hours


def _rich(sheet: Sheet) -> Iterator[Slip]:
    if sheet.totals.added_sugar > SUGAR:
        yield Slip(about="sugar", message=f"Sugar is {pct(sheet.totals.added_sugar)} of the flour. Is that meant?")
    if sheet.totals.fat > FAT:
        yield Slip(about="fat", message=f"Fat is {pct(sheet.totals.fat)} of the flour. Is that meant?")


def _makes(sheet: Sheet) -> Iterator[Slip]:
    """A page in measures that says what it makes: pieces times weight must be there in the dough."""
    if sheet.worked.flour_g is None or not sheet.formula.makes:
        return
    wanted = dough_in_batch(sheet.formula.makes, sheet.worked)
    have = CONTEXT.divide(sheet.worked.flour_g * sheet.worked.total, HUNDRED)
    if wanted and not Decimal("0.97") * have <= wanted * Decimal("1.0") <= Decimal("1.02") * have:
        yield Slip(
            about="makes",
            message=f"{sheet.formula.makes} want {wanted:.0f} g of dough, and the weights come to {have:.0f} g. Is it"
            f" the batch for another number of pieces?",
        )


def _levain(sheet: Sheet) -> Iterator[Slip]:
    """A part that ferments for hours and brings no flour of its own: its flour and water may be left out."""
    for part in sheet.worked.parts:
        if part.leavened and not part.flour:
            yield Slip(about=part.name, message=f"The {part.name} has no flour in it. Was its flour left out?")
    unknown = [item for item in sheet.new_items if re.search(r"starter|levain|sour|culture", item)]
    for item in unknown:
        yield Slip(
            about=item, message=f"What the {item} is made of is not known, so neither its flour nor its water count."
        )


_WATER_POINTS = Decimal(3)
_QUARTER = Decimal("0.25")


def _relative(sheet: Sheet, before: Sheet, why: str) -> Iterator[Slip]:
    """Changes that are larger than a tweak and that the reason does not mention."""
    said = why.lower()
    water, was = sheet.totals.water_poured, before.totals.water_poured
    if abs(water - was) > _WATER_POINTS and not _mentions(said, "water", "hydration", "wetter", "drier", "dry", "soft"):
        yield Slip(
            about="water change",
            message=f"Water goes from {pct(was)} to {pct(water)}, more than a tweak, and the reason does not say so.",
            relative=True,
        )
    for name, now, then, words in (
        ("salt", sheet.totals.salt, before.totals.salt, ("salt",)),
        ("yeast", sheet.totals.yeast_as_instant, before.totals.yeast_as_instant, ("yeast", "leaven", "slow", "fast")),
        (
            "prefermented flour",
            sheet.totals.prefermented_flour,
            before.totals.prefermented_flour,
            ("levain", "poolish", "biga", "sour", "prefer", "mild", "sponge"),
        ),
    ):
        if then and abs(now - then) > _QUARTER * then and not _mentions(said, *words):
            yield Slip(
                about=f"{name} change",
                message=f"{name.capitalize()} goes from {pct(then)} to {pct(now)}, by more than a quarter, and the"
                f" reason does not say so.",
                relative=True,
            )


def _mentions(said: str, *words: str) -> bool:
    return any(word in said for word in words)
