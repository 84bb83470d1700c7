"""A recipe as people type it, taken apart: title, who it is from, ingredient lines under headings, method.

Headings may be there or not. A line is an ingredient by what it says, a step by how it begins.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from ovenleaf.domain.recipe_lines import BULLET, hear
from ovenleaf.domain.recipe_measures import PIECE, amount_at, evened_line
from ovenleaf.domain.recipe_parts import RecipeFault, RecipeParts
from ovenleaf.domain.recipe_pieces import in_pieces, sentences

if TYPE_CHECKING:
    from collections.abc import Callable

_MARKUP = re.compile(r"^[#>*_\s]+|[*_]{2,}|[*_#]+$")
_INGREDIENTS = re.compile(r"^(?:the\s+)?ingredients?(?:\s+list)?\s*(?:[:.-]+\s*|$)", re.IGNORECASE)
_METHOD = re.compile(
    r"^(?:the\s+)?(?:methods?|directions?|instructions?|preparation|procedure|steps|mode|how to make it|to make)"
    r"\s*(?:[:.-]+\s*|$)",
    re.IGNORECASE,
)
_NOTES = re.compile(r"^(?:notes?|tips?|hints?|storage|variations?|equipment)\s*(?:[:.-]+\s*|$)", re.IGNORECASE)
_FOR_THE = re.compile(
    r"^(?:for|to make)\s+(?:the\s+)?(?P<part>[^:.\d]{2,40}?)\s*(?:[:.-]+\s*(?P<rest>.*))?$", re.IGNORECASE
)
_PART = re.compile(r"^(?P<part>[^\d:.,]{2,30}):$")
_MAKES = re.compile(
    r"^(?:makes|yields?|serves|quantity|for)\s*:?\s*(?P<makes>(?:about\s+)?(?:\d|one|two|three|four|six|a\s).{0,60}?)[.]?$",
    re.IGNORECASE,
)
_SOURCE = re.compile(
    r"^(?:from|by|source|adapted|recipe (?:from|by)|courtesy|author|after|taken from|given)\b|https?://|^www\.",
    re.IGNORECASE,
)
_DASHED = re.compile(r"^\s*-\d", re.MULTILINE)
_STEP_NUMBER = re.compile(r"^\d+\s*[.)]\s+(?=[A-Z])")
_BEGIN_WORDS = """
mix knead bake stir combine let leave cover place put add preheat heat turn shape form roll divide cut brush
sprinkle dissolve sift rub beat whisk pour press prove proof rest allow cool remove serve grease oil flour dust set
make work fold punch knock when after then once in on to if meanwhile warm scald soak melt cream bring transfer tip
score slash steam boil fry using with repeat stretch spread oven first next finally take have proceed continue
gradually raise
"""
_BEGINS = frozenset(_BEGIN_WORDS.split())


@dataclass(slots=True)
class _Read:
    """What was read so far; `at` is head, ingredients, method or notes."""

    knows: Callable[[str], bool]
    at: str = "head"
    part: str = ""
    title: str = ""
    makes: str = ""
    source: list[str] = field(default_factory=list)
    lines: list[tuple[str, str]] = field(default_factory=list)
    method: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    headings: int = 0
    after_gap: bool = True


def read_text(text: str, knows: Callable[[str], bool]) -> RecipeParts:
    """A typed recipe taken apart; `knows` says whether a list has an ingredient. Raises RecipeFault."""
    if not text.strip():
        raise RecipeFault("empty")
    read = _Read(knows=knows)
    dashes = len(_DASHED.findall(text)) > 1  # more than one line with a dash before its figure is a list
    for raw in text.splitlines():
        line = BULLET.sub("", _MARKUP.sub("", raw.strip()).strip())
        line = line.removeprefix("-") if dashes else line
        if line:
            _take(read, line)
        read.after_gap = not line
    if not read.lines:
        raise RecipeFault("no ingredients")
    return RecipeParts(
        title=read.title,
        lines=tuple(read.lines),
        steps=tuple(sentences(read.method)),
        text=text,
        makes=read.makes,
        source=", ".join(read.source),
        notes=tuple(read.notes),
    )


def _take(read: _Read, line: str) -> None:
    if (makes := _MAKES.match(line)) is not None and amount_at(line) is None and not read.makes:
        read.makes = makes["makes"]
    elif _heading(read, line) or _head(read, line):
        return
    elif read.at == "notes":
        read.notes.append(line)
    elif read.at != "method" or read.after_gap:
        _line(read, line)
    else:
        read.method.append(line)


def _heading(read: _Read, line: str) -> bool:
    """Take a heading, and what stands behind it on its line."""
    for pattern, at in ((_INGREDIENTS, "ingredients"), (_METHOD, "method"), (_NOTES, "notes")):
        if (found := pattern.match(line)) is not None and len(line.split()) <= 30:
            if at == "ingredients":
                _one_recipe(read, line)
            if at == "method" and read.at == "head" and not read.lines:
                return False
            read.at, read.part = at, ""
            if rest := line[found.end() :].strip():
                _take(read, rest)
            return True
    return _part_heading(read, line)


def _one_recipe(read: _Read, line: str) -> None:
    """A second list of ingredients behind a method is a second recipe."""
    read.headings += 1
    if read.headings > 1 and read.method:
        raise RecipeFault("two recipes", (read.title, _second(read, line)))


def _second(read: _Read, line: str) -> str:
    """What the second recipe is called: the short line above its list, else the list's first line."""
    last = read.method[-1] if read.method else ""
    return last if last and len(last.split()) <= 6 and not last.endswith((".", ":")) else line


