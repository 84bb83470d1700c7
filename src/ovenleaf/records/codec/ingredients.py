"""An ingredient list, the built-in one or a book's own, to Ingredients; and one more for a book's own."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain.ingredients import MEASURES, MOST, Ingredient, Kind, Listed, OtherWeight, parts_words
from ovenleaf.domain.numbers import HUNDRED, NUMBER, ZERO, number, plain
from ovenleaf.records import splice
from ovenleaf.records.codec.reading import Reading
from ovenleaf.records.nodes import MapNode, ScalarNode, find
from ovenleaf.records.nodes import plain as plain_data
from ovenleaf.records.reshape import reshaped
from ovenleaf.records.yaml_out import dump
from ovenleaf.records.yaml_text import read

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ovenleaf.records.nodes import Node, Page, Plain

FORMAT = "ingredients/1"


def read_ingredients(page: Page) -> tuple[Ingredient, ...]:
    """The ingredients of a list, in its order. Raises PageRefused with every fault that is found."""
    reading = Reading(page)
    found = tuple(_ingredient(reading, name) for name in reading.keys("ingredients"))
    reading.finish(f"{page.path} cannot be read.")
    return found


# In the built-in list an ingredient's name is set in by two, what is told of it by four, its other names by six.
_BLOCK = re.compile(r"^  (?P<name>[a-zA-Z][^\n:]*):\n(?:(?: {4}[^\n]*)?\n)+", re.MULTILINE)
_ALSO = re.compile(r"^    also:\n(?P<names>(?:      - [^\n]+\n)+)", re.MULTILINE)


def list_ingredients(text: str) -> tuple[Listed, ...]:
    """The built-in list by its names, in its order; each is read when it is asked for.

    A command asks for ten of them, and to read them all costs some twenty milliseconds. What is asked for is
    read from its lines by the same reader as any other page.
    """
    return tuple(_listed(found) for found in _BLOCK.finditer(text))


def _listed(found: re.Match[str]) -> Listed:
    also = _ALSO.search(found[0])
    names = [line.strip(" -") for line in also["names"].splitlines()] if also else []

    def look_up() -> Ingredient:
        return read_ingredients(read(f"ingredients:\n{found[0]}", path="the built-in list"))[0]

    return Listed(name=found["name"], also=tuple(names), read=look_up)


def _ingredient(reading: Reading, name: str) -> Ingredient:
    where = ("ingredients", name)
    lines = _lines(reading, name)
    before = len(reading.findings)

    def figure(key: str) -> Decimal | None:
        node = lines.get(key)
        if isinstance(node, ScalarNode) and isinstance(node.value, Decimal):
            return node.value
        return None if node is None else reading.number(*where, key)

    def part(key: str) -> Decimal | None:
        value = figure(key)
        if value is not None and not 0 <= value <= HUNDRED:
            reading.fault((*where, key), "part", f"{key} of {name} is {value}; it is g in 100 g, so 0 to 100.")
        return value

    def weight(key: str) -> Decimal | None:
        value = figure(key)
        if value is not None and value <= 0:
            reading.fault((*where, key), "figure", f"{key} of {name} is {value}; it should weigh something.")
        return value

    def words(key: str) -> str:
        return reading.text(*where, key) if key in lines else ""

    one = Ingredient(
        name=name,
        kind=_kind(reading, name),
        flour=part("flour") or ZERO,
        water=part("water"),
        fat=part("fat"),
        saturates=part("saturates"),
        protein=part("protein"),
        carbohydrate=part("carbohydrate"),
        sugars=part("sugars"),
        fibre=part("fibre"),
        milk_sugar=part("milk_sugar") or ZERO,
        ash=part("ash"),
        sodium=part("sodium"),
        salt=part("salt"),
        density=weight("density"),
        cup=weight("cup"),
        tablespoon=weight("tablespoon"),
        teaspoon=weight("teaspoon"),
        packet=weight("packet"),
        piece=weight("piece"),
        weighed_otherwise=_otherwise(reading, name) if "weighed_otherwise" in lines else (),
        instant=weight("instant"),
        made_of=_made_of(reading, name) if "made_of" in lines else (),
        reaches_dough="reaches_dough" not in lines or reading.truth(*where, "reaches_dough") is not False,
        allergens=reading.texts(*where, "allergens") if "allergens" in lines else (),
        also=reading.texts(*where, "also") if "also" in lines else (),
        source=words("source"),
        sources=tuple((key.removesuffix("_source"), words(key)) for key in lines if key.endswith("_source")),
        note=words("note"),
    )
    if one.contents > MOST and len(reading.findings) == before:
        reading.fault(where, "parts", f"{name} would hold {plain(one.contents)} g in 100 g: {parts_words(one)}.")
    return one


def _lines(reading: Reading, name: str) -> dict[str, Node]:
    """What is told of an ingredient, by key. The list is long and read by every command, so it is looked up once."""
    block = reading.node(("ingredients", name))
    reading.keys("ingredients", name)  # notes a fault where the block is none
    return {entry.key: entry.node for entry in block.entries} if isinstance(block, MapNode) else {}


def _made_of(reading: Reading, name: str) -> tuple[tuple[str, Decimal], ...]:
    where = ("ingredients", name, "made_of")
    shares = [(item, reading.number(*where, item)) for item in reading.keys(*where)]
    return tuple((item, share) for item, share in shares if share is not None)


_OTHERWISE = re.compile(rf"(?P<grams>{NUMBER}) g, (?P<source>.+)")


def _otherwise(reading: Reading, name: str) -> tuple[OtherWeight, ...]:
    """`cup, sifted: 117 g, SOURCE`, one to a line."""
    where = ("ingredients", name, "weighed_otherwise")
    found = []
    for key, typed in reading.pairs(*where):
        measure, _, how = key.partition(", ")
        told = _OTHERWISE.fullmatch(typed)
        if measure not in MEASURES or not how or told is None:
            example = "cup, sifted: 117 g, the miller's data sheet"
            reading.fault((*where, key), "otherwise", f"{key}: {typed} cannot be read. Write it like {example}")
            continue
        found.append(OtherWeight(measure=measure, how=how, grams=number(told["grams"]), source=told["source"]))
    return tuple(found)


def _kind(reading: Reading, name: str) -> Kind:
    typed = reading.text("ingredients", name, "kind") or Kind.OTHER.value
    try:
        return Kind(typed)
    except ValueError:
        reading.fault(("ingredients", name, "kind"), "kind", f"kind: {typed} is not one of {', '.join(Kind)}.")
        return Kind.OTHER


_PARTS = (
    "water",
    "fat",
    "saturates",
    "protein",
    "carbohydrate",
    "sugars",
    "fibre",
    "milk_sugar",
    "ash",
    "sodium",
    "salt",
    "density",
    *MEASURES,
)


def with_ingredient(page: Page | None, one: Ingredient) -> str:
    """The text of a book's list with one more ingredient; a new list where there is none."""
    lines = _written(one)
    if page is None:
        return dump({"format": FORMAT, "ingredients": {one.name: lines}})
    if find(page.root, ("ingredients",)) is None:
        return splice.insert(page, (), "ingredients", {one.name: lines})
    return splice.insert(page, ("ingredients",), one.name, lines)


