"""A step's line, changed by two bakers: field by field where that can be told apart, else whole.

Only typed pieces are moved from line to line; what comes out is read again and held against what was meant.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.compare.facts import WORDS, line_fields
from ovenleaf.domain.benchline import read

if TYPE_CHECKING:
    from collections.abc import Mapping


@dataclass(frozen=True, slots=True, kw_only=True)
class FieldAsked:
    """A field that was changed in two ways; "" is not said."""

    field: str
    before: str
    one: str
    other: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CombinedLine:
    """The line that stands, and which of its fields are questions."""

    line: str
    asked: tuple[FieldAsked, ...]


def combine_lines(before: str, one: str, other: str) -> CombinedLine | None:
    """The changes of both in one line; None where they cannot be told apart, and the line is one question.

    >>> combine_lines("60 min at 26 C, covered", "50 min at 26 C, covered", "60 min at 27 C, covered").line
    '50 min at 27 C, covered'
    """
    pieces = [_pieces(line) for line in (before, one, other)]
    if any(found is None for found in pieces):
        return None
    was, left, right = ({**found} for found in pieces if found is not None)
    start = _start(was, left, right, (before, one, other))
    if start is None:
        return None
    wanted: dict[str, str] = {}
    asked = []
    for field in dict.fromkeys((*was, *left, *right)):
        values = [_meant(found.get(field, "")) for found in (was, left, right)]
        if values[1] != values[2] and values[0] not in values[1:]:
            asked.append(
                FieldAsked(field=field, before=was.get(field, ""), one=left.get(field, ""), other=right.get(field, ""))
            )
            stands = was.get(field, "")
        else:
            stands = right.get(field, "") if values[0] == values[1] else left.get(field, "")
        if stands:
            wanted[field] = stands
    line = _with_fields(start, wanted)
    return None if line is None else CombinedLine(line=line, asked=tuple(asked))


def _pieces(line: str) -> dict[str, str] | None:
    """Each field as typed, and the words; None where a piece holds two fields or a field comes twice."""
    found: dict[str, str] = {}
    read_line = read(line)
    for field in read_line.fields:
        if not field.typed or field.name in found or line.count(field.typed) != 1:
            return None
        found[field.name] = field.typed
    if read_line.words:
        found[WORDS] = read_line.words
    return found


def _meant(piece: str) -> str:
    """What a typed piece says, however it is written."""
    return ", ".join(f"{name} {text}" for name, text in line_fields(read(piece)))


def _start(
    was: Mapping[str, str], left: Mapping[str, str], right: Mapping[str, str], lines: tuple[str, str, str]
) -> str | None:
    """The line to begin from: the one whose words were changed or that lost a field; None where both were."""
    reworded = [
        found.get(WORDS) != was.get(WORDS) or any(field not in found for field in was) for found in (left, right)
    ]
    if all(reworded):
        return None
    return lines[1] if reworded[0] else lines[2] if reworded[1] else lines[0]


def _with_fields(line: str, wanted: Mapping[str, str]) -> str | None:
    for field, piece in wanted.items():
        now = _pieces(line)
        if now is None or field == WORDS:
            continue
        added = f"{line}, {piece}" if line else piece
        line = line.replace(now[field], piece, 1) if field in now else added
    now = _pieces(line)
    same = now is not None and {key: _meant(piece) for key, piece in now.items()} == {
        key: _meant(piece) for key, piece in wanted.items()
    }
    return line if same else None
