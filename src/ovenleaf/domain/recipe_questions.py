"""What a card cannot tell, as questions with the answers there are: which salt or yeast, how it was fed, how much."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain.card import Asked, Choice, Sure, page_grams
from ovenleaf.domain.ingredients import Kind
from ovenleaf.domain.numbers import CONTEXT, ZERO, plain
from ovenleaf.domain.quantity import MILLILITRES_PER, Unit
from ovenleaf.domain.recipe_units import Measures, unit_named
from ovenleaf.domain.recipe_weights import NO_SOURCE

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ovenleaf.domain.ingredients import Ingredient, Pantry
    from ovenleaf.domain.recipe_items import Meant
    from ovenleaf.domain.recipe_lines import Heard
    from ovenleaf.domain.recipe_measures import Amount
    from ovenleaf.domain.recipe_weights import Weight

# Cubes of fresh yeast as they are sold; common practice, no source. USDA SR28 18374 has the small cake of 0.6 oz, 17 g.
CAKES = (("a US cake", 17), ("an Italian cube", 25), ("a German cube", 42), ("a Nordic cube", 50))
# A spoon of flakes weighs half of one of table salt; kosher salt by brand 2.8 to 5 g (reported, not confirmed).
_FLAKES = Decimal("0.5")


def as_card_says(heard: Heard, words: str) -> str:
    """The amount in the card's own words, or the whole line where it has none."""
    typed = " ".join(one.typed for one in heard.amounts if one.typed)
    return typed if typed and not heard.doubts else words


def how_much(key: str, was: str, *, about: str = "how much it weighs", choices: tuple[Choice, ...] = ()) -> Asked:
    """A question with an amount for an answer."""
    return Asked(key=key, was=was, about=about, choices=choices)


def which_salt(meant: Meant, amounts: tuple[Amount, ...], was: str, pantry: Pantry, measures: Measures) -> Asked:
    """Salt by the spoon, of no kind or of one that brands grind differently."""
    spoons = teaspoons(amounts, measures)
    table = pantry.get("table salt").teaspoon or ZERO
    kosher = [(other.how, other.grams) for other in pantry.get("kosher salt").weighed_otherwise]
    choices = [
        Choice(
            said=f"kosher salt, {how}",
            item="kosher salt",
            amount=page_grams(each * spoons),
            how=f"guess, teaspoon {plain(each)} g",
            sure=Sure.GUESSED,
        )
        for how, each in kosher
    ]
    flaky = Choice(
        said="flaky sea salt",
        item="flaky sea salt",
        amount=page_grams(table * _FLAKES * spoons),
        how="guess, half of table salt",
        sure=Sure.GUESSED,
    )
    if meant.unclear != "salt":
        own = meant.ingredient.name
        choices = choices if own == "kosher salt" else [flaky] if own == "flaky sea salt" else []
        return Asked(
            key=meant.name,
            was=was,
            about="which brand; a spoon of one weighs twice that of another",
            choices=tuple(choices),
        )
    source = pantry.get("table salt").source_of("teaspoon")
    first = Choice(
        said="table salt",
        item="table salt",
        amount=page_grams(table * spoons),
        how=f"table, teaspoon {plain(table)} g, {source}",
    )
    return Asked(key=meant.name, was=was, about="table, kosher or flaky", choices=(first, *choices, flaky))


def teaspoons(amounts: tuple[Amount, ...], measures: Measures) -> Decimal:
    """So many US teaspoons by volume, the middle of a range; a pinch is a sixteenth of a spoon of those measures."""
    each = CONTEXT.divide(unit_named("teaspoon").millilitres(measures) or ZERO, MILLILITRES_PER[Unit.TSP])
    total = ZERO
    for one in amounts:
        middle = (one.low + one.high) / 2 * one.part
        volume = one.unit.millilitres(measures) if one.unit is not None else None
        if one.name == "pinch":
            total += middle * each * Decimal("0.0625")
        elif volume is not None:
            total += middle * CONTEXT.divide(volume, MILLILITRES_PER[Unit.TSP])
    return total


def which_yeast(meant: Meant, amounts: tuple[Amount, ...], was: str, pantry: Pantry, measures: Measures) -> Asked:
    """Yeast of no kind, in a packet, by the spoon, or by weight."""
    weight = _grams(amounts)
    dry = ("active dry yeast", "instant yeast")
    kinds = dry if "dry" in meant.name or "dried" in meant.name or weight is None else (*dry, "fresh yeast")
    choices = []
    for kind in kinds:
        grams = weight if weight is not None else _dry(amounts, pantry.get(kind), pantry, measures)
        if grams is not None:
            how, sure = (
                ("as on the card", Sure.CARD) if weight is not None else _by_what(amounts, pantry.get(kind), pantry)
            )
            choices.append(Choice(said=kind, item=kind, amount=page_grams(grams), how=how, sure=sure))
    return Asked(key=meant.name, was=was, about="which yeast: " + " or ".join(kinds), choices=tuple(choices))


