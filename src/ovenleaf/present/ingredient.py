"""What a book knows of one ingredient, as text: each figure with its unit, and where it is from."""

from __future__ import annotations

import shlex
from typing import TYPE_CHECKING

from ovenleaf.domain.ingredients import MEASURES, Kind
from ovenleaf.domain.numbers import ZERO, plain, rounded
from ovenleaf.errors import Next
from ovenleaf.present.screen import blocks, join_words, next_block, rows, wrap
from ovenleaf.present.writing import ahead

if TYPE_CHECKING:
    from decimal import Decimal

    from ovenleaf.domain.ingredients import Ingredient
    from ovenleaf.results import AddedIngredient

_ALWAYS = ("water", "fat", "sugars", "salt")  # told even where they are nothing, or not known
_PARTS = ("flour", "water", "fat", "saturates", "protein", "sugars", "fibre", "milk_sugar", "salt", "sodium", "ash")
_NOT_KNOWN = "not known"


def ingredient_screen(ingredient: Ingredient) -> str:
    """The figures, the household weights, the allergens, and where each of them is from."""
    also = f" Also called {join_words(ingredient.also, 'or')}." if ingredient.also else ""
    return blocks(
        wrap(f"{ingredient.name[:1].upper()}{ingredient.name[1:]}{_kind(ingredient)}.{also}"),
        _composition(ingredient),
        wrap(_culture(ingredient)),
        _household(ingredient),
        wrap(_yeast(ingredient)),
        wrap(f"Contains {join_words(ingredient.allergens)}.") if ingredient.allergens else "",
        _sources(ingredient),
        wrap(f"{ingredient.note[:1].upper()}{ingredient.note[1:]}.") if ingredient.note else "",
    )


def added_screen(result: AddedIngredient) -> str:
    """An ingredient was put into the book's own list, and what the list now says of it."""
    one = result.ingredient
    if result.weighed:
        return _weighed_screen(result)
    return blocks(
        ahead(result),
        wrap(f"Added to this book's own ingredients: {one.name}.{_instead(result)}"),
        ingredient_screen(one),
        wrap(_allergens_words(result)),
        next_block(
            (
                Next(f"ovenleaf show {shlex.quote(one.name)}", "the same again"),
                Next("ovenleaf check", "whether all formulas still come out"),
            )
        ),
    )


def _weighed_screen(result: AddedIngredient) -> str:
    """What measures of a known ingredient weigh in this kitchen, from now on."""
    one = result.ingredient
    told = [(f"1 {name}", f"{plain(_weight(one, name) or ZERO)} g") for name in result.weighed]
    head = f"Kept in this book's own ingredients: what {one.name} weighs here. All else that is known of it stays."
    return blocks(
        ahead(result),
        wrap(head),
        rows(told, "<>"),
        wrap("From now on it goes before the tables: for recipes that you adopt, and for cups beside weights."),
        next_block((Next(f"ovenleaf show {shlex.quote(one.name)}", "all that is known of it"),)),
    )


def _instead(result: AddedIngredient) -> str:
    """What the name stood for so far, and no longer does in this book."""
    before = result.instead
    if before is None:
        return ""
    was = "" if before.name == result.ingredient.name else f", where it was another name for {before.name}"
    where = f" ({before.source})" if before.source else ""
    return f" In this book it now goes before the built-in list{was}; the figures there{where} no longer count."


def _allergens_words(result: AddedIngredient) -> str:
    """What was not told of allergens, so that it does not pass for a none."""
    if result.allergens_told:
        return ""
    if result.ingredient.allergens:
        return f"No allergen was told, so what was listed stays: {join_words(result.ingredient.allergens)}."
    return "No allergen was told of it; the label has the last word."


def _kind(ingredient: Ingredient) -> str:
    kind = ingredient.kind
    if kind is Kind.OTHER or kind.value in ingredient.name.lower().split():
        return ""
    if kind is Kind.MILK:
        return ", a dairy product"
    return f", {'an' if kind.value[0] in 'aeiou' else 'a'} {kind.value}"


