"""What an ingredient is made of, and the list a book looks its ingredients up in."""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass, replace
from decimal import Decimal
from enum import StrEnum
from types import MappingProxyType
from typing import TYPE_CHECKING

from ovenleaf.domain.numbers import CONTEXT, HUNDRED, ZERO, plain

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping, Sequence


class Kind(StrEnum):
    """What an ingredient is to a baker."""

    FLOUR = "flour"
    WATER = "water"
    MILK = "milk"
    EGG = "egg"
    CHEESE = "cheese"
    FAT = "fat"
    SUGAR = "sugar"
    SALT = "salt"
    YEAST = "yeast"
    CULTURE = "culture"
    SEED = "seed"
    NUT = "nut"
    FRUIT = "fruit"
    MALT = "malt"
    SPICE = "spice"
    OTHER = "other"


LEAVENS = frozenset({Kind.YEAST, Kind.CULTURE})


# More than 100 g in 100 g is a slip; printed tables round, and their rows come to a little more.
MOST = HUNDRED + Decimal("0.5")

WEIGHED_BY = "weighed by"  # begins the source of a figure that a baker of this book weighed

MEASURES = ("cup", "tablespoon", "teaspoon", "packet", "piece")


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherWeight:
    """What a measure weighs, in g, filled otherwise or by another source than the list goes by."""

    measure: str
    how: str
    grams: Decimal
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Ingredient:
    """One ingredient. Composition in g per 100 g; household weights in g; None is not known.

    `flour` is the share of it that counts as flour: it belongs to the name and never changes.
    `instant` is the instant yeast, in g, whose work 1 g of it does. `made_of` holds what a
    culture is fed with, in shares of its own flour. `reaches_dough` is False for inclusions
    that keep their water, fat, sugar and salt to themselves. `sources` names the facts that have
    another source than `source`.
    """

    name: str
    kind: Kind = Kind.OTHER
    flour: Decimal = ZERO
    water: Decimal | None = None
    fat: Decimal | None = None
    saturates: Decimal | None = None
    protein: Decimal | None = None
    carbohydrate: Decimal | None = None
    sugars: Decimal | None = None
    fibre: Decimal | None = None
    milk_sugar: Decimal = ZERO
    ash: Decimal | None = None
    sodium: Decimal | None = None
    salt: Decimal | None = None
    density: Decimal | None = None
    cup: Decimal | None = None
    tablespoon: Decimal | None = None
    teaspoon: Decimal | None = None
    packet: Decimal | None = None
    piece: Decimal | None = None
    weighed_otherwise: tuple[OtherWeight, ...] = ()
    instant: Decimal | None = None
    made_of: tuple[tuple[str, Decimal], ...] = ()
    reaches_dough: bool = True
    allergens: tuple[str, ...] = ()
    also: tuple[str, ...] = ()
    source: str = ""
    sources: tuple[tuple[str, str], ...] = ()
    note: str = ""
    known: bool = True  # False for a name that no list holds

    @property
    def water_told(self) -> Decimal:
        """The water in it as far as it is known; what is a water is all water unless the list says less."""
        if self.water is None:
            return HUNDRED if self.kind is Kind.WATER else ZERO
        return self.water

    @property
    def contents(self) -> Decimal:
        """Its known parts together, in g per 100 g: sugars are within the carbohydrate, and salt within the ash."""
        carbohydrate = self.sugars if self.carbohydrate is None else self.carbohydrate
        ash = self.salt if self.ash is None else self.ash
        parts = (self.water, self.fat, self.protein, carbohydrate, ash)
        return sum((part for part in parts if part is not None), ZERO)

    def source_of(self, fact: str) -> str:
        """Where a fact is from: its own source, or that of the figures; "" where none is named."""
        return dict(self.sources).get(fact, self.source)

    def own_weight(self, fact: str) -> bool:
        """True of a measure that a baker of this book weighed."""
        return self.source_of(fact).startswith(WEIGHED_BY)

    def spread(self, measure: str) -> tuple[Decimal, Decimal] | None:
        """The least and the most that a measure of it weighs, in g; None where there are not two figures."""
        told: Decimal | None = getattr(self, measure)
        found = [other.grams for other in self.weighed_otherwise if other.measure == measure]
        weights = {*found, told} if told is not None else set(found)
        return (min(weights), max(weights)) if len(weights) > 1 else None


def parts_words(ingredient: Ingredient) -> str:
    """What is told to be in it: `water 60 g and fat 50 g`."""
    names = ("water", "fat", "protein", "sugars" if ingredient.carbohydrate is None else "carbohydrate")
    told = [(name, getattr(ingredient, name)) for name in (*names, "salt" if ingredient.ash is None else "ash")]
    words = [f"{name} {plain(value)} g" for name, value in told if value]
    return f"{', '.join(words[:-1])} and {words[-1]}" if len(words) > 1 else "".join(words)


