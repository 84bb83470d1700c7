"""A printed weigh-up that was filled in: what stands in which blank, on which line.

The form is told in `present/sheet`; what it asks for and the words that frame it stand here, for those who print it
and those who read it back.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

# What the sheet asks for, line by line, and the words that frame its cautions; the printed sheet is made of these.
ASKED = (
    ("bake date", "baker", "trial", "oven"),
    ("room", "flour", "water", "preferment"),
    ("dough temperature", "pieces", "dough weight"),
    ("baked weight", "cooled", "core"),
    ("crumb", "crust", "taster", "hours after"),
)
NOTE = "note"
STEPS = "Steps, and when"
FIRST_CAUTION = "Read the labels of what you use."
LAST_CAUTION = "Who sells bread follows the rules of the place."

_FIRST_LINE = re.compile(r"^sheet: \d+ ", re.MULTILINE)


def heading(name: str, rest: str) -> str:
    """A bowl's heading on the sheet, the rest as the page has it: `Poolish, then 12 h at 21 C, covered`."""
    return f"{name.capitalize()}{f', then {rest}' if rest else ''}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """What stands in one blank, "" where nothing does; `name` is what was asked, as the sheet calls it."""

    name: str
    text: str
    line: int


@dataclass(frozen=True, slots=True, kw_only=True)
class WentIn:
    """A weight's line: bowl, item with its note, the planned weight, the square and the blank."""

    bowl: str
    item: str
    planned: str
    ticked: bool
    text: str
    line: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Did:
    """A step's line: `CLOCK STEP: LINE` as printed, the square and the blank."""

    words: str
    ticked: bool
    text: str
    line: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """One formula's sheet. `facts` are its printed (name, value); `loose` is what fits no place of the form."""

    facts: tuple[tuple[str, str], ...]
    asked: tuple[Written, ...]
    weights: tuple[WentIn, ...]
    steps: tuple[Did, ...]
    loose: tuple[tuple[int, str], ...]

    def fact(self, name: str) -> str:
        """A printed fact, or "".

        >>> Paper(facts=(("formula", "loaf"),), asked=(), weights=(), steps=(), loose=()).fact("formula")
        'loaf'
        """
        return dict(self.facts).get(name, "")


def is_paper(text: str) -> bool:
    """True for a text that names itself a sheet."""
    return _FIRST_LINE.search(text) is not None


def pages(text: str) -> tuple[tuple[int, str], ...]:
    """The sheets in a text, each with the number of lines before it; one formula to a sheet."""
    found = []
    before = 0
    for page in text.split("\f"):
        if is_paper(page):
            found.append((before, page))
        before += page.count("\n")
    return tuple(found)
