"""What a baker writes as a line, read into fields; whatever is not understood stays, word for word.

One small grammar for process steps, steps as done, jottings, answers and the log. It never fails, never
guesses a scale, and loses no figure: each stands in a field or in the words. Knows no clock and no formula.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING

from ovenleaf.domain.benchheat import named_by
from ovenleaf.domain.benchparts import KEPT, Reading, Rule, compiled
from ovenleaf.domain.benchrules import RULES
from ovenleaf.domain.benchvalues import Added, Field, Heat, Pieces, Value, alike, gap, measure, show
from ovenleaf.domain.durations import Duration
from ovenleaf.domain.numbers import NumberFault

if TYPE_CHECKING:
    import re
    from collections.abc import Iterator

__all__ = [
    "Added",
    "BenchLine",
    "Duration",
    "Field",
    "Heat",
    "Pieces",
    "Value",
    "alike",
    "clauses",
    "gap",
    "read",
    "same",
    "show",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchLine:
    """A line and what was understood of it.

    `words`: what was not understood, word for word, joined by commas. `doubts`: what should be
    asked about before the line is taken, each a clause such as `dough 25.5 has no scale; write ...`.
    """

    fields: tuple[Field, ...]
    words: str
    typed: str
    doubts: tuple[str, ...] = ()

    def get(self, name: str) -> Value | None:
        """The value of the first field called `name`, or None."""
        return next((field.value for field in self.fields if field.name == name), None)

    def every(self, name: str) -> tuple[Value, ...]:
        """The values of all fields called `name`, in the order they were typed."""
        return tuple(field.value for field in self.fields if field.name == name)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Hit:
    """A stretch of the line that a rule has read."""

    start: int
    end: int
    reading: Reading


@dataclass(frozen=True, slots=True, kw_only=True)
class _Text:
    """The line with its white space made even, and the same in lower case, letter under letter."""

    typed: str
    low: str


@dataclass(frozen=True, slots=True, kw_only=True)
class _Clause:
    """What was made of one clause."""

    fields: tuple[Field, ...]
    words: tuple[str, ...]
    doubts: tuple[str, ...]


# A comma parts two clauses unless it stands between two digits; a line break does too.
_CLAUSE_ENDS = r"[;\n]|,(?!\d)|(?<!\d),"
# Words and figures begin behind white space or an opening mark, and at the 60 of `bulk:60`.
_BEGINS = r"(?:(?<![^\s(\[=~@])|(?<=[^\W\d]:))\S"
_GAP = r"(?:[\s/&)]|[.:](?!\d))*"
_LEADING = r"^(?:[\s,:=/&)\]]|[.–—-](?=\s|$)|and(?=\s|$))+"
_SMALL = "at|for|of|is|was|and|to|about|around|approx|ca"
_TRAILING = rf"(?i)(?:[\s,:=/&(\[~@]|(?<!\S)(?:[–—-]|(?:{_SMALL})\.?)(?=\s|$))+$"
_EDGES = " ,;:"
_SAYS_NOTHING = r"[\s,;:=/&()\[\]~@.+–—-]*"
_WORD = r"[^\W\d_]+|\d\S*"
# A bare `low` or `by hand` is a speed only where nothing but the mixing stands with it.
_SPEED = r"(?:(?P<verb>(?:mix|knead)\w*) )?(?:(?:on|at) )?(?P<speed>low|medium|high|by hand)"
_FLOUR = r"(?i)(?:(?P<name>.*\S) )?flour"
_CUT_OFF = "the line ends in -: did the shell take the rest?"


@lru_cache(maxsize=2048)
def read(text: str) -> BenchLine:
    """What `text` says, as fields and words. Never fails; an empty line has neither.

    >>> line = read("60 to 75 min at 26 C, covered, until doubled")
    >>> [(field.name, str(field.value)) for field in line.fields], line.words
    ([('time', '60 to 75 min'), ('temperature', '26 C'), ('until', 'doubled')], 'covered')
    >>> read("dough 25.5").doubts
    ('dough 25.5 has no scale; write 25.5 C or 78 F',)
    """
    even = "\n".join(" ".join(line.split()) for line in text.splitlines())
    line = _Text(typed=even, low="".join(map(_low, even)))
    read_from = [_clause(line, start, end) for start, end in _clauses(line.low)]
    cut_off = (_CUT_OFF,) if even.endswith("-") else ()
    return BenchLine(
        fields=tuple(field for clause in read_from for field in clause.fields),
        words=", ".join(words for clause in read_from for words in clause.words),
        typed=text,
        doubts=(*(doubt for clause in read_from for doubt in clause.doubts), *cut_off),
    )


def _low(letter: str) -> str:
    """In lower case where that is one letter too, so that places in both texts agree."""
    low = letter.lower()
    return low if len(low) == 1 else letter


def clauses(text: str) -> tuple[str, ...]:
    """What a line says one thing after another, in its own words; a decimal comma parts nothing.

    >>> clauses("crumb 6,5, dough 24C; tight")
    ('crumb 6,5', 'dough 24C', 'tight')
    """
    parts = (text[start:end].strip() for start, end in _clauses(text))
    return tuple(part for part in parts if part)


def _clauses(low: str) -> Iterator[tuple[int, int]]:
    start = 0
    for mark in compiled(_CLAUSE_ENDS).finditer(low):
        yield start, mark.start()
        start = mark.end()
    yield start, len(low)


def _clause(line: _Text, start: int, end: int) -> _Clause:
    hits = tuple(_hits(line, start, end))
    doubts = tuple(doubt for hit in hits for doubt in hit.reading.doubts)
    standing = _standing(line.low, start, end, [hit for hit in hits if hit.reading.fields])
    fields: list[Field] = []
    words: list[str] = []
    after = start
    for hit in standing:
        piece = line.typed[after : hit.start]
        before, left = _piece(_tidy(piece, opens=after == start, ends=False), hit)
        fields.extend((*before, *_named(hit, line, piece.lower())))
        words.append(left)
        after = hit.end
    before, left = _piece(_tidy(line.typed[after:end], opens=after == start, ends=True), None)
    fields.extend(before)
    return _Clause(fields=tuple(fields), words=tuple(filter(None, (*words, left))), doubts=doubts)


def _hits(line: _Text, start: int, end: int) -> Iterator[_Hit]:
    """What the rules read in one clause, first to last; of each place the first rule that reads it."""
    at = _gap(line.low, start, end)
    while at < end:
        hit = _hit(line, at, end)
        if hit:
            yield hit
        if hit and hit.reading.fields:
            at = _gap(line.low, hit.end, end)
        else:
            begins = compiled(_BEGINS).search(line.low, hit.end if hit else at + 1, end)
            at = begins.start() if begins else end


def _gap(low: str, at: int, end: int) -> int:
    gap = compiled(_GAP).match(low, at, end)
    return gap.end() if gap else at


def _hit(line: _Text, at: int, end: int) -> _Hit | None:
    for rule in RULES:
        found = compiled(rule.pattern).match(line.low, at, end)
        reading = _made(rule, found, line.typed) if found else None
        if found and reading:
            return _Hit(start=at, end=reading.end or found.end(), reading=reading)
    return None


def _made(rule: Rule, found: re.Match[str], text: str) -> Reading | None:
    try:
        return rule.make(found, text)
    except NumberFault:  # too large, or divided by zero
        return KEPT if found.end() > found.start() else None


def _standing(low: str, start: int, end: int, hits: list[_Hit]) -> list[_Hit]:
    """The hits that the words beside them allow: `85 g` is a weight, `water 396 g` is not one of the dough."""
    bounds = [start, *(hit.end for hit in hits)], [*(hit.start for hit in hits[1:]), end]
    return [
        hit
        for hit, before, after in zip(hits, *bounds, strict=False)
        if _allowed(hit.reading, compiled(_WORD).findall(f"{low[before : hit.start]} {low[hit.end : after]}"))
    ]


def _allowed(reading: Reading, beside: list[str]) -> bool:
    return reading.beside is None or (reading.beside.issuperset(beside) and (reading.alone or bool(beside)))


def _named(hit: _Hit, line: _Text, before: str) -> tuple[Field, ...]:
    """The fields of a hit under their last names, the first of them with the text of them all."""
    first, *others = hit.reading.fields
    return (replace(named_by(first, before), typed=line.typed[hit.start : hit.end].strip()), *others)


def _tidy(piece: str, *, opens: bool, ends: bool) -> str:
    """A stretch of words without the small words that led to the fields beside it."""
    if not opens:
        piece = compiled(_LEADING).sub("", piece)
    if not ends:
        piece = compiled(_TRAILING).sub("", piece)
    return "" if compiled(_SAYS_NOTHING).fullmatch(piece) else piece.strip(_EDGES)


def _piece(words: str, after: _Hit | None) -> tuple[tuple[Field, ...], str]:
    """The fields that a stretch of words is by itself or with the field behind it, and what is left."""
    speed = compiled(_SPEED).fullmatch(words.lower())
    if speed:
        verb = words[: speed.end("verb")] if speed["verb"] else ""
        return (Field(name="speed", value=speed["speed"], typed=words),), verb
    flour = compiled(_FLOUR).fullmatch(words) if after and after.reading.fields[0].name == "lot" else None
    if flour:
        return ((Field(name="flour", value=words, typed=words),) if flour["name"] else ()), ""
    return (), words


def same(a: BenchLine, b: BenchLine) -> bool:
    """True when the fields of two lines mean the same, in whatever order, unit or scale; words are not compared.

    >>> same(read("60 min at 26 C"), read("at 26 °C, 1 h"))
    True
    """
    return _meaning(a) == _meaning(b)


def _meaning(line: BenchLine) -> Counter[tuple[str, object]]:
    return Counter((field.name, measure(field.value)) for field in line.fields)