# A name with one of these words brings flour, yeast, milk, egg, salt or fat, and so must be in a list.
_TELLING = re.compile(
    r"\b(flours?|meal|semolina|starch|yeast|levain|leaven|starter|sourdough|sour|culture|poolish|biga|sponge|salt|"
    r"milk|buttermilk|cream|yog(?:h)?urt|eggs?|yolks?|butter|margarine|oil|lard|fat|shortening|ghee)\b"
)


def must_be_known(name: str) -> bool:
    """True if by its name this ingredient brings flour, yeast, milk, egg, salt or fat.

    >>> must_be_known("einkorn flour"), must_be_known("nigella")
    (True, False)
    """
    return bool(_TELLING.search(name.lower()))


@dataclass(frozen=True, slots=True, kw_only=True)
class Listed:
    """An ingredient of a list by its names, read when somebody asks for it."""

    name: str
    also: tuple[str, ...]
    read: Callable[[], Ingredient]


class Pantry:
    """The built-in list with the book's own list laid over it. Looks up names, never changes."""

    __slots__ = ("_asked", "_by_name", "_names")

    def __init__(self, ingredients: Iterable[Ingredient | Listed]) -> None:
        """Later ingredients override earlier ones of the same name, and take on their other names; cultures
        get their composition."""
        own: dict[str, Ingredient | Listed] = {}
        for one in ingredients:
            before = own.pop(folded(one.name), None)
            own[folded(one.name)] = one if before is None else _with_names_of(one, before)
        named = {folded(also): one for one in own.values() for also in one.also}
        self._by_name: Mapping[str, Ingredient | Listed] = MappingProxyType(named | own)
        self._names = tuple(one.name for one in own.values())
        self._asked: dict[str, Ingredient] = {}

    @property
    def names(self) -> tuple[str, ...]:
        """The names in the order of the lists, without the other names they go by."""
        return self._names

    def get(self, name: str) -> Ingredient:
        """The ingredient of that name; for a name no list holds, one that is neither flour nor water."""
        if (key := folded(name)) not in self._by_name:
            return Ingredient(name=name, known=False)
        if key not in self._asked:
            self._asked[key] = self._composed(key, ())
        return self._asked[key]

    def _composed(self, key: str, above: tuple[str, ...]) -> Ingredient:
        """A culture with the flour, water and allergens of what it is made of; any other ingredient as it is."""
        ingredient = _read(self._by_name[key])
        if not ingredient.made_of or ingredient.name in above:
            return ingredient
        path = (*above, ingredient.name)
        shares = ((folded(item), share) for item, share in ingredient.made_of)
        return _of_parts(ingredient, [(self._composed(k, path), share) for k, share in shares if k in self._by_name])

    def nearest(self, name: str) -> str | None:
        """A known name so near to `name` that it may be a slip of the fingers, or None."""
        if folded(name) in self._by_name:
            return None
        near = difflib.get_close_matches(folded(name), self._by_name, n=1, cutoff=0.82)
        return near[0] if near else None

    def closest(self, name: str) -> tuple[str, ...]:
        """Up to three known names that share a word with `name` or are spelled like it."""
        words = set(name.lower().split())
        spelled = difflib.get_close_matches(name.lower(), self._by_name, n=3, cutoff=0.6)
        sharing = [known for known in self._names if words & set(known.lower().split())]
        return tuple(dict.fromkeys([*spelled, *sharing]))[:3]


def folded(name: str) -> str:
    """Case, hyphens and doubled spaces do not tell two ingredients apart."""
    return " ".join(name.lower().replace("-", " ").split())


def _read(one: Ingredient | Listed) -> Ingredient:
    return one.read() if isinstance(one, Listed) else one


def _with_names_of(one: Ingredient | Listed, before: Ingredient | Listed) -> Ingredient | Listed:
    return replace(one, also=tuple(dict.fromkeys((*one.also, *before.also))))


def _of_parts(ingredient: Ingredient, parts: Sequence[tuple[Ingredient, Decimal]]) -> Ingredient:
    total = sum((share for _, share in parts), ZERO) or HUNDRED
    flour = sum((share * part.flour for part, share in parts), ZERO)
    water = sum((share * part.water_told for part, share in parts if part.kind is not Kind.FLOUR), ZERO)
    allergens = [word for part, _ in parts for word in part.allergens]
    return replace(
        ingredient,
        flour=CONTEXT.divide(flour, total),
        water=CONTEXT.divide(water, total),
        allergens=tuple(dict.fromkeys((*ingredient.allergens, *allergens))),
    )
