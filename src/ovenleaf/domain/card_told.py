"""A card as its page tells it: the original, and what each line was taken as; plain text throughout."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class CardLine:
    """One line of the card. `answered` says by whom and when it was settled, where it was open."""

    card: str
    item: str
    bowl: str = ""
    taken: str = ""
    least: str = ""
    most: str = ""
    how: str = ""
    source: str = ""
    sure: str = ""
    answered: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CardTold:
    """A card page. `adopted` is a moment; `text` the original word for word."""

    formula: str
    adopted: str
    by: str
    file: str
    found_in: str
    source: str
    measures: str
    text: str
    lines: tuple[CardLine, ...]
    notes: tuple[str, ...] = ()
