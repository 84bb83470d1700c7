"""Amounts as a baker writes them: shares, weights, volumes, pieces, temperatures, durations."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from ovenleaf.domain.numbers import NUMBER, NumberFault, number, plain


class Unit(StrEnum):
    """Units an amount may have; each is written as on the page."""

    SHARE = "%"
    G = "g"
    KG = "kg"
    OZ = "oz"
    LB = "lb"
    ML = "ml"
    L = "l"
    TSP = "tsp"
    TBSP = "tbsp"
    CUP = "cup"
    PIECE = "pc"


# Exact by definition: the international pound, and the US cup from a gallon of 231 cubic inches.
GRAMS_PER = {
    Unit.G: Decimal(1),
    Unit.KG: Decimal(1000),
    Unit.OZ: Decimal("28.349523125"),
    Unit.LB: Decimal("453.59237"),
}
MILLILITRES_PER = {
    Unit.ML: Decimal(1),
    Unit.L: Decimal(1000),
    Unit.TSP: Decimal("4.92892159375"),
    Unit.TBSP: Decimal("14.78676478125"),
    Unit.CUP: Decimal("236.5882365"),
}
_SPELLINGS = {
    "percent": Unit.SHARE,
    "per cent": Unit.SHARE,
    "gram": Unit.G,
    "grams": Unit.G,
    "gr": Unit.G,
    "kilo": Unit.KG,
    "kilos": Unit.KG,
    "ounce": Unit.OZ,
    "ounces": Unit.OZ,
    "lbs": Unit.LB,
    "pound": Unit.LB,
    "pounds": Unit.LB,
    "litre": Unit.L,
    "litres": Unit.L,
    "liter": Unit.L,
    "liters": Unit.L,
    "teaspoon": Unit.TSP,
    "teaspoons": Unit.TSP,
    "tablespoon": Unit.TBSP,
    "tablespoons": Unit.TBSP,
    "cups": Unit.CUP,
    "pcs": Unit.PIECE,
    "piece": Unit.PIECE,
    "pieces": Unit.PIECE,
}
UNIT_WORDS = {unit.value: unit for unit in Unit} | _SPELLINGS
UNIT = "(?:" + "|".join(sorted(map(re.escape, UNIT_WORDS), key=len, reverse=True)) + r")(?![a-zA-Z])"

_AMOUNT = re.compile(rf"(?P<number>-?{NUMBER})\s*(?P<unit>%|[^\W\d_]+(?: cent)?)?", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Amount:
    """A number with its unit. A share is a percentage; what it is a share of, its block says."""

    value: Decimal
    unit: Unit

    @property
    def is_share(self) -> bool:
        """True for a percentage, False for a measure."""
        return self.unit is Unit.SHARE

    def __str__(self) -> str:
        return f"{plain(self.value)}{'' if self.is_share else ' '}{self.unit}"


class AmountFault(ValueError):
    """A text that should be an amount and is not. Facts: `text`, `kind` and `unit` (as typed).

    `kind`: `not a number`, `not finite`, `too large`, `divided by zero`, `no unit`, `unknown unit`,
    `negative`; of a temperature also `no scale`, `not a temperature`.
    """

    def __init__(self, text: str, kind: str, unit: str = "") -> None:
        super().__init__(f"{text!r}: {kind}")
        self.text = text
        self.kind = kind
        self.unit = unit


def amount(text: str, *, bare: Unit | None = None) -> Amount:
    """The amount that `text` writes: `65%`, `500 g`, `1 1/2 tsp`, `2 pc`.

    `bare` is the unit of a number without one, where only one is possible. Raises AmountFault.

    >>> str(amount("62,5 %")), str(amount("1 1/2 tsp")), str(amount("68", bare=Unit.SHARE))
    ('62.5%', '1.5 tsp', '68%')
    """
    stripped = text.strip()
    found = _AMOUNT.fullmatch(stripped)
    if not found:
        raise AmountFault(stripped, _number_kind(stripped))
    value = _checked(found["number"], stripped)
    unit = _unit(found["unit"], stripped, bare)
    if value < 0:
        raise AmountFault(stripped, "negative")
    return Amount(value, unit)


def _number_kind(text: str) -> str:
    try:
        number(re.sub(r"\s*(%|[a-z]+)$", "", text, flags=re.IGNORECASE) or text)
    except NumberFault as fault:
        return fault.kind
    return "not a number"


def _checked(text: str, whole: str) -> Decimal:
    try:
        return number(text)
    except NumberFault as fault:
        raise AmountFault(whole, fault.kind) from None


def _unit(word: str | None, text: str, bare: Unit | None) -> Unit:
    if word is None:
        if bare is None:
            raise AmountFault(text, "no unit")
        return bare
    unit = UNIT_WORDS.get(word.lower())
    if unit is None:
        raise AmountFault(text, "unknown unit", word)
    return unit


def split_note(text: str) -> tuple[str, str]:
    """An amount and the note behind it: they are parted by a comma and a space.

    >>> split_note("3%, soft"), split_note("62,5%")
    (('3%', 'soft'), ('62,5%', ''))
    """
    head, comma, note = text.partition(", ")
    return (head.strip(), note.strip()) if comma else (text.strip(), "")


class Scale(StrEnum):
    """The two temperature scales a baker's thermometer may show."""

    C = "C"
    F = "F"


@dataclass(frozen=True, slots=True)
class Temperature:
    """A temperature as it was read off, on the scale it was read on."""

    value: Decimal
    scale: Scale

    @property
    def celsius(self) -> Decimal:
        """In degrees Celsius; (F - 32) / 1.8."""
        return self.value if self.scale is Scale.C else (self.value - 32) / Decimal("1.8")

    def __str__(self) -> str:
        return f"{plain(self.value)} {self.scale}"


TEMPERATURE = rf"(?P<degrees>-?{NUMBER})\s*(?:°|º|degrees?|deg)?\s*(?P<scale>C|F|celsius|fahrenheit)(?![a-zA-Z])"
_TEMPERATURE = re.compile(TEMPERATURE, re.IGNORECASE)


def temperature(text: str) -> Temperature:
    """The temperature that `text` writes: `24C`, `24 °C`, `75 F`. A number without a scale is refused.

    >>> str(temperature("25,5 °C")), temperature("77F").celsius
    ('25.5 C', Decimal('25'))
    """
    found = _TEMPERATURE.fullmatch(text.strip())
    if not found:
        bare = re.fullmatch(rf"-?{NUMBER}\s*(?:°|º|degrees?)?", text.strip())
        raise AmountFault(text.strip(), "no scale" if bare else "not a temperature")
    return Temperature(_checked(found["degrees"], text), Scale(found["scale"][0].upper()))