def with_weights(page: Page, name: str, one: Ingredient, measures: Sequence[str]) -> str:
    """The text of a book's list in which `name` stands already, with these measures as `one` has them."""
    data = plain_data(page.root)
    assert isinstance(data, dict)
    lines = data["ingredients"][name]  # type: ignore[index,call-overload]  # a list that was read holds mappings
    written = _written(one)
    assert isinstance(lines, dict), "an ingredient is a mapping"
    for key in (*measures, *(f"{measure}_source" for measure in measures), "weighed_otherwise", "note"):
        if key in written:
            lines[key] = _as_read(written[key])
        else:
            lines.pop(key, None)
    return reshaped(page, data).text


def _as_read(value: Plain) -> Plain:
    """A figure as a reader of the page has it: whole numbers are whole."""
    return int(value) if isinstance(value, Decimal) and value == value.to_integral_value() else value


def _written(one: Ingredient) -> dict[str, Plain]:
    """What is known of it, in the order of the built-in list; what is not known is left out."""
    told: dict[str, Plain] = {
        "also": list(one.also),
        "kind": one.kind.value,
        "flour": one.flour or None,
        **{key: getattr(one, key) for key in _PARTS},
        "weighed_otherwise": {
            f"{other.measure}, {other.how}": f"{plain(other.grams)} g, {other.source}"
            for other in one.weighed_otherwise
        },
        "instant": one.instant,
        "made_of": dict(one.made_of),
        "reaches_dough": None if one.reaches_dough else False,
        "allergens": list(one.allergens),
        "source": one.source,
        **{f"{fact}_source": source for fact, source in one.sources},
        "note": one.note,
    }
    told["milk_sugar"] = one.milk_sugar or None
    return {key: value for key, value in told.items() if value is not None and value not in ([], {}, "")}
