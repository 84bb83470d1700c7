"""From a recipe taken apart to a card: each line weighed or asked about, each sentence a step."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from ovenleaf.domain.card import Asked, Card, Sure, Taken, page_grams
from ovenleaf.domain.numbers import ZERO
from ovenleaf.domain.recipe_items import meant
from ovenleaf.domain.recipe_lines import TWO_ALPHABETS, hear
from ovenleaf.domain.recipe_parts import ALL_OF, RecipeFault
from ovenleaf.domain.recipe_steps import steps_of
from ovenleaf.domain.recipe_taking import take
from ovenleaf.domain.recipe_units import Measures
from ovenleaf.domain.recipe_weights import MOST
from ovenleaf.domain.revision import slug_of

if TYPE_CHECKING:
    from collections.abc import Iterator
    from decimal import Decimal

    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.recipe_parts import RecipeParts

# Headings of what never becomes dough.
_OUTSIDE = re.compile(r"topping|glaze|wash|finish|decorat|icing|filling|dust|tin|coating|syrup|frosting|serv|beside")
OUTSIDE = "outside"
ALL = "all"  # of another bowl
_LESS_THAN_NOTHING = re.compile(r"\s*(?:[^\W\d_][^\d]*[\s:])?[-\N{MINUS SIGN}]\d")


def knows(pantry: Pantry, words: str) -> bool:
    """True where the list has what the words mean, or where it is a yeast or starter of whichever kind."""
    found = meant(words, pantry)
    return found.ingredient.known or found.unclear in ("yeast", "starter")


def read_card(parts: RecipeParts, pantry: Pantry, measures: Measures | None) -> Card:
    """The card that a recipe makes. `measures` is None where nobody said whose cups are meant. Raises RecipeFault."""
    bowls = frozenset(slug_of(heading) for heading, _ in parts.lines)
    lines = tuple(
        taken
        for heading, words in parts.lines
        for taken in _all_of(heading, words, bowls) or _taken(heading, words, pantry, measures)
    )
    if mixed := tuple(line.words for line in lines if line.asked is not None and TWO_ALPHABETS in line.asked.about):
        raise RecipeFault("mixed letters", mixed)
    if not any(_may_be_flour(line, pantry) for line in lines):
        raise RecipeFault("no flour", tuple(line.words for line in lines[:3]))
    return Card(
        title=parts.title,
        text=parts.text,
        lines=_parted(_merged(lines)),
        steps=steps_of(parts.steps, parts.step_names),
        makes=parts.makes,
        source=parts.source,
        notes=parts.notes,
        measures=measures or Measures.US,
        measures_said=measures is not None,
        found_in=parts.found_in,
        kept=tuple((slug_of(bowl), amount) for bowl, amount in parts.kept),
    )


def _all_of(heading: str, words: str, bowls: frozenset[str]) -> tuple[Taken, ...]:
    """`all of the sponge`, of a bowl that the recipe has; else ()."""
    found = ALL_OF.fullmatch(words.strip())
    name = slug_of(found["bowl"]) if found else ""
    if name not in bowls or not name:
        return ()
    part = slug_of(heading)
    return (Taken(words=words, item=name, short=words, part=part, amount=ALL, how="all of it"),)


def _taken(heading: str, words: str, pantry: Pantry, measures: Measures | None) -> Iterator[Taken]:
    bowl = OUTSIDE if _OUTSIDE.search(heading.lower()) else slug_of(heading) if heading else ""
    for heard in hear(words):
        part = OUTSIDE if heard.aside else bowl
        if _LESS_THAN_NOTHING.match(words):
            raise RecipeFault("negative", (words,))
        line = take(heard, words, part, meant(heard.item, pantry), pantry, measures)
        if line.grams is not None and line.grams > MOST:
            raise RecipeFault("too much", (words,))
        if line.grams is not None and line.grams <= 0:
            line = replace(line, grams=None, low=None, high=None, amount="", sure=Sure.OPEN, asked=_nothing(line))
        yield line


def _nothing(line: Taken) -> Asked:
    return Asked(key=line.item, was=line.words, about="nothing of it is no ingredient; how much is it")


def _may_be_flour(line: Taken, pantry: Pantry) -> bool:
    one = pantry.get(line.item)
    return one.flour > ZERO or (not one.known and "flour" in line.item)


def _merged(lines: tuple[Taken, ...]) -> tuple[Taken, ...]:
    """One line for an item of a bowl: its amounts added, or one question about both."""
    found: dict[tuple[str, str], Taken] = {}
    for line in lines:
        key = (line.part if not line.purpose else OUTSIDE, line.item)
        before = found.get(key)
        found[key] = line if before is None else _both(before, line)
    return tuple(found.values())


def _both(one: Taken, other: Taken) -> Taken:
    words = one.words if one.words == other.words else f"{one.words}; {other.words}"
    one = replace(one, short=f"{one.short} and {other.short}" if one.short != other.short else one.short)
    if one.purpose or other.purpose:
        purposes = dict.fromkeys(filter(None, (one.purpose, other.purpose)))
        return replace(one, words=words, purpose=", ".join(purposes))
    if one.grams is None or other.grams is None or "pc" in one.amount or "pc" in other.amount:
        was = f"{one.words}; {other.words}"
        asked = Asked(key=one.item, was=was, about="how much both are together")
        return replace(
            one, words=words, amount="", grams=None, low=None, high=None, asked=asked, how=asked.about, sure=Sure.OPEN
        )
    total = one.grams + other.grams
    return replace(
        one,
        words=words,
        grams=total,
        low=(one.low or ZERO) + (other.low or ZERO),
        high=(one.high or ZERO) + (other.high or ZERO),
        amount=page_grams(total),
        asked=None,
        sure=min(one.sure, other.sure, key=list(Sure).index),
    )


def _parted(lines: tuple[Taken, ...]) -> tuple[Taken, ...]:
    """Bowls are only told apart where there are two; the lines under no heading are then the dough."""
    bowls = dict.fromkeys(line.part for line in lines if line.part != OUTSIDE and not line.purpose)
    if len(bowls) > 1:
        return tuple(replace(line, part=line.part or "dough") if not line.purpose else line for line in lines)
    return tuple(line if line.part == OUTSIDE else replace(line, part="") for line in lines)


def asked_again(words: str, key: str, pantry: Pantry, measures: Measures | None) -> Asked | None:
    """The question that a line of a card raises by the name `key`, with how each of its answers is known."""
    taken = (take(heard, words, "", meant(heard.item, pantry), pantry, measures) for heard in hear(words))
    return next((line.asked for line in taken if line.asked is not None and line.asked.key == key), None)


def flour_of(card: Card, pantry: Pantry) -> Decimal:
    """All the flour of a card that is settled so far, in g."""
    inside = [line for line in card.lines if line.grams is not None and line.part != OUTSIDE]
    return sum((line.grams * pantry.get(line.item).flour / 100 for line in inside if line.grams is not None), ZERO)
