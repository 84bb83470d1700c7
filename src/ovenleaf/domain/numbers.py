"""Numbers from text: the one edge where a Decimal is made. No floats exist past this point."""

from __future__ import annotations

import re
from decimal import ROUND_HALF_UP, Context, Decimal, DivisionByZero, InvalidOperation, Overflow

# 28 digits is far beyond any scale; what a baker cannot write is an error and never a NaN.
CONTEXT = Context(prec=28, rounding=ROUND_HALF_UP, traps=[InvalidOperation, DivisionByZero, Overflow])

HUNDRED = Decimal(100)
ZERO = Decimal(0)
LARGEST = Decimal(10) ** 9

_FIGURE = r"\d+(?:[.,]\d+)?"
_NUMBER = re.compile(rf"(?P<minus>-?)(?:(?:(?P<whole>\d+)\s+)?(?P<over>\d+)/(?P<under>\d+)|(?P<figure>{_FIGURE}))")
NUMBER = rf"(?:\d+\s+\d+/\d+|\d+/\d+|{_FIGURE})"  # for the grammars that hold a number


class NumberFault(ValueError):
    """A text that should be a number and is not. Facts: `text` and `kind`.

    `kind` is one of `not a number`, `not finite`, `too large`, `divided by zero`.
    """

    def __init__(self, text: str, kind: str) -> None:
        super().__init__(f"{text!r}: {kind}")
        self.text = text
        self.kind = kind


def number(text: str) -> Decimal:
    """The Decimal that `text` writes: `62.5`, `62,5`, `1/2`, `1 1/2`, `-3`.

    A decimal comma is a comma followed by a digit. Exponents, signs in front of nothing,
    thousands marks, `nan` and `inf` are refused with a NumberFault.

    >>> number("62,5"), number("1 1/2")
    (Decimal('62.5'), Decimal('1.5'))
    """
    stripped = text.strip()
    found = _NUMBER.fullmatch(stripped)
    if not found:
        raise NumberFault(stripped, _why_not(stripped))
    value = _value(found, stripped)
    if abs(value) > LARGEST:
        raise NumberFault(stripped, "too large")
    return value


def _value(found: re.Match[str], text: str) -> Decimal:
    sign = -1 if found["minus"] else 1
    if found["figure"]:
        return sign * Decimal(found["figure"].replace(",", "."))
    under = Decimal(found["under"])
    if not under:
        raise NumberFault(text, "divided by zero")
    whole = Decimal(found["whole"] or 0)
    return sign * CONTEXT.add(whole, CONTEXT.divide(Decimal(found["over"]), under))


def _why_not(text: str) -> str:
    if re.fullmatch(r"[-+.]*(nan|inf|infinity)", text, re.IGNORECASE):
        return "not finite"
    if re.fullmatch(r"[-+]?\d+(\.\d+)?[eE][-+]?\d+", text):
        return "too large"
    return "not a number"


def plain(value: Decimal) -> str:
    """`value` without trailing zeros or an exponent, for files: `62.50` is `62.5`, `1E+3` is `1000`.

    >>> plain(Decimal("62.50")), plain(Decimal("1E+3"))
    ('62.5', '1000')
    """
    text = format(value.normalize(CONTEXT), "f")
    return "0" if text == "-0" else text


def rounded(value: Decimal, places: int) -> Decimal:
    """`value` to `places` decimals, halves away from zero, as a baker rounds.

    >>> rounded(Decimal("2.345"), 2)
    Decimal('2.35')
    """
    return value.quantize(Decimal(1).scaleb(-places), context=CONTEXT)


def share_of(part: Decimal, whole: Decimal) -> Decimal:
    """`part` in percent of `whole`: 100 x part / whole (baker's percentage when whole is the flour).

    Source: W. Gisslen, Professional Baking, section Baker's Percentages.

    >>> share_of(Decimal(340), Decimal(500))
    Decimal('68')
    """
    return CONTEXT.divide(HUNDRED * part, whole)


def portion(share: Decimal, whole: Decimal) -> Decimal:
    """`share` percent of `whole`, the inverse of `share_of`.

    >>> portion(Decimal(68), Decimal(500))
    Decimal('340')
    """
    return CONTEXT.divide(share * whole, HUNDRED)
