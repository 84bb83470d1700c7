"""Numbers as recipes write them: `1 1/2`, `1½`, `2-3`, `one and a half`, `half a`, `3 x 7`; read where they stand.

Knows figures and number words; nothing of units or ingredients.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from decimal import Decimal

from ovenleaf.domain.numbers import CONTEXT, NumberFault, number

_DASHES = str.maketrans(dict.fromkeys("‐‑‒–—−", "-") | {"⁄": "/", "×": "x", "\N{NO-BREAK SPACE}": " "})
_WORDS = {
    "a": 1,
    "an": 1,
    "one": 1,
    "two": 2,
    "three": 3,
    "four": 4,
    "five": 5,
    "six": 6,
    "seven": 7,
    "eight": 8,
    "nine": 9,
    "ten": 10,
    "eleven": 11,
    "twelve": 12,
    "dozen": 12,
}
_PARTS = {
    "half": Decimal("0.5"),
    "quarter": Decimal("0.25"),
    "fourth": Decimal("0.25"),
    "third": CONTEXT.divide(Decimal(1), Decimal(3)),
    "eighth": Decimal("0.125"),
}
_PART = (
    r"(?P<over>one|two|three|a)?[\s-]*(?P<part>half|quarter|fourth|third|eighth)s?(?![a-z])"
    r"(?:\s+of)?(?:\s+an?(?![a-z]))?"
)
_FIGURE = re.compile(
    r"(?P<mixed>\d+[\s-]+\d+\s*/\s*\d+)(?!\d)|(?P<fraction>\d+\s*/\s*\d+)(?!\d)|(?P<plain>\d+(?:[.,]\d+)?)"
)
_PART_WORDS = re.compile(_PART, re.IGNORECASE)
_COUNT = re.compile(r"(?:half\s+a\s+(?P<dozen>dozen)|(?P<word>" + "|".join(_WORDS) + r"))(?![a-z'-])", re.IGNORECASE)
_AND_PART = re.compile(r"\s+(?:and|&)\s+(?:" + _PART + r"|(?P<fraction>\d\s*/\s*\d)(?!\d))", re.IGNORECASE)
_TO = re.compile(r"\s*(?:-|to(?![a-z])|or(?![a-z]))\s*(?=\S)", re.IGNORECASE)
_TIMES = re.compile(r"\s*x\s*(?=\d)", re.IGNORECASE)
_THOUSANDS = re.compile(r"\d{1,3}(?:,\d{3}|\.000)")


@dataclass(frozen=True, slots=True, kw_only=True)
class Number:
    """A number or a range, where it ends in the text, and what is doubtful of it ("" where nothing is)."""

    low: Decimal
    high: Decimal
    end: int
    doubt: str = ""


def evened(text: str) -> str:
    """The text with one kind of dash, slash and space, and ½ spelled out; letter for letter otherwise.

    >>> evened("1½ cups – sifted")
    '1 1/2 cups - sifted'
    """
    out = ""
    for letter in text.translate(_DASHES):
        if unicodedata.category(letter) == "No" and "/" in (
            spelled := unicodedata.normalize("NFKC", letter).replace("⁄", "/")
        ):
            out += f"{' ' if out[-1:].isdigit() else ''}{spelled}"
        else:
            out += letter
    return " ".join(out.split())


def number_at(text: str, at: int = 0) -> Number | None:
    """The number or range that begins at `at`, or None.

    >>> [str(number_at(text).high) for text in ("1 1/2 cups", "2-3 eggs", "1-1/2 cups", "half a cup", "two and a half")]
    ['1.5', '3', '1.5', '0.5', '2.5']
    """
    first = _one(text, at)
    if first is None:
        return None
    if (times := _TIMES.match(text, first.end)) and (each := _one(text, times.end())) is not None:
        return Number(
            low=first.low * each.low, high=first.low * each.low, end=each.end, doubt=first.doubt or each.doubt
        )
    to = _TO.match(text, first.end)
    last = _one(text, to.end()) if to else None
    if to is None or last is None or text[to.end() :][:2].lower() in ("a ", "an"):
        return first
    if last.low <= first.low:
        return Number(low=first.low, high=first.low, end=last.end, doubt=f"{text[at : last.end]} is no range")
    return Number(low=first.low, high=last.low, end=last.end, doubt=first.doubt or last.doubt)


def _one(text: str, at: int) -> Number | None:
    figure = _FIGURE.match(text, at)
    if figure is not None:
        return _figure(text, figure)
    if (part := _PART_WORDS.match(text, at)) is not None and not re.match(r"\s*(?:a\s+)?dozen", text[part.end() :]):
        return _exact(_part(part), part.end())
    if (count := _COUNT.match(text, at)) is None:
        return None
    value = Decimal(6) if count["dozen"] else Decimal(_WORDS[count["word"].lower()])
    if not count["dozen"] and (dozen := re.compile(r"\s+dozen(?![a-z])", re.IGNORECASE).match(text, count.end())):
        return _exact(value * 12, dozen.end())
    return _with_part(text, value, count.end())


def _figure(text: str, found: re.Match[str]) -> Number:
    typed = re.sub(r"\s*/\s*", "/", found[0])
    if found["mixed"]:
        typed = re.sub(r"[\s-]+", " ", typed)
    try:
        value = number(typed)
    except NumberFault:
        return Number(low=Decimal(0), high=Decimal(0), end=found.end(), doubt=f"{found[0]} is no number")
    if found["plain"] and _THOUSANDS.fullmatch(found[0]):
        doubt = f"{found[0]} can be thousands or a part"
        return Number(low=value, high=value, end=found.end(), doubt=doubt)
    return _with_part(text, value, found.end()) if found["plain"] else _exact(value, found.end())


def _with_part(text: str, value: Decimal, end: int) -> Number:
    """`one and a half`, `2 and 1/2`."""
    found = _AND_PART.match(text, end)
    if found is None:
        return _exact(value, end)
    part = number(re.sub(r"\s", "", found["fraction"])) if found["fraction"] else _part(found)
    return _exact(value + part, found.end())


def _part(found: re.Match[str]) -> Decimal:
    return _PARTS[found["part"].lower()] * _WORDS[(found["over"] or "one").lower()]


def _exact(value: Decimal, end: int) -> Number:
    return Number(low=value, high=value, end=end)
