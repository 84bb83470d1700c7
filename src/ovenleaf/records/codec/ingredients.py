"""An ingredient list, the built-in one or a book's own, to Ingredients."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain.ingredients import Ingredient, Kind
from ovenleaf.domain.numbers import ZERO
from ovenleaf.records.codec.reading import Reading

if TYPE_CHECKING:
    from decimal import Decimal

    from ovenleaf.records.nodes import Page


def read_ingredients(page: Page) -> tuple[Ingredient, ...]:
    """The ingredients of a list, in its order. Raises PageRefused with every fault that is found."""
    reading = Reading(page)
    found = tuple(_ingredient(reading, name) for name in reading.keys("ingredients"))
    reading.finish(f"{page.path} cannot be read.")
    return found


def _ingredient(reading: Reading, name: str) -> Ingredient:
    where = ("ingredients", name)

    def part(key: str) -> Decimal:
        value = reading.number(*where, key) or ZERO
        if not 0 <= value <= 100:
            reading.fault((*where, key), "part", f"{key} of {name} is {value}; it is g in 100 g, so 0 to 100.")
        return value

    def figure(key: str) -> Decimal | None:
        value = reading.number(*where, key)
        if value is not None and value < 0:
            reading.fault((*where, key), "figure", f"{key} of {name} is {value}; it should not be less than nothing.")
        return value

    def weight(key: str) -> Decimal | None:
        value = reading.number(*where, key)
        if value is not None and value <= 0:
            reading.fault((*where, key), "figure", f"{key} of {name} is {value}; it should weigh something.")
        return value

    made_of = [(item, reading.number(*where, "made_of", item)) for item in reading.keys(*where, "made_of")]
    return Ingredient(
        name=name,
        kind=_kind(reading, name),
        flour=part("flour"),
        water=part("water"),
        fat=part("fat"),
        protein=figure("protein"),
        carbohydrate=figure("carbohydrate"),
        sugars=part("sugars"),
        milk_sugar=part("milk_sugar"),
        ash=figure("ash"),
        salt=part("salt"),
        density=weight("density"),
        cup=weight("cup"),
        tablespoon=weight("tablespoon"),
        teaspoon=weight("teaspoon"),
        packet=weight("packet"),
        piece=weight("piece"),
        instant=figure("instant"),
        made_of=tuple((item, share) for item, share in made_of if share is not None),
        reaches_dough=reading.truth(*where, "reaches_dough") is not False,
        allergens=reading.texts(*where, "allergens"),
        also=reading.texts(*where, "also"),
        source=reading.text(*where, "source"),
        note=reading.text(*where, "note"),
    )


def _kind(reading: Reading, name: str) -> Kind:
    typed = reading.text("ingredients", name, "kind") or Kind.OTHER.value
    try:
        return Kind(typed)
    except ValueError:
        reading.fault(("ingredients", name, "kind"), "kind", f"kind: {typed} is not one of {', '.join(Kind)}.")
        return Kind.OTHER
