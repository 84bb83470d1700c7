"""A recipe as schema.org data for a web page, in JSON-LD.

Vocabulary: https://schema.org/Recipe. Times are ISO 8601 durations and only those that the steps say; nothing is
guessed for the work between.
"""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from ovenleaf.domain.numbers import ZERO, plain, rounded
from ovenleaf.domain.nutrition import SODIUM
from ovenleaf.domain.scaling import FINAL
from ovenleaf.present.publishing.recipe_foot import (
    allergen_words,
    bare_source,
    behind_words,
    cautions,
    revision_stamp,
    source_words,
)
from ovenleaf.present.publishing.recipe_words import pieces_words, reader_page, yield_words
from ovenleaf.present.screen import clean

if TYPE_CHECKING:
    from decimal import Decimal

    from ovenleaf.domain.durations import Duration
    from ovenleaf.results.publishing import Recipe

Node = dict[str, object]


def recipe_jsonld(recipe: Recipe) -> str:
    """The data as text, ending without a line end."""
    return json.dumps(_cleaned(recipe_data(recipe)), ensure_ascii=False, indent=2)


def recipe_data(recipe: Recipe) -> Node:
    """One Recipe node with all that is known, and nothing that is not."""
    formula, page = recipe.sheet.formula, reader_page(recipe)
    times = {"totalTime": recipe.lengths.whole, "cookTime": recipe.lengths.oven}
    return {
        "@context": "https://schema.org",
        "@type": "Recipe",
        "name": formula.label,
        **({"description": page.intro[0]} if formula.aims else {}),
        **_given("author", [{"@type": "Person", "name": name} for name in recipe.credits.by]),
        **_given(
            "isBasedOn", [{"@type": "CreativeWork", "name": bare_source(name)} for name in recipe.credits.sources]
        ),
        **({"dateCreated": formula.saved[:10]} if formula.saved else {}),
        "datePublished": recipe.made,
        "version": str(recipe.sheet.revision),
        "isPartOf": {"@type": "CreativeWork", "name": recipe.book},
        "recipeCategory": "Bread",
        "recipeYield": _yield(recipe),
        **{name: iso_duration(length) for name, length in times.items() if length is not None},
        "recipeIngredient": [*ingredients(recipe), *page.beside],
        "recipeInstructions": _steps(recipe),
        **_nutrition(recipe),
        **({"creditText": source} if (source := source_words(recipe)) else {}),
        "comment": [
            {"@type": "Comment", "text": words}
            for words in (
                *allergen_words(recipe),
                " ".join(cautions(recipe)),
                behind_words(recipe),
                revision_stamp(recipe),
            )
        ],
    }


def _given(name: str, value: list[object]) -> Node:
    return {name: value} if value else {}


def _yield(recipe: Recipe) -> str:
    """`12 rolls of 85 g`, so that whoever reads it knows both how many and how large."""
    if recipe.pieces is None or recipe.each is None:
        return yield_words(recipe).removeprefix("Makes ").rstrip(".")
    return f"{pieces_words(recipe)} of {plain(rounded(recipe.each, 0))} g"


_NAMES = {
    "fatContent": "fat",
    "saturatedFatContent": "saturates",
    "carbohydrateContent": "carbohydrate",
    "sugarContent": "sugars",
    "fiberContent": "fibre",
    "proteinContent": "protein",
}


def _nutrition(recipe: Recipe) -> Node:
    """What 100 g of the bread hold and what that rests on; nothing where not all of it is known."""
    found = recipe.nutrition
    if found is None or found.kilocalories is None or found.not_known:
        return {}
    grams = {
        name: f"{plain(rounded(value, 1))} g" for name, key in _NAMES.items() if (value := found.of(key)) is not None
    }
    salt = found.of("salt")
    sodium = {} if salt is None else {"sodiumContent": f"{plain(rounded(salt * 1000 / SODIUM, 0))} mg"}
    basis = "Worked out from the ingredient list and the measured bake loss, without what stands beside the dough."
    return {
        "nutrition": {
            "@type": "NutritionInformation",
            "servingSize": "100 g",
            "calories": f"{plain(rounded(found.kilocalories, 0))} kcal",
            **grams,
            **sodium,
            "description": basis,
        }
    }


def iso_duration(length: Duration) -> str:
    """The longer end of a length as ISO 8601 has it: `PT14H20M`, days as hours."""
    minutes = int(rounded(length.high, 0))
    hours, rest = divmod(minutes, 60)
    return f"PT{f'{hours}H' if hours else ''}{f'{rest}M' if rest or not hours else ''}"


def ingredients(recipe: Recipe) -> list[str]:
    """What goes in over all the bowls, in the order it is first used: `600 g strong wheat flour`."""
    made = {bowl.name for bowl in recipe.bowls}
    sums: dict[str, Decimal] = {}
    notes: dict[str, str] = {}
    for bowl in recipe.bowls:
        for line in bowl.lines:
            if line.item not in made - {bowl.name}:
                sums[line.item] = sums.get(line.item, ZERO) + line.grams
                notes[line.item] = notes.get(line.item) or line.note
    return [", ".join(filter(None, (f"{plain(sums[item])} g {item}", notes[item]))) for item in sums]


def _steps(recipe: Recipe) -> list[Node]:
    """What is made ahead with its own weights, since the list of ingredients has all of them together."""
    own = {bowl.name.replace("-", " ").capitalize(): bowl for bowl in recipe.bowls if bowl.name != FINAL}
    steps: list[Node] = []
    for name, words in reader_page(recipe).steps:
        bowl = own.get(name)
        weights = ", ".join(f"{plain(line.grams)} g {line.item}" for line in bowl.lines) if bowl else ""
        told = f"{words[:1].upper()}{words[1:]}"
        steps.append({"@type": "HowToStep", "name": name, "text": f"{weights}. {told}" if weights else told})
    return steps


def _cleaned(value: object) -> object:
    """The same with what a terminal or a page would obey shown as its code."""
    if isinstance(value, dict):
        return {key: _cleaned(one) for key, one in value.items()}
    if isinstance(value, list):
        return [_cleaned(one) for one in value]
    return clean(value) if isinstance(value, str) else value
