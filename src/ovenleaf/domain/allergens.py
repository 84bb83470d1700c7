"""Allergens as the two laws group them, from the words of the ingredient list.

US: FALCPA 2004 (milk, egg, fish, crustacean shellfish, tree nuts, peanuts, wheat, soybeans) and the FASTER Act 2021
(sesame). EU: Regulation (EU) 1169/2011, Annex II: fourteen groups, the cereals and the nuts named one by one.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

_NUTS = ("almond", "hazelnut", "walnut", "cashew", "pecan", "brazil nut", "pistachio", "macadamia")
_CEREALS = ("wheat", "spelt", "khorasan", "rye", "barley", "oats")
_WHEATS = ("wheat", "spelt", "khorasan")  # kinds of wheat to both laws

_ALONE = {
    "milk": ("milk", "milk"),
    "egg": ("egg", "eggs"),
    "fish": ("fish", "fish"),
    "crustaceans": ("crustacean shellfish", "crustaceans"),
    "peanuts": ("peanuts", "peanuts"),
    "soy": ("soybeans", "soybeans"),
    "sesame": ("sesame", "sesame"),
    "celery": ("", "celery"),
    "mustard": ("", "mustard"),
    "sulphites": ("", "sulphites"),
    "lupin": ("", "lupin"),
    "molluscs": ("", "molluscs"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Allergens:
    """What to name by each law; `others` are words of the list that neither law groups."""

    us: tuple[str, ...]
    eu: tuple[str, ...]
    others: tuple[str, ...] = ()


def allergens(words: Iterable[str]) -> Allergens:
    """Group the list's words.

    >>> found = allergens(["wheat", "gluten", "rye", "milk"])
    >>> found.us, found.eu
    (('wheat', 'milk'), ('cereals containing gluten (wheat, rye)', 'milk'))
    """
    given = dict.fromkeys(word.lower() for word in words)
    cereals = [word for word in _CEREALS if word in given]
    nuts = [word for word in _NUTS if word in given]
    some_nuts = bool(nuts) or "tree nuts" in given
    alone = [_ALONE[word] for word in given if word in _ALONE]
    us = [*(["wheat"] if any(word in _WHEATS for word in cereals) else []), *(name for name, _ in alone if name)]
    eu = [_group("cereals containing gluten", cereals)] if cereals or "gluten" in given else []
    eu += [name for _, name in alone]
    if some_nuts:
        us.append(_group("tree nuts", nuts))
        eu.append(_group("nuts", nuts))
    known = {*_ALONE, *_CEREALS, *_NUTS, "gluten", "tree nuts"}
    return Allergens(us=tuple(us), eu=tuple(eu), others=tuple(word for word in given if word not in known))


def _group(name: str, kinds: list[str]) -> str:
    return f"{name} ({', '.join(kinds)})" if kinds else name
