"""What cannot be adopted, in words; and the card of an adopted recipe."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book import layout
from ovenleaf.book.steps.card_pages import card_page_of
from ovenleaf.domain.revision import RESERVED, is_slug
from ovenleaf.errors import Next, Refusal
from ovenleaf.records.codec.cards import read_card_page
from ovenleaf.records.page_bytes import decode
from ovenleaf.records.yaml_text import read

if TYPE_CHECKING:
    from pathlib import Path

    from ovenleaf.domain.card_told import CardTold
    from ovenleaf.domain.recipe_parts import RecipeFault
    from ovenleaf.records.nodes import Page


def card_page(root: Path, name: str) -> Page | None:
    """The card's page, read; None where the formula was not adopted. Raises PageFault."""
    data = layout.read_file(root, card_page_of(name))
    return None if data is None else read(decode(data, card_page_of(name)), path=card_page_of(name))


def card_of(root: Path, name: str) -> CardTold | None:
    """The card of a formula; None where it was not adopted. Raises PageFault, PageRefused."""
    page = card_page(root, name)
    return None if page is None else read_card_page(page)


class CannotAdopt(Refusal):
    """What was handed in is not one recipe that can be taken in. Facts: `kind`, `said`."""

    def __init__(self, fault: RecipeFault, shown: str) -> None:
        what, step = _WORDS[fault.kind]
        said = [one for one in fault.said if one and one != "broken"]
        detail = [*(f"  {one}" for one in said), ""] if said else []
        super().__init__(f"Not adopted: {what.format(shown=shown)}", detail=(*detail, step))
        self.kind = fault.kind
        self.said = fault.said


_TO_TEXT = "Copy its title, ingredients and method into a text file, one ingredient to a line, and adopt that."
_WORDS = {
    "empty": ("{shown} is empty.", "Write the recipe into it, as the card has it: one ingredient to a line."),
    "not text": ("{shown} is no text.", _TO_TEXT),
    "letters": (
        "some letters of {shown} cannot be read; it is not saved as UTF-8.",
        "Open it in your editor and save it with the encoding UTF-8.",
    ),
    "not data": ("the recipe data in {shown} is broken off or cannot be read.", _TO_TEXT),
    "page without data": ("{shown} is a page of the web that holds no recipe data (schema.org Recipe).", _TO_TEXT),
    "no recipe": ("{shown} is data, and there is no recipe in it (schema.org Recipe).", _TO_TEXT),
    "two recipes": (
        "{shown} holds more than one recipe:",
        "Put each into a file of its own, and adopt them one by one.",
    ),
    "no ingredients": (
        "no ingredient with an amount was found in {shown}.",
        "Write one ingredient to a line, as in 500 g flour or 2 tsp salt.",
    ),
    "no flour": (
        "no flour is among the ingredients, and shares are of the flour. The first lines are:",
        "If one of them is a flour, call it so, as in 250 g buckwheat flour.",
    ),
    "mixed letters": (
        "a word is spelled with letters of two alphabets, which an eye cannot tell apart:",
        "Type that word anew, and adopt the recipe again.",
    ),
    "negative": ("an amount is less than nothing:", "Put the line right, and adopt it again."),
    "too much": ("an amount is more than a tonne:", "Put the line right, and adopt it again."),
}


class NameWanted(Refusal):
    """The formula has no name yet that can be used. Facts: `name`, `taken`."""

    def __init__(self, shown: str, name: str, *, taken: bool, given: str = "", called: str = "") -> None:
        what = f"there is a formula {name} already." if taken else "what shall the formula be called?"
        what = f"{given} cannot be the name of a formula." if given and not taken else what
        free = f"{name}-2" if taken else called if is_slug(called) else "olive-flatbread"
        kept = " A few words, such as con, computers keep for themselves." if given == name in RESERVED else ""
        super().__init__(
            f"Not adopted: {what}",
            detail=(f"A name has small letters, figures and hyphens: two or more, and a letter first.{kept}",),
            next=(Next(f"ovenleaf adopt {shown} --name {free}", "under a name that is free"),),
        )
        self.name = name
        self.taken = taken


class CannotAnswer(Refusal):
    """An answer to a question of a card that says nothing. Facts: `item`, `typed`."""

    def __init__(self, what: str, item: str, typed: str, problem: str, examples: tuple[str, ...] = ()) -> None:
        super().__init__(
            f"{what}: {item}={typed} is no answer.", detail=(problem,), next=tuple(Next(one) for one in examples)
        )
        self.item = item
        self.typed = typed


class NotAsked(Refusal):
    """An answer to what the card does not ask. Facts: `item`, `items`."""

    def __init__(self, what: str, item: str, items: tuple[str, ...]) -> None:
        asked = f"It asks about {', '.join(items)}." if items else "It asks nothing."
        super().__init__(f"{what}: the card does not ask about {item}.", detail=(asked,))
        self.item = item
        self.items = items
