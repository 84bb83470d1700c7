"""What the rules of the bench line share: small patterns, and what a rule makes of a match."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from ovenleaf.domain.benchvalues import SINGULAR, Field, Value
from ovenleaf.domain.durations import END, FIGURE, TIME_UNIT, TO, figure
from ovenleaf.domain.numbers import CONTEXT
from ovenleaf.domain.quantity import GRAMS_PER, UNIT_WORDS, Amount, Unit

if TYPE_CHECKING:
    from collections.abc import Callable

SIGN = "[-−]"
FIGURE_ONLY = r"\d+(?:[.,]\d+)?"
ABOUT = r"(?:(?:about|around|roughly|approx\.?|ca\.?|circa) |~ ?)?"  # dropped before a figure

# Behind a figure that may stand without a unit: which word follows, and that no range or longer figure does.
NEXT_WORD = rf"(?![.,/:]?\d| \d+/\d)(?! ?{TO} ?\d)(?= ?(?P<next>[%°º℃℉]|[^\W\d_]*))"
_SCALES = {"°", "º", "℃", "℉", "c", "f", "celsius", "fahrenheit", "degree", "degrees"}
_NOT_OF_HEAT = {"%", "mm", "cm", "fold", "folds", "pcs", *UNIT_WORDS, *SINGULAR, *SINGULAR.values()}
_TIME_WORD = re.compile(TIME_UNIT)

_MASS_UNIT = "(?:" + "|".join(sorted((word for word, unit in UNIT_WORDS.items() if unit in GRAMS_PER), key=len)) + ")"
_AND_OUNCES = rf"(?: (?P<ounces>{FIGURE}) ?(?:oz|ounces?){END})?"
MASS = rf"(?P<mass>{FIGURE})\s?(?P<mass_unit>{_MASS_UNIT}){END}{_AND_OUNCES}"
_UNCLEAR = re.compile(r"[1-9]\d{0,2}[.,]\d{3}")
_OUNCES_IN_A_POUND = 16


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """What a rule makes of a match. Without fields the match stays words.

    `end` is where the reading ends, if not where the match does. `beside` limits the words that may
    stand next to it in its clause (None: any), and with `alone` False at least one of them must:
    otherwise it stays words too.
    """

    fields: tuple[Field, ...] = ()
    doubts: tuple[str, ...] = ()
    end: int | None = None
    beside: frozenset[str] | None = None
    alone: bool = True


KEPT = Reading()


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """One way of writing something: its pattern, and what is made of a match (None: not this rule).

    `make` gets the match, which is of lower case, and the line as typed, letter under letter.
    """

    pattern: str
    make: Callable[[re.Match[str], str], Reading | None]


@cache
def compiled(pattern: str) -> re.Pattern[str]:
    """The pattern, compiled when it is first wanted: most commands read no bench line at all."""
    return re.compile(pattern)


def one(name: str, value: Value, *, end: int | None = None) -> Reading:
    """A reading of one field."""
    return Reading(fields=(Field(name=name, value=value),), end=end)


def bare(found: re.Match[str]) -> bool:
    """True if the figure before NEXT_WORD has no unit, and no scale either."""
    return found["next"] not in _SCALES and not of_other_unit(found["next"])


def of_other_unit(word: str) -> bool:
    """True if `word` is a unit, and not one of temperature."""
    return word in _NOT_OF_HEAT or bool(_TIME_WORD.fullmatch(word))


def unclear(typed: str, unit: Unit) -> bool:
    """True for `1,020` in g or ml: 1020 to one baker, 1.02 to another."""
    return unit in (Unit.G, Unit.ML) and bool(_UNCLEAR.fullmatch(typed))


def unclear_doubt(typed: str, unit: Unit) -> Reading:
    """A doubt about such a figure."""
    ways = f"{re.sub('[.,]', '', typed)} {unit} or {Amount(figure(typed), unit)}"
    return Reading(doubts=(f"{typed} {unit} can be read in two ways; write {ways}",))


def in_two_ways(text: str) -> str:
    """The doubt about an amount with a comma that may be a thousands mark; "" where there is none.

    >>> in_two_ways("1,250 g"), in_two_ways("1.250 g"), in_two_ways("62,5 g")
    ('1,250 g can be read in two ways; write 1250 g or 1.25 g', '', '')
    """
    found = re.fullmatch(r"(\d+,\d+)\s*([^\W\d]+)", text.strip().lower())
    unit = UNIT_WORDS.get(found[2]) if found else None
    if found is None or unit is None or not unclear(found[1], unit):
        return ""
    return unclear_doubt(found[1], unit).doubts[0]


def mass(found: re.Match[str]) -> Amount | None:
    """The Amount of a match of MASS; pounds with ounces become ounces.

    None where it cannot be told: `1 kg 4 oz`, `1,020 g`. Raises NumberFault.
    """
    value, unit = figure(found["mass"]), UNIT_WORDS[found["mass_unit"]]
    if unclear(found["mass"], unit):
        return None
    if found["ounces"] is None:
        return Amount(value, unit)
    if unit is not Unit.LB:
        return None
    return Amount(CONTEXT.add(CONTEXT.multiply(value, _OUNCES_IN_A_POUND), figure(found["ounces"])), Unit.OZ)
