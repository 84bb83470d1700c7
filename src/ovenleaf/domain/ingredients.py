"""What an ingredient is made of, and the list a book looks its ingredients up in."""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass, replace
from enum import StrEnum
from types import MappingProxyType
from typing import TYPE_CHECKING

from ovenleaf.domain.numbers import CONTEXT, HUNDRED, ZERO

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from decimal import Decimal


class Kind(StrEnum):
    """What an ingredient is to a baker."""

    FLOUR = "flour"
    WATER = "water"
    MILK = "milk"
    EGG = "egg"
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Ingredient:
    """One ingredient. Composition in g per 100 g; household weights in g; None is not known.

    `flour` is the share of it that counts as flour: it belongs to the name and never changes.
    `instant` is the instant yeast, in g, whose work 1 g of it does. `made_of` holds what a
    culture is fed with, in shares of its own flour. `reaches_dough` is False for inclusions
    that keep their water, fat and sugar to themselves.
    """

    name: str
    kind: Kind = Kind.OTHER
    flour: Decimal = ZERO
    water: Decimal = ZERO
    fat: Decimal = ZERO
    protein: Decimal | None = None
    carbohydrate: Decimal | None = None
    sugars: Decimal = ZERO
    milk_sugar: Decimal = ZERO
    ash: Decimal | None = None
    salt: Decimal = ZERO
    density: Decimal | None = None
    cup: Decimal | None = None
    tablespoon: Decimal | None = None
    teaspoon: Decimal | None = None
    packet: Decimal | None = None
    piece: Decimal | None = None
    instant: Decimal | None = None
    made_of: tuple[tuple[str, Decimal], ...] = ()
    reaches_dough: bool = True
    allergens: tuple[str, ...] = ()
    also: tuple[str, ...] = ()
    source: str = ""
    note: str = ""
    known: bool = True  # False for a name that no list holds


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


class Pantry:
    """The built-in list with the book's own list laid over it. Looks up names, never changes."""

    __slots__ = ("_by_name", "_names")

    def __init__(self, ingredients: Iterable[Ingredient]) -> None:
        """Later ingredients override earlier ones of the same name; cultures get their composition."""
        own = {ingredient.name: ingredient for ingredient in ingredients}
        named = {_folded(also): i for i in own.values() for also in i.also}
        named |= {_folded(name): i for name, i in own.items()}
        self._by_name: Mapping[str, Ingredient] = MappingProxyType(
            {name: _composed(i, named, ()) for name, i in named.items()}
        )
        self._names = tuple(own)

    @property
    def names(self) -> tuple[str, ...]:
        """The names in the order of the lists, without the other names they go by."""
        return self._names

    def get(self, name: str) -> Ingredient:
        """The ingredient of that name; for a name no list holds, one that is neither flour nor water."""
        return self._by_name.get(_folded(name)) or Ingredient(name=name, known=False)

    def nearest(self, name: str) -> str | None:
        """A known name so near to `name` that it may be a slip of the fingers, or None."""
        if _folded(name) in self._by_name:
            return None
        near = difflib.get_close_matches(_folded(name), self._by_name, n=1, cutoff=0.82)
        return near[0] if near else None

    def closest(self, name: str) -> tuple[str, ...]:
        """Up to three known names that share a word with `name` or are spelled like it."""
        words = set(name.lower().split())
        spelled = difflib.get_close_matches(name.lower(), self._by_name, n=3, cutoff=0.6)
        sharing = [known for known in self._names if words & set(known.split())]
        return tuple(dict.fromkeys([*spelled, *sharing]))[:3]


def _folded(name: str) -> str:
    """Case, hyphens and doubled spaces do not tell two ingredients apart."""
    return " ".join(name.lower().replace("-", " ").split())


def _composed(ingredient: Ingredient, named: Mapping[str, Ingredient], above: tuple[str, ...]) -> Ingredient:
    """A culture with the flour and water of what it is made of; any other ingredient as it is."""
    if not ingredient.made_of or ingredient.name in above:
        return ingredient
    path = (*above, ingredient.name)
    parts = [
        (_composed(named[_folded(item)], named, path), share)
        for item, share in ingredient.made_of
        if _folded(item) in named
    ]
    total = sum((share for _, share in parts), ZERO) or HUNDRED
    flour = sum((share * part.flour for part, share in parts), ZERO)
    water = sum((share * part.water for part, share in parts if part.kind is not Kind.FLOUR), ZERO)
    return replace(ingredient, flour=CONTEXT.divide(flour, total), water=CONTEXT.divide(water, total))