def _composition(ingredient: Ingredient) -> str:
    if ingredient.made_of:
        lines = [(name, _amount(getattr(ingredient, name)), _words(ingredient, name)) for name in ("flour", "water")]
        return "In 100 g, worked out from what it is made of\n" + rows(lines, "<><")
    told = [(name, getattr(ingredient, name)) for name in _PARTS]
    lines = [
        (name.replace("_", " "), _milligrams(value) if name == "sodium" else _amount(value), _words(ingredient, name))
        for name, value in told
        if value or (name in _ALWAYS and (value is not None or ingredient.kind is not Kind.SALT))
    ]
    return "In 100 g\n" + rows(lines, "<><")


def _amount(value: Decimal | None) -> str:
    return _NOT_KNOWN if value is None else f"{plain(rounded(value, 2))} g"


def _milligrams(value: Decimal | None) -> str:
    return _NOT_KNOWN if value is None else f"{plain(rounded(value * 1000, 0))} mg"


def _words(ingredient: Ingredient, name: str) -> str:
    match name:
        case "saturates":
            return "part of the fat"
        case "fibre":
            return "part of the carbohydrate"
        case "sodium":
            return "all of it, also what is there by nature"
        case "flour":
            return "counts as flour"
        case "water":
            return _water_words(ingredient)
        case "milk_sugar":
            return "part of the sugars; yeast leaves it alone"
        case "salt" if ingredient.kind is Kind.SALT:
            return "a salt line counts whole"
        case "fat" | "sugars" | "salt" if not ingredient.reaches_dough:
            return "stays inside" if getattr(ingredient, name) != 0 else ""
    return ""


def _water_words(ingredient: Ingredient) -> str:
    if not ingredient.reaches_dough:
        return "stays inside; counted in no dough"
    if ingredient.kind is Kind.FLOUR:
        return "flour's own, which is never counted"
    if ingredient.kind is Kind.SALT:
        return "too little to count"
    if ingredient.water is None:
        return "so none is counted"
    return "reaches the dough" if ingredient.water else ""


def _household(ingredient: Ingredient) -> str:
    lines = [
        (f"1 {name}", f"{plain(value)} g", _other_source(ingredient, name))
        for name in MEASURES
        if (value := _weight(ingredient, name))
    ]
    lines += [
        (f"1 {other.measure}, {other.how}", f"{plain(other.grams)} g", other.source)
        for other in ingredient.weighed_otherwise
    ]
    if ingredient.density is not None:
        lines.append(("1 ml", f"{plain(ingredient.density)} g", _other_source(ingredient, "density")))
    if not lines:
        return ""
    spoons = any(_weight(ingredient, name) for name in ("cup", "tablespoon", "teaspoon"))
    said = _spread(ingredient) or ("Spoons and cups differ from hand to hand; a scale does not." if spoons else "")
    table = rows(lines, "<><")
    return "\n".join(filter(None, ("By the piece, spoon or cup", table, wrap(said, 2) if said else "")))


def _other_source(ingredient: Ingredient, fact: str) -> str:
    source = ingredient.source_of(fact)
    return "" if source == ingredient.source else source


def _spread(ingredient: Ingredient) -> str:
    """Where the figures of one measure differ, between what and what."""
    found = [(name, between) for name in MEASURES if (between := ingredient.spread(name))]
    if not found:
        return ""
    told = [f"a {name} is {plain(least)} to {plain(most)} g" for name, (least, most) in found]
    said = join_words(told)
    return f"{said[:1].upper()}{said[1:]}, by how it is filled and who weighed it; a scale settles it."


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


def _sources(ingredient: Ingredient) -> str:
    """The source of the figures, and of each fact that has another; household weights have theirs beside them."""
    beside = {*MEASURES, "density"}
    own = [(name.replace("_", " "), source) for name, source in ingredient.sources if name not in beside]
    if not ingredient.source and not own:
        return "Where this is from is not said."
    lines = [("figures", ingredient.source or "not said"), *own]
    return "Where it is from\n" + rows(lines, "<<")