def _part_heading(read: _Read, line: str) -> bool:
    """`For the sponge`, `Sponge:`, with lines under it; in the method such a heading says where the words belong."""
    found = _FOR_THE.match(line) or _PART.match(line)
    if (
        found is None
        or len(found["part"].split()) > 4
        or (read.at == "head" and not read.title and not _FOR_THE.match(line))
    ):
        return False
    if read.at == "method" and not read.after_gap:
        return False
    if _FOR_THE.match(line) is None and not line.endswith(":"):
        return False
    rest = (found.groupdict().get("rest") or "").strip()
    if rest and not _is_ingredient(read, rest):
        return False
    read.part = re.sub(r"^the\s+", "", found["part"].strip().lower())
    if read.at == "head":
        read.at = "ingredients"
    if rest:
        _line(read, rest)
    return True


def _head(read: _Read, line: str) -> bool:
    """Title, and who it is from, above the ingredients."""
    if read.at != "head" or _is_ingredient(read, line):
        return False
    if _SOURCE.search(line):
        read.source.append(re.sub(r"^source\s*:\s*", "", line, flags=re.IGNORECASE))
    elif not read.title:
        read.title = line.rstrip(":")
    else:
        read.notes.append(line)
    return True


def _line(read: _Read, line: str) -> None:
    """A line where ingredients may stand: one of them, several, or the first of the method."""
    if _is_ingredient(read, line):
        if read.at == "method" and not read.part and len(read.lines) and _is_flour_list(read, line):
            raise RecipeFault("two recipes", (read.title, _second(read, line)))
        read.at = "ingredients"
        for one in in_pieces(line, read.knows):
            if _begins_step(one) and not _item_first(one, read.knows):
                read.method.append(one)
            else:
                read.lines.append((read.part, one))
        return
    if read.at == "ingredients":
        read.part = ""
    read.at = "method"
    read.method.append(line)


def _is_flour_list(read: _Read, line: str) -> bool:
    return bool(re.search(r"\bflour\b", line, re.IGNORECASE)) and bool(read.method)


def _begins_step(line: str) -> bool:
    first = re.match(r"[a-z]+", line, re.IGNORECASE)
    return bool(_STEP_NUMBER.match(line)) or (
        first is not None and first[0].lower() in _BEGINS and amount_at(line) is None
    )


_BELOW_NOTHING = re.compile(r"[-\N{MINUS SIGN}]\s?\d")


def _is_ingredient(read: _Read, line: str) -> bool:
    if _BELOW_NOTHING.match(line):
        return amount_at(evened_line(line[1:].strip())) is not None
    if _begins_step(line) and not _item_first(line, read.knows):
        return False
    words = len(line.split())
    heard = hear(line)
    if not heard:
        return False
    first = heard[0]
    if first.amounts:
        measured = first.amounts[0].name != PIECE or read.knows(first.item)
        return (measured and (words <= 14 or amount_at(evened_line(line)) is not None)) or (
            read.at == "ingredients" and words <= 8
        )
    if read.at == "ingredients" and not read.after_gap and words <= 8 and not line.endswith((".", ":")):
        return True  # it stands among ingredients, so it is one, to be asked about; no line may be lost
    named = bool(first.item) and read.knows(first.item)
    return words <= 7 and named and (read.at == "ingredients" or bool(first.purpose)) and not line.endswith(".")


def _item_first(line: str, knows: Callable[[str], bool]) -> bool:
    """`Flour, 2 lbs.` begins like a step and is none."""
    heard = hear(line)
    return len(line.split()) <= 8 and bool(heard) and bool(heard[0].amounts) and knows(heard[0].item)
