"""What a bench line can hold: its fields, how they are shown, what makes two alike, the gap between two.

Knows nothing of how a line is read.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal

from ovenleaf.domain.durations import Duration
from ovenleaf.domain.numbers import CONTEXT, plain, rounded
from ovenleaf.domain.quantity import GRAMS_PER, Amount, Scale, Temperature, Unit


@dataclass(frozen=True, slots=True, kw_only=True)
class Heat:
    """The heat of a place or an oven: one temperature, a course (`240 C falling to 220 C`) or a span.

    `between` is True for a span, `24 to 26 C`: two temperatures, low before high.
    """

    temperatures: tuple[Temperature, ...]
    between: bool = False

    def __str__(self) -> str:
        return _course(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class Added:
    """What went in beside the plan, or was left out of it when `less`."""

    amount: Amount
    item: str
    less: bool

    def __str__(self) -> str:
        return f"{self.amount} {'less' if self.less else 'more'} {self.item}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Pieces:
    """How many of what. `each`: the weight on the same line is that of one (`12 rolls of 85 g`)."""

    count: int
    noun: str  # in the plural
    each: bool = False

    def __str__(self) -> str:
        return f"{self.count} {SINGULAR[self.noun] if self.count == 1 else self.noun}"


SINGULAR = {
    "rolls": "roll",
    "buns": "bun",
    "loaves": "loaf",
    "pieces": "piece",
    "baguettes": "baguette",
    "boules": "boule",
    "bagels": "bagel",
    "pretzels": "pretzel",
    "balls": "ball",
    "sticks": "stick",
    "flatbreads": "flatbread",
    "breads": "bread",
}

Value = Duration | Heat | Temperature | Amount | Added | Pieces | Decimal | str


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """One thing that was understood.

    `typed` is the text it was read from, empty for a field read together with the one before
    it; it does not count when two fields are compared.
    """

    name: str
    value: Value
    typed: str = field(default="", compare=False)


def _course(heat: Heat, mark: str = "") -> str:
    words = [f"{plain(degrees.value)} {mark}{degrees.scale}" for degrees in heat.temperatures]
    if heat.between:
        low, high = heat.temperatures
        return f"{plain(low.value) if low.scale is high.scale else words[0]} to {words[1]}"
    told = words[0]
    for before, after, word in zip(heat.temperatures, heat.temperatures[1:], words[1:], strict=False):
        told += f" {'rising' if after.celsius > before.celsius else 'falling'} to {word}"
    return told


_IN_WORDS = {"ph": "pH {}", "lot": "lot {}", "until": "until {}", "ago": "{} ago", "out of": "of {}"}


def show(field: Field) -> str:
    """The value in words with its unit, for a screen; the name of the field is left to the row.

    >>> show(Field(name="ph", value=Decimal("4.2")))
    'pH 4.2'
    >>> show(Field(name="dough temperature", value=Temperature(Decimal("25.5"), Scale.C)))
    '25.5 °C'
    """
    value = field.value
    if field.name == "folds" and isinstance(value, Decimal):
        return f"{plain(value)} {'fold' if value == 1 else 'folds'}"
    return _IN_WORDS.get(field.name, "{}").format(_told(value))


def _told(value: Value) -> str:
    match value:
        case Decimal():
            return plain(value)
        case Temperature():
            return _course(Heat(temperatures=(value,)), "°")
        case Heat():
            return _course(value, "°")
        case Amount():
            return f"{plain(value.value)} {value.unit}"
        case _:
            return str(value)


def joined(old: Heat, new: Heat) -> Heat:
    """Two heats of one oven, one after the other, as a course; the second alone where it is the same or a span."""
    if old.between or new.between or alike(old, new):
        return new
    return Heat(temperatures=(*old.temperatures, *new.temperatures))


def alike(one: Value, other: Value) -> bool:
    """True when both say the same: `500 g` and `0.5 kg`, `77 F` and `25 C`, `60 min` and `1 h`.

    >>> alike(Temperature(Decimal(77), Scale.F), Temperature(Decimal(25), Scale.C))
    True
    """
    return measure(one) == measure(other)


def measure(value: Value) -> object:
    """Something hashable that is equal for values that mean the same: on one scale and in one unit."""
    match value:
        case Temperature():
            return value.celsius
        case Heat():
            return (value.between, *(degrees.celsius for degrees in value.temperatures))
        case Amount():
            return _mass(value) if value.unit in GRAMS_PER else (value.value, value.unit)
        case Added():
            return (measure(value.amount), value.item.casefold(), value.less)
        case str():
            return value.casefold()
        case _:
            return value


def _mass(amount: Amount) -> tuple[Decimal, Unit]:
    return CONTEXT.multiply(amount.value, GRAMS_PER[amount.unit]), Unit.G


_ORDER = {"crumb": ("up {}", "down {}"), "crust": ("up {}", "down {}"), "ph": ("{} higher", "{} lower")}
_COUNT = ("{} more", "{} fewer")


def gap(name: str, older: Value, newer: Value) -> str:
    """The change between two values of the field `name`, in words.

    `same`; `changed` for text, and for values that have no one difference: a range or a course
    whose ends did not move alike, units that cannot be turned into each other. Degrees are told
    on the newer value's scale.

    >>> gap("oven", Temperature(Decimal(225), Scale.C), Temperature(Decimal(220), Scale.C))
    '5 °C cooler'
    >>> gap("time", Duration(low=Decimal(47), high=Decimal(47)), Duration(low=Decimal(35), high=Decimal(35)))
    '12 min shorter'
    """
    if alike(older, newer):
        return "same"
    match older, newer:
        case Duration(), Duration():
            return _longer(older, newer)
        case ((Temperature() | Heat()), (Temperature() | Heat())):
            return _warmer(_heat(older), _heat(newer))
        case Amount(), Amount():
            return _more(older, newer)
        case Added(), Added() if (older.item.casefold(), older.less) == (newer.item.casefold(), newer.less):
            return _more(*((newer.amount, older.amount) if older.less else (older.amount, newer.amount)))
        case Pieces(), Pieces() if (older.noun, older.each) == (newer.noun, newer.each):
            return _apart(Decimal(older.count), Decimal(newer.count), _COUNT)
        case Decimal(), Decimal():
            return _apart(older, newer, _ORDER.get(name, _COUNT))
        case _:
            return "changed"


def _apart(older: Decimal, newer: Decimal, words: tuple[str, str]) -> str:
    return words[0 if newer > older else 1].format(_size(older, newer))


def _size(older: Decimal, newer: Decimal) -> str:
    """How far apart, to the places that were typed, two at most: 25.5 and 26.5 are 1.0 apart."""
    apart = abs(CONTEXT.subtract(newer, older))
    places = min(2, max(_places(older), _places(newer)))
    return f"{rounded(apart, places):f}" if rounded(apart, places) else plain(apart)


def _places(value: Decimal) -> int:
    return max(0, -int(value.as_tuple().exponent))


def _longer(older: Duration, newer: Duration) -> str:
    moved = newer.low - older.low
    if newer.high - older.high != moved:
        return "changed"
    return f"{_time(abs(moved))} {'longer' if moved > 0 else 'shorter'}"


def _time(minutes: Decimal) -> str:
    """From an hour on in hours: 60 min beside 14 h and 15 h would have to be turned into one."""
    hours, rest = divmod(minutes, 60)
    told = f"{plain(hours)} h" if hours else ""
    left = Duration(low=rest, high=rest) if rest else ""
    return f"{told} {left}".strip()


def _heat(value: Temperature | Heat) -> Heat:
    return value if isinstance(value, Heat) else Heat(temperatures=(value,))


def _warmer(older: Heat, newer: Heat) -> str:
    scale = newer.temperatures[-1].scale
    before = [_on(scale, degrees) for degrees in older.temperatures]
    after = [_on(scale, degrees) for degrees in newer.temperatures]
    moved = {late - early for early, late in zip(before, after, strict=False)}
    if (older.between, len(before)) != (newer.between, len(after)) or len(moved) > 1:
        return "changed"
    return _apart(before[0], after[0], (f"{{}} °{scale} warmer", f"{{}} °{scale} cooler"))


def _on(scale: Scale, degrees: Temperature) -> Decimal:
    if degrees.scale is scale:
        return degrees.value
    return rounded(degrees.celsius if scale is Scale.C else degrees.celsius * Decimal("1.8") + 32, 1)


def _more(older: Amount, newer: Amount) -> str:
    if older.unit is newer.unit:
        unit = "points" if newer.is_share else str(newer.unit)
        return _apart(older.value, newer.value, (f"{{}} {unit} more", f"{{}} {unit} less"))
    if older.unit in GRAMS_PER and newer.unit in GRAMS_PER:
        grams = [rounded(_mass(amount)[0], 1) for amount in (older, newer)]
        return _apart(grams[0], grams[1], ("{} g more", "{} g less"))
    return "changed"
