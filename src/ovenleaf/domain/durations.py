"""How long something took, as bakers write it: `60 to 75 min`, `1h30`, `1 1/2 h`. Knows no clock and no date.

The patterns are for lower-case text with single spaces, as the bench line hands it over.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

from ovenleaf.domain.numbers import CONTEXT, number, plain, rounded

_FRACTIONS = {"¼": " 1/4", "½": " 1/2", "¾": " 3/4", "⅓": " 1/3", "⅔": " 2/3", "⅛": " 1/8"}
_FRACTION = f"[{''.join(_FRACTIONS)}]"
# The numbers of `numbers.NUMBER` in one run, which compiles and matches faster, and fractions as one sign.
FIGURE = rf"(?:\d+(?:[.,]\d+|(?: \d+)?/\d+| ?{_FRACTION})?|{_FRACTION})"
END = r"(?![^\W_])"  # a unit ends where no letter and no digit follows
TO = r"(?:to\b|or\b|[-–—])"
TIME_UNIT = r"(?:d(?:ays?)?|h(?:ours?|rs?)?|m(?:in(?:ute)?s?)?|s(?:econds|ecs?)?)\.?"
_PART = rf"{FIGURE}\s?{TIME_UNIT}(?![^\W\d_])"
# `1h30` and `1 h 30` are an hour and a half, but `1h30 °C`, `1 h 30 g` and `1 h 30 rolls` are not.
_BARE_MINUTES = r"(?:[0-5]\d(?![\w.,/:]| ?(?:[°º%℃℉]|deg|[cfg]\b))| [0-5]\d(?=$| (?:at|ago|to|in|until)\b))"
_SPAN = rf"{_PART}(?: ?(?:and )?{_PART})*{_BARE_MINUTES}?{END}"
LENGTH = rf"(?P<between>between )?(?:(?P<low>{_SPAN}|{FIGURE}) ?(?:{TO}|(?(between)and\b|(?!))) ?)?(?P<high>{_SPAN})"
_ONE_PART = re.compile(rf"(?P<figure>{FIGURE})\s?(?P<unit>[dhms])")
_AFTER_HOURS = re.compile(r"h[a-z]*\.? ?(\d\d)$")
_MINUTES_PER = {"d": Decimal(1440), "h": Decimal(60), "m": Decimal(1)}
_LONG = 90  # from here on a single figure is told in hours: 75 min, but 1 h 30 min


@dataclass(frozen=True, slots=True, kw_only=True)
class Duration:
    """A length of time in minutes; `low` equals `high` for a single figure."""

    low: Decimal
    high: Decimal

    def __str__(self) -> str:
        if self.low == self.high:
            return _words(self.low)
        if not self.low % 60 and not self.high % 60:
            return f"{plain(self.low / 60)} to {plain(self.high / 60)} h"
        if self.low < _LONG and not self.low % 1 and not self.high % 1:
            return f"{plain(self.low)} to {plain(self.high)} min"
        return f"{_words(self.low)} to {_words(self.high)}"


def _words(minutes: Decimal) -> str:
    seconds = rounded(minutes * 60, 3)
    hours = seconds // 3600 if seconds >= _LONG * 60 else Decimal(0)
    whole, rest = divmod(seconds - hours * 3600, 60)
    parts = ((hours, "h"), (whole, "min"), (rest, "s"))
    return " ".join(f"{plain(figure)} {unit}" for figure, unit in parts if figure) or "0 min"


def figure(text: str) -> Decimal:
    """As `numbers.number`, and with the fractions that have a sign of their own: `1½` is 1.5.

    Raises NumberFault.

    >>> figure("1½"), figure("2,5")
    (Decimal('1.5'), Decimal('2.5'))
    """
    for sign, spelled in _FRACTIONS.items():
        text = text.replace(sign, spelled)
    return number(text)


def minutes(span: str) -> Decimal | None:
    """The minutes that one span writes, `1 h 30 min` or `1h30`, to a millionth of a minute.

    That far, so that `1/3 h`, which no Decimal holds, is the same as `20 min`. None where the units
    do not fall, such as `3 min 5 min`. Raises NumberFault.

    >>> minutes("1h30"), minutes("1 1/2 h") == minutes("90 min")
    (Decimal('90.000000'), True)
    """
    parts = [(part["unit"], figure(part["figure"])) for part in _ONE_PART.finditer(span)]
    units = [unit for unit, _ in parts]  # d, h, m, s: the longer unit is the earlier letter
    bare = _AFTER_HOURS.search(span)
    if units != sorted(set(units)) or (span[-1].isdecimal() and not bare):
        return None
    total = Decimal(bare[1] if bare else 0)
    for unit, value in parts:
        total = CONTEXT.add(total, _part(value, unit))
    return rounded(total, 6)


def _part(value: Decimal, unit: str) -> Decimal:
    if unit == "s":
        return CONTEXT.divide(value, Decimal(60))
    return CONTEXT.multiply(value, _MINUTES_PER[unit])


def length(found: re.Match[str]) -> Duration | None:
    """The Duration of a match of LENGTH; None where it cannot be one, as in `90 to 2 h` or `3 min 5 min`.

    The first figure of a range borrows the unit of the second. Raises NumberFault.
    """
    high = minutes(found["high"])
    low = high if found["low"] is None else minutes(_with_unit(found["low"], found["high"]))
    return Duration(low=low, high=high) if low is not None and high is not None and low <= high else None


def _with_unit(low: str, high: str) -> str:
    unit = _ONE_PART.search(high)
    return low if _ONE_PART.search(low) or not unit else f"{low} {unit['unit']}"
