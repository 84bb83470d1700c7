"""What a book knows of one ingredient, as text: each figure with its unit, and where it is from."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain.numbers import plain
from ovenleaf.present.screen import blocks, join_words, rows, wrap

if TYPE_CHECKING:
    from decimal import Decimal

    from ovenleaf.domain.ingredients import Ingredient

_PARTS = (
    ("flour", "counts as flour"),
    ("water", ""),
    ("fat", ""),
    ("protein", ""),
    ("sugars", ""),
    ("milk_sugar", "of the sugars, milk sugar, which yeast leaves alone"),
    ("salt", ""),
    ("ash", ""),
)
_HOUSEHOLD = ("cup", "tablespoon", "teaspoon", "packet", "piece")


def ingredient_screen(ingredient: Ingredient) -> str:
    """The figures, the household weights, the allergens and the source."""
    also = f" Also called {join_words(ingredient.also, 'or')}." if ingredient.also else ""
    return blocks(
        wrap(f"{ingredient.name.capitalize()}, {_kind(ingredient)}.{also}"),
        _composition(ingredient),
        _household(ingredient),
        wrap(_yeast(ingredient)),
        wrap(_culture(ingredient)),
        wrap(_stays_inside(ingredient)),
        wrap(f"Contains {join_words(ingredient.allergens)}.") if ingredient.allergens else "",
        wrap(f"Source of the figures: {ingredient.source}.") if ingredient.source else "",
        wrap(f"{ingredient.note[:1].upper()}{ingredient.note[1:]}.") if ingredient.note else "",
    )


def _kind(ingredient: Ingredient) -> str:
    article = "an" if ingredient.kind.value[0] in "aeiou" else "a"
    return f"{article} {ingredient.kind.value}" if ingredient.kind.value != "other" else "kind not said"


def _composition(ingredient: Ingredient) -> str:
    lines = [
        (name.replace("_", " "), f"{plain(value)} g", words)
        for name, words in _PARTS
        if (value := getattr(ingredient, name)) is not None and (value or name == "water")
    ]
    if not any(getattr(ingredient, name) for name, _ in _PARTS):
        return "What it is made of is not known."
    return "In 100 g\n" + rows(lines, "<><")


def _household(ingredient: Ingredient) -> str:
    lines = [(f"1 {name}", f"{plain(value)} g") for name in _HOUSEHOLD if (value := _weight(ingredient, name))]
    if ingredient.density is not None:
        lines.append(("1 ml", f"{plain(ingredient.density)} g"))
    if not lines:
        return ""
    spoons = any(name in ("1 tablespoon", "1 teaspoon", "1 cup") for name, _ in lines)
    words = wrap("Spoons and cups differ from hand to hand; a scale does not.", 2) if spoons else ""
    return "\n".join(filter(None, ("By the piece, spoon or cup", rows(lines, "<>"), words)))


def _weight(ingredient: Ingredient, name: str) -> Decimal | None:
    value: Decimal | None = getattr(ingredient, name)
    return value


def _yeast(ingredient: Ingredient) -> str:
    if ingredient.instant is None:
        return ""
    return f"1 g does the work of {plain(ingredient.instant)} g of instant yeast."


def _culture(ingredient: Ingredient) -> str:
    if not ingredient.made_of:
        return ""
    parts = join_words([f"{item} {plain(share)}" for item, share in ingredient.made_of])
    return f"Made of {parts}, in shares of its own flour."


def _stays_inside(ingredient: Ingredient) -> str:
    return "" if ingredient.reaches_dough else "The water inside it stays inside and is not counted in any dough."
