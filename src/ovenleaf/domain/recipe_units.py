"""What recipes measure with: weights, volumes of three countries, packets, pieces, and what no two cooks fill alike."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from ovenleaf.domain.numbers import CONTEXT
from ovenleaf.domain.quantity import GRAMS_PER, MILLILITRES_PER, Unit


class Measures(StrEnum):
    """Whose cups and spoons a recipe means."""

    US = "us"
    METRIC = "metric"
    IMPERIAL = "imperial"


@dataclass(frozen=True, slots=True, kw_only=True)
class RecipeUnit:
    """One unit. `grams` of a weight; `volume` in ml (us, metric, imperial) of a volume; anything else is counted."""

    name: str
    words: tuple[str, ...]
    grams: Decimal | None = None
    volume: tuple[Decimal, Decimal, Decimal] | None = None

    def millilitres(self, measures: Measures) -> Decimal | None:
        """What it holds, in ml; None of what is no volume."""
        return None if self.volume is None else self.volume[list(Measures).index(measures)]

    @property
    def differs(self) -> bool:
        """True where a US and an imperial one are more than a tenth apart, so that it must be known whose it is."""
        return self.volume is not None and max(self.volume) > min(self.volume) * Decimal("1.3")


def _weight(name: str, grams: Decimal, *words: str) -> RecipeUnit:
    return RecipeUnit(name=name, words=(name, *words), grams=grams)


def _volume(name: str, us: Decimal, metric: str, imperial: str, *words: str) -> RecipeUnit:
    return RecipeUnit(name=name, words=(name, *words), volume=(us, Decimal(metric), Decimal(imperial)))


def _alike(name: str, millilitres: str, *words: str) -> RecipeUnit:
    return _volume(name, Decimal(millilitres), millilitres, millilitres, *words)


def _counted(name: str, *words: str) -> RecipeUnit:
    return RecipeUnit(name=name, words=(name, *words))


_CUP, _TBSP, _TSP = (MILLILITRES_PER[unit] for unit in (Unit.CUP, Unit.TBSP, Unit.TSP))
_OUNCE, _POUND = GRAMS_PER[Unit.OZ], GRAMS_PER[Unit.LB]
_IMPERIAL_PINT = "568.26125"  # ml, an eighth of the imperial gallon of 4.54609 l

# US volumes from the gallon of 231 cubic inches; metric cup 250 ml and spoons of 15 and 5 ml; imperial ones from the
# gallon of 4.54609 l, the cup being half a pint; spoons in Britain now hold 15 and 5 ml (common practice, no source).
UNITS = (
    _weight("g", Decimal(1), "gr", "gm", "gms", "gram", "grams", "gramme", "grammes"),
    _weight("kg", Decimal(1000), "kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kilogrammes", "kgs"),
    _weight("oz", _OUNCE, "ozs", "ounce", "ounces"),
    _weight("lb", _POUND, "lbs", "pound", "pounds"),
    _alike("ml", "1", "mls", "cc", "millilitre", "millilitres", "milliliter", "milliliters"),
    _alike("cl", "10", "centilitre", "centilitres", "centiliter", "centiliters"),
    _alike("dl", "100", "decilitre", "decilitres", "deciliter", "deciliters"),
    _alike("l", "1000", "litre", "litres", "liter", "liters"),
    _volume("teaspoon", _TSP, "5", "5", "tsp", "tsps", "teaspoons", "teaspoonful", "teaspoonfuls", "teaspoonsful"),
    _volume(
        "tablespoon",
        _TBSP,
        "15",
        "15",
        "tbsp",
        "tbsps",
        "tbs",
        "tbl",
        "tblsp",
        "tb",
        "tablespoons",
        "tablespoonful",
        "tablespoonfuls",
        "tablespoonsful",
    ),
    _volume("cup", _CUP, "250", "284.130625", "cups", "cupful", "cupfuls", "cupsful", "c"),
    _volume("fl oz", CONTEXT.divide(_CUP, Decimal(8)), "30", "28.4130625", "fluid ounce", "fluid ounces", "fl ozs"),
    _volume("pint", _CUP * 2, _IMPERIAL_PINT, _IMPERIAL_PINT, "pints", "pt", "pts"),
    _volume("quart", _CUP * 4, "1136.5225", "1136.5225", "quarts", "qt", "qts"),
    _volume("gallon", _CUP * 16, "4546.09", "4546.09", "gallons", "gal", "gals"),
    _counted(
        "packet",
        "packets",
        "pkt",
        "pkts",
        "package",
        "packages",
        "pkg",
        "pkgs",
        "envelope",
        "envelopes",
        "sachet",
        "sachets",
        "pack",
        "packs",
    ),
    _counted("cake", "cakes", "cube", "cubes", "block", "blocks"),
    _counted("stick", "sticks"),
    _counted("pinch", "pinches"),
)

# No two cooks, and no two kitchens, fill these alike: they are asked about.
_VAGUE_WORDS = """
handful handfuls knob knobs dash dashes drop drops sprinkling sprinkle splash glug dollop glass glasses glassful
wineglass wineglassful wine-glass teacup teacups teacupful teacupfuls tea-cup tea-cupful breakfast-cup breakfastcup
breakfast-cupful breakfast-cupfuls breakfastcupful breakfastcupfuls coffee-cup coffeecupful gill gills saltspoon
saltspoons saltspoonful saltspoonfuls salt-spoonful dessertspoon dessertspoons dessertspoonful dessertspoonfuls
dessert-spoonful dessert-spoonfuls dsp coffeespoon coffee-spoonful quartern quarterns peck pecks bushel drachm
drachms dram drams spoon spoons spoonful spoonfuls ladle ladleful bowl bowlful mug mugs mugful scoop scoops bag bags
box boxes can cans tin tins jar jars bottle bottles carton cartons tub tubs slice slices sprig sprigs bunch bunches
clove cloves piece pieces lump lumps bit bits loaf grate grating gratings squeeze few little part parts measure
measures penny pennyworth capful ball head heads stalk stalks strip strips sheet sheets leaf leaves
"""
VAGUE = tuple(_VAGUE_WORDS.split())

_BY_WORD = {word: unit for unit in UNITS for word in unit.words}
# A capital T alone is a tablespoon, a small one a teaspoon, as American cards write.
_SHORT = {"T": _BY_WORD["tablespoon"], "t": _BY_WORD["teaspoon"]}
_FLUID = r"(?:fl|fluid)\.?\s*(?:oz|ounce)s?"
_UNIT = re.compile(
    rf"(?:(?P<fluid>{_FLUID})|(?P<word>"
    + "|".join(sorted((re.escape(word) for word in (*_BY_WORD, *VAGUE)), key=len, reverse=True))
    + r"))(?P<end>\.|(?![a-z'-]))",
    re.IGNORECASE,
)
_LETTER = re.compile(r"(?P<word>[Tt])(?:\.|(?=\s))")
# What a cook may say of a filling: level is exact, the others are not.
_FILLING = re.compile(
    r"(?P<filling>level|scant|scanty|generous|good|full|large|small|big|short|barely)\s+", re.IGNORECASE
)
_HEAPED = re.compile(r"(?P<filling>heaped|heaping|rounded|piled)[\s-]+", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundUnit:
    """A unit word in a text: the unit (None of a vague one), the word, where it ends, how it was said to be filled."""

    unit: RecipeUnit | None
    word: str
    end: int
    filling: str = ""


def unit_at(text: str, at: int) -> FoundUnit | None:
    """The unit that stands at `at`, behind a space or a hyphen and words on how it is filled; else None."""
    start = at
    filling = ""
    if (space := re.compile(r"[\s-]*").match(text, at)) is not None:
        start = space.end()
    for said in (_FILLING, _HEAPED):
        if (found := said.match(text, start)) is not None and unit_at(text, found.end()) is not None:
            filling, start = found["filling"].lower(), found.end()
            break
    if (letter := _LETTER.match(text, start)) is not None:
        return FoundUnit(unit=_SHORT[letter["word"]], word=letter["word"], end=letter.end(), filling=filling)
    found = _UNIT.match(text, start)
    if found is None:
        return None
    word = "fl oz" if found["fluid"] else found["word"].lower()
    return FoundUnit(unit=_BY_WORD.get(word), word=word, end=found.end(), filling=filling)


def unit_named(name: str) -> RecipeUnit:
    """The unit of that name."""
    return _BY_WORD[name]


def is_heaped(filling: str) -> bool:
    """True of a filling that may be twice a level one."""
    return filling in ("heaped", "heaping", "rounded", "piled")
