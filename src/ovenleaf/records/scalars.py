"""What an unquoted value means, the one table for every reader; and how a value is written so that it reads the same.

Knows single values and names; nothing of how a page is laid out.
"""

from __future__ import annotations

import re
from decimal import Decimal
from typing import TYPE_CHECKING, Final, Literal

if TYPE_CHECKING:
    from collections.abc import Mapping

    from ovenleaf.records.nodes import Scalar

# --- what a plain value means: the one table ----------------------------------------------------

# A plain value is text unless it stands here. So `no`, `12:30`, `0o7`, `010`, `1_000`, `.5`, `+5`,
# `~`, `.nan` and `2026-11-18` read as typed, whatever another reader would make of them.
_WORDS: Final[Mapping[str, bool | None]] = {"": None, "null": None, "true": True, "false": False}
_NUMBER: Final = re.compile(r"-?(?P<whole>0|[1-9][0-9]*)(?P<part>\.[0-9]+)?(?:[eE](?P<power>[+-]?[0-9]+))?")
_MAX_DIGITS: Final = 30
_MAX_POWER: Final = 99


def resolve(text: str) -> Scalar:
    """Say what an unquoted value means: JSON's numbers and words, else the text itself.

    Whole numbers become int, others Decimal with their digits kept (`1.10`). A number of more
    than 30 digits, or with a power beyond 99 either way, stays text.
    """
    if text in _WORDS:
        return _WORDS[text]
    number = _NUMBER.fullmatch(text)
    if number is None:
        return text
    whole, part, power = number["whole"], number["part"], number["power"]
    # the length is looked at first, so that no long row of digits is ever worked out
    if len(whole) + len(part or ".") - 1 > _MAX_DIGITS:
        return text
    if power is not None and (len(power) > 5 or abs(int(power)) > _MAX_POWER):
        return text
    return int(text) if part is None and power is None else Decimal(text)


# --- signs that do not show ---------------------------------------------------------------------

# What neither a keyboard nor the book's own writer puts raw into a page. Among them are the other
# line ends that YAML knows (U+0085, U+2028, U+2029), on which editors and readers disagree.
UNSEEN: Final = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029\ufeff\ufffe\uffff\ud800-\udfff]")
SURROGATE: Final = re.compile("[\ud800-\udfff]")  # half of a character pair

# --- writing ------------------------------------------------------------------------------------

# Stricter than YAML, so that no reader stumbles and no pair of parsers differs: a text that begins
# with a sign, holds ": " or " #", or has space at an end goes into quotes.
_NOT_PLAIN: Final = re.compile(r"""^[\s!&*?:|>'"%@`#{}\[\],<=]|^-(?:\s|$|--)|^\.\.\.|:(?:\s|$)|\s\#|\s$|[\n\t]""")
_NOT_PLAIN_IN_BRACKETS: Final = re.compile(r"^-|[,\[\]{}:?#]")
_ESCAPED: Final = re.compile(r'["\\\n\t]|' + UNSEEN.pattern)
_ESCAPES: Final = {'"': '\\"', "\\": "\\\\", "\n": "\\n", "\t": "\\t", "\r": "\\r", "\0": "\\0"}


def scalar_text(value: Scalar, *, context: Literal["block", "flow"] = "block") -> str:
    """Write a value so that it reads as the same: plain where that can be, else in double quotes.

    Always one line. The context `flow` is the inside of brackets. ValueError for a number that would not
    read as a number (too long, too large, not finite) and for half of a character pair.
    """
    if value is None:
        return "null"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return _text(value, flow=context == "flow", is_plain=resolve(value) == value)
    typed = str(value)
    if isinstance(resolve(typed), str) or resolve(typed) != value:
        raise ValueError(f"{typed} would not be read as a number")
    return typed


def key_text(key: str, *, flow: bool = False) -> str:
    """Write a name; names are always text, so `2026` needs no quotes."""
    return _text(key, flow=flow, is_plain=key != "")


def _text(words: str, *, flow: bool, is_plain: bool) -> str:
    signs = _NOT_PLAIN.search(words) or UNSEEN.search(words)
    if not is_plain or signs or (flow and _NOT_PLAIN_IN_BRACKETS.search(words)):
        return double_quoted(words)
    return words


def needs_escapes(words: str) -> bool:
    """Say whether words hold what cannot stand in single quotes in one line."""
    return "\n" in words or UNSEEN.search(words) is not None


def double_quoted(words: str) -> str:
    """Put words in double quotes, in one line. ValueError for half of a character pair."""
    if SURROGATE.search(words):
        raise ValueError("half of a character pair cannot be written")
    return '"' + _ESCAPED.sub(lambda found: _ESCAPES.get(found[0]) or f"\\u{ord(found[0]):04x}", words) + '"'
