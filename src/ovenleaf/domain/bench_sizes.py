"""How large the bread came out, told at the bench: `height 82 mm`, `8,2 cm high`, `volume 2,4 l`."""

from __future__ import annotations

import re

from ovenleaf.domain.durations import FIGURE, figure
from ovenleaf.domain.numbers import NumberFault, plain

_LENGTH = r"(?:mm|cm|in|inch|inches)"
_ROOM = r"(?:ml|l|litres?|liters?|cc)"
_IS = r"(?:[:=]| is| was)? ?(?:about |ca\.? )?"
_OF = r"(?:(?:the )?(?:bread|loaf|roll|bun)(?: is| was)? )?"
# Each field of the page, what bakers say ahead of the figure, what behind it, and its units.
_FIELDS = (
    ("height", r"height|high", r"high|tall|height", _LENGTH),
    ("width", r"width|diameter|wide", r"wide|across|width", _LENGTH),
    ("volume", r"volume", r"volume|in volume", _ROOM),
)
_SPELLED = {"inch": "in", "inches": "in", "litre": "l", "litres": "l", "liter": "l", "liters": "l", "cc": "ml"}


def sizes(words: str) -> tuple[str, str] | None:
    """The field and its text for the page; None for words that are none.

    >>> sizes("height 8,2 cm"), sizes("2.4 l volume"), sizes("height looks good")
    (('height', '8.2 cm'), ('volume', '2.4 l'), None)
    """
    low = " ".join(words.lower().split())
    for name, ahead, behind, units in _FIELDS:
        so_much = rf"(?P<figure>{FIGURE}) ?(?P<unit>{units})"
        found = re.fullmatch(rf"{_OF}(?:{ahead}){_IS}{so_much}", low) or re.fullmatch(
            rf"{_OF}{so_much} (?:{behind})", low
        )
        if found is None:
            continue
        try:
            value = figure(found["figure"])
        except NumberFault:
            return None
        return (name, f"{plain(value)} {_SPELLED.get(found['unit'], found['unit'])}") if value > 0 else None
    return None
