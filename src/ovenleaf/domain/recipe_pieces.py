"""A line with several ingredients in pieces, and a method in sentences."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from ovenleaf.domain.recipe_lines import hear
from ovenleaf.domain.recipe_measures import amount_at, evened_line

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

_NUMBERED = re.compile(r"^(?:step\s+)?\d+\s*[.):]\s+(?=[A-Z])|^step\s+\d+\s*[.:)-]?\s*", re.IGNORECASE)
_GAP = re.compile(r"\s*(?:;|,|\.(?=\s)|\band\b|&)\s*")


def in_pieces(line: str, knows: Callable[[str], bool]) -> tuple[str, ...]:
    """A line with several ingredients, each for itself: `1 lb flour, 340 g water, 2 tsp salt, oven 475`.

    >>> in_pieces("1 lb flour, 340 g water, salt", lambda item: item in ("flour", "water", "salt"))
    ('1 lb flour', '340 g water', 'salt')
    """
    pieces, start = [], 0
    for gap in _GAP.finditer(line):
        before, behind = line[start : gap.start()].strip(), line[gap.end() :].strip()
        if gap.start() < start or line.count("(", start, gap.start()) > line.count(")", start, gap.start()):
            continue
        if _is_whole(before, knows) and _begins_another(behind, knows):
            pieces.append(before)
            start = gap.end()
    return (*pieces, line[start:].strip())


def _is_whole(piece: str, knows: Callable[[str], bool]) -> bool:
    heard = hear(piece)
    return (
        bool(heard)
        and bool(heard[0].item)
        and (bool(heard[0].amounts) or knows(heard[0].item))
        and bool(heard[0].amounts or len(piece.split()) < 4)
    )


def _begins_another(behind: str, knows: Callable[[str], bool]) -> bool:
    piece = re.split(r"[,;]", behind)[0].strip()
    if re.match(r"oven\b", piece, re.IGNORECASE):
        return True
    heard = hear(piece)
    if not heard or not heard[0].item:
        return False
    return knows(heard[0].item) or (
        bool(heard[0].amounts)
        and amount_at(evened_line(piece)) is not None
        and len(piece.split()) > 1
        and not _only_said(heard[0].item)
    )


def _only_said(item: str) -> bool:
    return bool(
        re.fullmatch(r"(?:sifted|softened|melted|chopped|more|extra|each|reserved|divided|packed|ground|\W)+", item)
    )


_SENTENCE = re.compile(r"(?<=[.!?])\s+(?=[A-Z0-9])|;\s+")


def sentences(lines: list[str]) -> Iterator[str]:
    """The method in sentences: lines run on until a number, a full stop or a gap parts them."""
    whole: list[str] = []
    for line in lines:
        numbered = _NUMBERED.match(line)
        text = line[numbered.end() :] if numbered else line
        if whole and numbered is None and not re.search(r"[.!?:]$", whole[-1]):
            whole[-1] = f"{whole[-1]} {text}"
        else:
            whole.append(text)
    for one in whole:
        yield from (part.strip() for part in _SENTENCE.split(one) if part.strip(" ."))
