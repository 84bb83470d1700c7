"""Look at the card that a formula was adopted from: its words, what they were taken as, and what bakes have weighed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book.steps.adopting import card_of
from ovenleaf.book.steps.bakes import read_trials
from ovenleaf.book.steps.opening import open_pantry, open_to_read
from ovenleaf.book.steps.sheets import sheets_of
from ovenleaf.book.steps.shelf import newest, take
from ovenleaf.compare.card_known import known_lines
from ovenleaf.errors import Next, Refusal
from ovenleaf.results import CardView

if TYPE_CHECKING:
    from pathlib import Path


class NotAdopted(Refusal):
    """A formula that was not adopted from a card. Fact: `formula`."""

    def __init__(self, formula: str) -> None:
        super().__init__(
            f"{formula} was not adopted from a recipe, so there is no card of it.",
            next=(
                Next(f"ovenleaf show {formula}", "the formula"),
                Next("ovenleaf adopt --help", "how a household recipe is taken in"),
            ),
        )
        self.formula = formula


def show_card(given: Path | None, start: Path, name: str) -> CardView:
    """The card of a formula. Raises UnknownFormula, NotAdopted, and what its page refuses."""
    book = open_to_read(given, start)
    pantry = open_pantry(book.root)
    shelf = take(book.root, name)
    card = card_of(book.root, shelf.name)
    if card is None:
        raise NotAdopted(shelf.name)
    trials = tuple(one for one in read_trials(book.root, shelf.name)[0] if one.counts and one.weighed)
    sheets, _ = sheets_of(book.root, trials, pantry)
    bakes = [(one, sheets[key].worked) for one in trials if (key := (one.formula, one.revision)) in sheets]
    saved = newest(shelf) if shelf.in_force else None
    formula = None if saved is None else saved.formula()
    return CardView(
        name=shelf.name,
        title=shelf.formula().label if formula is None else formula.label,
        card=card,
        lines=known_lines(card, bakes, formula, pantry),
        saved=saved is not None,
    )
