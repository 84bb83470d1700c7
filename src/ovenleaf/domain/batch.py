"""How much dough one bake was: a batch in the baker's words to grams of flour."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from ovenleaf.domain.measures import in_grams
from ovenleaf.domain.numbers import CONTEXT, HUNDRED, NUMBER, number
from ovenleaf.domain.quantity import GRAMS_PER, UNIT_WORDS

if TYPE_CHECKING:
    from decimal import Decimal

    from ovenleaf.domain.percent import Worked

_WEIGHT = rf"(?P<figure>{NUMBER})\s*(?P<unit>g|kg|oz|lb|grams?|kilos?|ounces?|pounds?|lbs)"
_OF_FLOUR = re.compile(rf"{_WEIGHT}(?: of)?(?: all the| all)? flour", re.IGNORECASE)
_OF_DOUGH = re.compile(rf"{_WEIGHT}(?: of)? dough", re.IGNORECASE)
_PIECES = re.compile(rf"(?P<count>\d+)\s*(?:[a-z ]+?\s)?(?:of|x|×)\s*{_WEIGHT}(?: dough)?", re.IGNORECASE)


def flour_in_batch(batch: str, worked: Worked) -> Decimal | None:
    """The flour of a batch, in g: `600 g flour`, `1020 g dough`, `12 rolls of 85 g`; None if it is not said.

    flour = dough / (total % / 100) (W. Gisslen, Professional Baking).
    """
    text = batch.strip()
    if found := _OF_FLOUR.fullmatch(text):
        return _grams(found)
    if found := _OF_DOUGH.fullmatch(text):
        return _flour(_grams(found), worked)
    if found := _PIECES.fullmatch(text):
        return _flour(_grams(found) * int(found["count"]), worked)
    return None


def dough_in_batch(batch: str, worked: Worked) -> Decimal | None:
    """The dough of a batch, in g, or None if the batch is not said."""
    flour = flour_in_batch(batch, worked)
    return None if flour is None else CONTEXT.divide(flour * worked.total, HUNDRED)


def _grams(found: re.Match[str]) -> Decimal:
    unit = UNIT_WORDS[found["unit"].lower()]
    assert unit in GRAMS_PER
    return in_grams(number(found["figure"]), unit)


def _flour(dough: Decimal, worked: Worked) -> Decimal:
    return CONTEXT.divide(dough * HUNDRED, worked.total)
