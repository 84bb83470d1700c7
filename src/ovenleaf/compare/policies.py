"""Which rule of combining holds where on a page, as data."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

    from ovenleaf.compare.three_ways import Path

FLOURS, WHOLE, ORDER = "flours", "formula", "order of steps"
AMOUNTS = ("ingredients", "preferments", "soakers", "stages", "kept_for_next_time")


class Rule(StrEnum):
    """How the values at a place are combined."""

    WITHIN = "within"  # names: each by itself
    LINES = "lines"  # ingredient lines: each by itself, all flours as one
    PART = "part"  # the same, and a part that one took out and the other changed is one question
    STEPS = "steps"  # a list told apart by names, whose order counts
    TIMED = "timed"  # a list that only gains, in the order of time
    GAINED = "gained"  # a list that only gains
    ASKED = "asked"  # open questions
    STAMP = "stamp"  # what the book writes on a page once it knows the outcome


@dataclass(frozen=True, slots=True, kw_only=True)
class Policy:
    """The rules of one kind of page, by place (`*` is any name); elsewhere names go name by name, the rest whole.

    `stands_in`: where nothing stood before and two things were put in, one stands until the question is
    settled, since the page could not be read without. `flours` are the items that are flour.
    """

    rules: tuple[tuple[Path, Rule], ...] = ()
    stands_in: bool = False
    flours: frozenset[str] = frozenset()
    amounts_whole: bool = False


POLICIES: dict[str, Policy] = {
    "formula": Policy(
        rules=(
            *(((key,), Rule.STAMP) for key in ("revision", "by", "saved", "made_from", "why")),
            (("ingredients",), Rule.LINES),
            (("kept_for_next_time",), Rule.LINES),
            *(((block, "*"), Rule.PART) for block in ("preferments", "soakers", "stages")),
            (("process",), Rule.STEPS),
            (("open",), Rule.ASKED),
        )
    ),
    "trial": Policy(
        rules=(
            (("log",), Rule.TIMED),
            (("corrections",), Rule.TIMED),
            (("steps",), Rule.STEPS),
            (("photos",), Rule.GAINED),
            (("scores", "*", "faults"), Rule.GAINED),
            (("open",), Rule.ASKED),
        )
    ),
    "tasting": Policy(rules=((("corrections",), Rule.TIMED), (("open",), Rule.ASKED))),
    "marks": Policy(rules=tuple(((key,), Rule.TIMED) for key in ("marks", "meant", "retired", "published"))),
    "ingredients": Policy(rules=((("open",), Rule.ASKED),), stands_in=True),
    "book": Policy(rules=((("open",), Rule.ASKED),), stands_in=True),
}


def for_formula(flours: Iterable[str], *, amounts_whole: bool = False) -> Policy:
    """The rules of a formula whose flours these are; with `amounts_whole` all its amounts are one item."""
    return replace(POLICIES["formula"], flours=frozenset(flours), amounts_whole=amounts_whole)