def _grams(amounts: tuple[Amount, ...]) -> Decimal | None:
    """The weight that a card gives; None where it gives none."""
    if not amounts or any(one.unit is None or one.unit.grams is None for one in amounts):
        return None
    each = ((one.low + one.high) / 2 * one.part * one.unit.grams for one in amounts if one.unit and one.unit.grams)
    return sum(each, ZERO)


def _by_what(amounts: tuple[Amount, ...], yeast: Ingredient, pantry: Pantry) -> tuple[str, Sure]:
    """How the weight of a packet or of spoons of dry yeast is known."""
    if amounts[0].name != "packet":
        source = yeast.source_of("teaspoon")
        guessed = source.startswith(NO_SOURCE)
        how = f"{'guess' if guessed else 'table'}, teaspoon {plain(yeast.teaspoon or ZERO)} g, {source}"
        return how, Sure.GUESSED if guessed else Sure.TABLE
    if yeast.packet is not None:
        return f"table, packet {plain(yeast.packet)} g, {yeast.source_of('packet')}", Sure.TABLE
    other = pantry.get("active dry yeast")
    return f"guess, from a packet of active dry yeast, {plain(other.packet or ZERO)} g", Sure.GUESSED


def _dry(amounts: tuple[Amount, ...], yeast: Ingredient, pantry: Pantry, measures: Measures) -> Decimal | None:
    """A packet or spoons of dry yeast."""
    if len(amounts) == 1 and amounts[0].name == "packet":
        packet = yeast.packet or pantry.get("active dry yeast").packet
        return None if packet is None else packet * amounts[0].high
    if (
        amounts
        and yeast.teaspoon is not None
        and all(one.unit is not None and one.unit.volume is not None for one in amounts)
    ):
        return teaspoons(amounts, measures) * yeast.teaspoon
    return None


def yeast_cake(meant: Meant, amounts: tuple[Amount, ...], was: str) -> Asked:
    """A cake or cube of fresh yeast, which every country cuts to another size."""
    count = (amounts[0].low + amounts[0].high) / 2 if amounts else Decimal(1)
    choices = tuple(
        Choice(
            said=said, item="fresh yeast", amount=page_grams(count * each), how=f"{said} of {each} g", sure=Sure.GUESSED
        )
        for said, each in CAKES
    )
    return Asked(key=meant.name, was=was, about="how large a cake of yeast is", choices=choices)


def which_starter(meant: Meant, amounts: tuple[Amount, ...], was: str, pantry: Pantry) -> Asked:
    """A starter of which it is not said how it is fed; by volume it is not known either what it weighs."""
    weight = _grams(amounts)
    rye = "rye" in meant.name
    kinds = ("rye sour", "stiff rye sour") if rye else ("levain", "liquid levain", "stiff levain")
    amount = "" if weight is None else page_grams(weight)
    choices = tuple(
        Choice(said=kind, item=kind, amount=amount, how=_fed(pantry.get(kind)))
        for kind in kinds
        if pantry.get(kind).known
    )
    about = "how it is fed, water to flour" if weight is not None else "how it is fed, and what it weighs"
    return Asked(key=meant.name, was=was, about=about, choices=choices)


def _fed(culture: Ingredient) -> str:
    parts = ", ".join(f"{item} {share}" for item, share in culture.made_of)
    return f"fed with {parts}" if parts else "as said"


def which_kind(meant: Meant, was: str, weights: Sequence[Weight | None]) -> Asked:
    """Something the list does not know, or knows several of, though it matters what it brings.

    `weights` are what it would weigh as each of those that it may be, None where no list knows that.
    """
    choices = tuple(
        Choice(
            said=name,
            item=name,
            amount=page_grams(weight.grams) if weight else "",
            how=f"{weight.how}, {weight.source}".removesuffix(", ") if weight else "",
            sure=Sure.GUESSED,
        )
        for name, weight in zip(meant.near, weights, strict=True)
    )
    about = "which cream" if meant.name == "cream" else "not in the ingredient list; what is it near to"
    return Asked(key=meant.name, was=was, about=about, choices=choices)


def which_measure(meant: Meant, amounts: tuple[Amount, ...], was: str) -> Asked:
    """Pints and quarts, of which a British one holds a fifth more than a US one."""
    choices = []
    for said, measures in (("US measure", Measures.US), ("imperial measure", Measures.IMPERIAL)):
        volume = sum(
            (
                (one.low + one.high) / 2 * one.part * (one.unit.millilitres(measures) or ZERO)
                for one in amounts
                if one.unit
            ),
            ZERO,
        )
        density = meant.ingredient.density or _worked(meant.ingredient)
        if density is not None:
            choices.append(Choice(said=said, amount=page_grams(volume * density), how=f"{said}, {volume:.0f} ml"))
    return Asked(
        key=meant.name,
        was=was,
        about=f"whose {amounts[0].name}: a British one holds a fifth more",
        choices=tuple(choices),
    )


def _worked(ingredient: Ingredient) -> Decimal | None:
    """g to the ml by the cup."""
    if ingredient.cup is None or ingredient.kind is Kind.FLOUR:
        return None
    return CONTEXT.divide(ingredient.cup, MILLILITRES_PER[Unit.CUP])
