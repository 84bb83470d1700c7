"""A recipe as `publish --as recipe` writes it, taken apart: bowls in columns of item, weight and cups, steps by number.

Whoever is handed such a page gets the weights back to the gram; the cups beside them are the same said less exactly.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from ovenleaf.domain.recipe_parts import RecipeFault, RecipeParts

if TYPE_CHECKING:
    from collections.abc import Iterator

_HEAD = re.compile(r"\s{2,}weight\s{2,}or, less exactly\s*$")
_ROW = re.compile(r"  (?P<item>\S.*?)\s{2,}(?P<grams>\d+(?:\.\d+)?) g(?:\s{2,}.*)?$")
_NOTE = re.compile(r"  (?=\S)")
_KEPT = re.compile(r"Keep (?P<grams>\d+(?:\.\d+)?) g of it for next time\.")
_INTO = re.compile(r"All of it goes into the ")
_STEP = re.compile(r"\d+\. (?P<name>[^:]+): (?P<words>.*)")
_MAKES = re.compile(r"\bMakes (?P<makes>.+?)(?:,? (?:from [\d.]+ g )?of dough)(?:\.|, about)")
_STEAM = re.compile(r"\s*Steam burns: open the door away from your face\.$")
_MADE = re.compile(r"\s*This page was made on [^.]+\.$")


def is_in_columns(text: str) -> bool:
    """True of a page that `publish --as recipe` wrote."""
    return any(_HEAD.search(line) for line in text.splitlines())


def read_columns(text: str) -> RecipeParts:
    """Such a page taken apart. Raises RecipeFault."""
    parts = [part.split("\n") for part in re.split(r"\n(?:[ \t]*\n)+", text.strip("\n"))]
    tables = [part for part in parts if any(_ROW.match(line) for line in part)]
    if not tables:
        raise RecipeFault("no ingredients")
    if sum(bool(_HEAD.search(line)) for part in tables for line in part) > 1:
        raise RecipeFault("two recipes", (parts[0][0],))
    steps = [step for part in parts if _STEP.match(part[0]) for step in _joined(part, _STEP)]
    title, foot = parts[0][0].strip(), parts[-1]
    intro = " ".join(line for part in parts[1 : parts.index(tables[0])] for line in part)
    bowls = [_bowl(part, alone=len(tables) == 1) for part in tables]
    found = [_STEP.match(step) for step in steps]
    makes = _MAKES.search(intro)
    return RecipeParts(
        title=title,
        lines=(*(line for lines, _, _ in bowls for line in lines), *_besides(parts)),
        kept=tuple(one for _, kept, _ in bowls for one in kept),
        steps=tuple(_STEAM.sub("", one["words"]) for one in found if one),
        step_names=tuple(one["name"].lower() for one in found if one),
        text=text,
        makes=pieces_made(makes["makes"]) if makes else "",
        source=_credit(foot, title),
        notes=tuple(note for _, _, notes in bowls for note in notes),
        found_in="published recipe",
    )


_Bowl = tuple[list[tuple[str, str]], list[tuple[str, str]], list[str]]


def _bowl(part: list[str], *, alone: bool) -> _Bowl:
    """The lines of one bowl, what is kept of it, and what is said under it."""
    name = re.split(r"\s{2,}", part[0].strip())[0].lower()
    lines: list[tuple[str, str]] = []
    said: list[str] = []
    for line in part[1:]:
        if (row := _ROW.match(line)) is not None:
            bowl = re.fullmatch(r"the (.+)", row["item"])
            lines.append(("" if alone else name, f"all of {bowl[0]}" if bowl else f"{row['grams']} g {row['item']}"))
        elif _NOTE.match(line) and not _HEAD.search(line):
            said.append(line.strip())
    told = " ".join(said)
    kept = [(name, f"{one['grams']} g") for one in _KEPT.finditer(told)]
    notes = [one for one in re.split(r"(?<=\.)\s+", _KEPT.sub("", told)) if one.strip() and not _INTO.match(one)]
    return lines, kept, [note.strip() for note in notes]


def _joined(part: list[str], begins: re.Pattern[str]) -> Iterator[str]:
    """The lines of a part with those that were wrapped put together again."""
    whole = ""
    for line in part:
        if begins.match(line) and whole:
            yield whole
            whole = ""
        whole = f"{whole} {line.strip()}".strip()
    yield whole


def _besides(parts: list[list[str]]) -> Iterator[tuple[str, str]]:
    """What is used beside the dough."""
    for part in parts:
        if part[0].strip() == "Besides":
            yield from (("besides", line) for line in _joined(part[1:], _NOTE) if line)


def _credit(foot: list[str], title: str) -> str:
    """Who made the formula, where it is from, and which page of which book this was."""
    for begin in range(len(foot) - 1, -1, -1):
        stamp = " ".join(foot[begin:])
        if f". {title}" in stamp and _MADE.search(stamp):
            above = " ".join(foot[:begin])
            credit = re.search(r"\b(?:Formula (?P<by>by .+?)\.)?(?: ?From (?P<source>.+)\.)?$", above)
            by, source = (credit["by"], credit["source"]) if credit else (None, None)
            book = _MADE.sub("", stamp).rstrip(".").replace(". ", ", ", 1)
            return "; ".join(filter(None, (by, f"from {source}" if source else "", book)))
    return ""


def pieces_made(told: str) -> str:
    """What a recipe makes, in pieces; "" where it only says the weight of its dough.

    >>> pieces_made("12 rolls of 85 g"), pieces_made("867 g of dough")
    ('12 rolls of 85 g', '')
    """
    return "" if re.fullmatch(r"[\d.]+ g(?: of dough)?", told) else told


def named_step(name: str, words: str) -> tuple[str, str]:
    """A step's name and words where a page names its steps, or no name where it only counts them."""
    bare = " ".join(name.split()).strip(" .:")
    counts = re.fullmatch(r"(?:step\s*)?\d*", bare, re.IGNORECASE) or len(bare.split()) > _LONG_NAME
    known = not counts and not words.lower().startswith(bare.lower())
    return (bare.lower() if known else "", words)


_LONG_NAME = 3  # words; what is longer is a sentence
