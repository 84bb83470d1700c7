"""A baker's line in words for readers at home: both temperature scales, units written out. Nothing else is changed."""

from __future__ import annotations

import re
from decimal import ROUND_HALF_UP, Decimal

from ovenleaf.domain.numbers import CONTEXT, NUMBER, number, plain
from ovenleaf.domain.quantity import TEMPERATURE, Scale, Temperature

_HOT = Decimal(100)  # degrees Celsius; from here on it is an oven, whose dial has steps
_DIAL = {Scale.C: Decimal(10), Scale.F: Decimal(25)}  # common practice, no source
_HEAT = re.compile(rf"(?:(?P<low>{NUMBER})(?P<to> ?(?:to|-|–) ?))?{TEMPERATURE}", re.IGNORECASE)
_SPAN = re.compile(r"(?P<figure>\d[\d.,/ ]*?) ?(?P<unit>min|h|s)\b(?!\.)")
_UNITS = {"min": "minute", "h": "hour", "s": "second"}


def for_readers(line: str) -> str:
    """A line with both scales and with minutes and hours written out.

    >>> for_readers("60 min at 26 C, covered"), for_readers("18 min at 220 C, 1 h")
    ('60 minutes at 26 °C (79 °F), covered', '18 minutes at 220 °C (425 °F), 1 hour')
    """
    return _SPAN.sub(_span, _HEAT.sub(_heat, line))


def _span(found: re.Match[str]) -> str:
    figure, unit = found["figure"].strip(), _UNITS[found["unit"]]
    return f"{figure} {unit}{'' if figure == '1' else 's'}"


def _heat(found: re.Match[str]) -> str:
    scale = Scale(found["scale"][0].upper())
    degrees = [Temperature(number(text), scale) for text in (found["low"], found["degrees"]) if text]
    between = found["to"] or ""
    typed = between.join(plain(one.value) for one in degrees)
    others = [other_scale(one) for one in degrees]
    return f"{typed} °{scale} ({between.join(plain(one.value) for one in others)} °{others[0].scale})"


def other_scale(degrees: Temperature) -> Temperature:
    """The same on the other scale: to a degree, or to the nearest step of an oven's dial, 10 °C or 25 °F.

    >>> str(other_scale(Temperature(Decimal(220), Scale.C))), str(other_scale(Temperature(Decimal(350), Scale.F)))
    ('425 F', '180 C')
    """
    scale = Scale.F if degrees.scale is Scale.C else Scale.C
    value = degrees.celsius if scale is Scale.C else degrees.celsius * Decimal("1.8") + 32
    step = _DIAL[scale] if degrees.celsius >= _HOT else Decimal(1)
    return Temperature(CONTEXT.divide(value, step).quantize(Decimal(1), rounding=ROUND_HALF_UP) * step, scale)
