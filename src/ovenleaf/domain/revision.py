"""Names: formulas, handles, revisions, trial codes. A name never changes its meaning."""

from __future__ import annotations

import itertools
import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

SLUG = re.compile(r"[a-z][a-z0-9-]{1,40}")
_NAME = re.compile(r"r(?P<number>[1-9]\d{0,5})(?P<handles>(?:\.[a-z][a-z0-9-]{1,40})+)")
_TYPED = re.compile(r"(?:revision\s+|r)?(?P<number>[1-9]\d{0,5})(?P<handles>(?:\.[a-z][a-z0-9-]{1,40})*)")

# Words that some reader or some file system would take for something else.
RESERVED = frozenset(
    ["con", "prn", "aux", "nul", "true", "false", "null", "yes", "no", "on", "off"]
    + [f"{port}{digit}" for port in ("com", "lpt") for digit in range(10)]
)


def is_slug(text: str) -> bool:
    """True for a name that may be a file, a handle, a formula: `market-roll`.

    >>> is_slug("market-roll"), is_slug("con"), is_slug("../x"), is_slug("Roll")
    (True, False, False, False)
    """
    return bool(SLUG.fullmatch(text)) and text not in RESERVED and not text.endswith("-")


def slug_of(text: str) -> str:
    """The name nearest to what was typed: `Market Roll!` gives `market-roll`. May be no slug at all.

    >>> slug_of("Market Roll!")
    'market-roll'
    """
    return re.sub(r"[^a-z0-9]+", "-", text.lower()).strip("-")[:41].rstrip("-")


@dataclass(frozen=True, slots=True, order=True)
class RevisionName:
    """`r2.noor`: a number and the handle of the copy that saved it; two handles when combined."""

    number: int
    handles: tuple[str, ...]

    def __str__(self) -> str:
        return ".".join((f"r{self.number}", *self.handles))


def revision_name(text: str) -> RevisionName | None:
    """The full name that `text` writes, or None.

    >>> str(revision_name("r2.noor")), revision_name("r2")
    ('r2.noor', None)
    """
    found = _NAME.fullmatch(text)
    if not found:
        return None
    return RevisionName(int(found["number"]), tuple(found["handles"].strip(".").split(".")))


def matching(typed: str, names: tuple[RevisionName, ...]) -> tuple[RevisionName, ...]:
    """Those of `names` that `typed` may mean: `2`, `r2`, `revision 2` or the full name.

    >>> names = (RevisionName(2, ("noor",)), RevisionName(2, ("tomas",)))
    >>> [str(name) for name in matching("r2", names)]
    ['r2.noor', 'r2.tomas']
    """
    found = _TYPED.fullmatch(typed.strip().lower())
    if not found:
        return ()
    number = int(found["number"])
    handles = tuple(h for h in found["handles"].split(".") if h)
    return tuple(n for n in names if n.number == number and handles in ((), n.handles))


def spoken(names: tuple[RevisionName, ...], name: RevisionName) -> str:
    """A revision as a screen says it: `revision 2`, with its bakers where two share the number.

    >>> spoken((RevisionName(2, ("noor",)),), RevisionName(2, ("noor",)))
    'revision 2'
    """
    shared = sum(other.number == name.number for other in names) > 1
    return f"revision {name.number}{' by ' + ' and '.join(name.handles) if shared else ''}"


def as_typed(names: tuple[RevisionName, ...], name: RevisionName) -> str:
    """A revision as it may be typed: `r2`, or its full name where two share the number."""
    return f"r{name.number}" if spoken(names, name) == f"revision {name.number}" else str(name)


def names_revision(word: str) -> bool:
    """True for a word that is meant for a revision, whether or not there is one: `r2`, `2`, `r2.noor`, `keeper`.

    >>> [names_revision(word) for word in ("r2", "revision 2", "keeper", "yeast")]
    [True, True, True, False]
    """
    return re.fullmatch(r"(?:revision\s+|r)?\d.*|keeper", word, re.IGNORECASE) is not None


def next_number(names: tuple[RevisionName, ...]) -> int:
    """One more than the highest number kept for this formula; numbers are never used again."""
    return 1 + max((name.number for name in names), default=0)


_LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"  # without I and O, which tape and floury eyes take for 1 and 0
_CODE = re.compile(rf"([{_LETTERS}])([1-9]\d{{0,4}})")


def code_at(place: int) -> str:
    """The trial code at `place` counted from 0: A1 to A9, B1 to Z9, then A10 to Z99, and so on.

    >>> [code_at(n) for n in (0, 8, 9, 215, 216, 305, 306, 2375, 2376)]
    ['A1', 'A9', 'B1', 'Z9', 'A10', 'A99', 'B10', 'Z99', 'A100']
    """
    low = 1
    while place >= 9 * low * len(_LETTERS):
        place -= 9 * low * len(_LETTERS)
        low *= 10
    return f"{_LETTERS[place // (9 * low)]}{low + place % (9 * low)}"


def place_of(code: str) -> int | None:
    """The place of a trial code, the inverse of `code_at`; None if it is no code.

    >>> place_of("B1"), place_of("A100"), place_of("I3")
    (9, 2376, None)
    """
    found = _CODE.fullmatch(code)
    if not found:
        return None
    letter, figures = _LETTERS.index(found[1]), int(found[2])
    low, before = 1, 0
    while figures >= 10 * low:
        before += 9 * low * len(_LETTERS)
        low *= 10
    return before + letter * 9 * low + figures - low


def next_code(codes: Iterable[str]) -> str:
    """The code after the highest that was ever given in this book."""
    return next(codes_after(codes))


def codes_after(codes: Iterable[str]) -> Iterator[str]:
    """The codes after the highest that was ever given, one after another."""
    places = (place for code in codes if (place := place_of(code)) is not None)
    return map(code_at, itertools.count(1 + max(places, default=-1)))
