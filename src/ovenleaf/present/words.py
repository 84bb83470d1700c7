"""What a page has in a baker's short writing, as a screen says it."""

from __future__ import annotations

import re

_DEGREES = re.compile(r"(\d) ?([CF])\b")


def in_degrees(text: str) -> str:
    """A line of a page as a screen shows it, with its degree sign.

    >>> in_degrees("12 h at 21 C, covered"), in_degrees("240C falling to 220 °C")
    ('12 h at 21 °C, covered', '240 °C falling to 220 °C')
    """
    return _DEGREES.sub(r"\1 °\2", text)
