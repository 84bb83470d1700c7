"""How much, where it stands in a line: `1 lb 2 oz`, `500 g / 4 cups`, `2 (7 g) packets`, `1 cup less 1 tbsp`."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

from ovenleaf.domain.recipe_numbers import Number, evened, number_at
from ovenleaf.domain.recipe_units import RecipeUnit, is_heaped, unit_at

PIECE = "piece"


@dataclass(frozen=True, slots=True, kw_only=True)
class Amount:
    """So much of a unit. `unit` is None of pieces (`name` is then `piece`) and of what is vague (`name` is the word).

    `part` is -1 where it is to be taken off (`1 cup less 1 tbsp`), else 1. `typed` is how it stands in the line.
    """

    low: Decimal
    high: Decimal
    unit: RecipeUnit | None
    name: str
    filling: str = ""
    part: int = 1
    typed: str = ""

    @property
    def is_vague(self) -> bool:
        """True where no two cooks measure alike."""
        return self.unit is None and self.name != PIECE


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundAmount:
    """What stands at a place: amounts that are added up, the same in other measures, where it ends, doubts."""

    amounts: tuple[Amount, ...]
    others: tuple[Amount, ...]
    end: int
    doubts: tuple[str, ...]


def evened_line(line: str) -> str:
    """One line in one kind of spaces, dashes, slashes; ½ spelled out."""
    return evened(line)


_PLUS = re.compile(
    r"\s*(?:,\s*)?(?:(?P<plus>plus|and|\+|&)|(?P<less>less|minus))?\s*(?:an?\s+extra\s+)?(?=[\d½ao])", re.IGNORECASE
)
_OTHER = re.compile(
    r"\s*(?:/|=|\bor(?:\s+about)?(?![a-z])|[(\[]\s*(?:about|approx\.?|approximately|ca\.?|or|=)?)\s*(?=\d)",
    re.IGNORECASE,
)
_EACH = re.compile(r"\s*[(\[]\s*(?:about|approx\.?)?\s*(?=\d)", re.IGNORECASE)
_HOLDERS = ("packet", "can", "cans", "tin", "tins", "jar", "jars", "bag", "bags", "box", "boxes", "bottle", "bottles",
            "carton", "cartons", "tub", "tubs", "cake")  # fmt: skip


def has_amount(text: str) -> bool:
    """True where a figure with a measure behind it, or a count, stands somewhere in the text."""
    places = [0, *(gap.end() for gap in re.finditer(r"[\s(,]+", text))]
    return any((found := amount_at(text, at)) is not None and (found.amounts[0].name != PIECE or text[at].isdigit())
               for at in places if at < len(text))  # fmt: skip


def amount_at(text: str, at: int = 0) -> FoundAmount | None:
    """What is measured at `at`; None where no number stands there."""
    first = _one(text, at)
    if first is None:
        return None
    amount, end, doubts = first
    if (each := _holder(text, amount, end)) is not None:
        return each
    amounts, others = [amount], []
    while (more := _further(text, end, amounts)) is not None:
        step, end, doubt = more
        amounts.append(step)
        doubts = (*doubts, *doubt)
    while (same := _another(text, end, amounts)) is not None:
        step, end, doubt = same
        others.append(step)
        doubts = (*doubts, *doubt)
    if any(is_heaped(one.filling) for one in amounts):
        doubts = (*doubts, f"how much a {amount.filling} {amount.name} holds")
    return FoundAmount(amounts=tuple(amounts), others=tuple(others), end=end, doubts=doubts)


# `½ a pint`, `¼ of a lb.`, `½ an oz.`
_OF_A = re.compile(r"\s+(?:of\s+)?an?(?=\s)", re.IGNORECASE)
_PINCH = re.compile(r"(?=(?:(?:good|small|large|big|generous)\s+)?pinch(?![a-z]))", re.IGNORECASE)


def _only_a_pinch(text: str, at: int) -> Number | None:
    """`pinch of salt` is one, where it begins the line."""
    return Number(low=Decimal(1), high=Decimal(1), end=at) if at == 0 and _PINCH.match(text) else None


def _one(text: str, at: int) -> tuple[Amount, int, tuple[str, ...]] | None:
    number = number_at(text, at) or _only_a_pinch(text, at)
    if number is None:
        return None
    a = _OF_A.match(text, number.end)
    unit = (unit_at(text, a.end()) if a else None) or unit_at(text, number.end)
    typed_end = number.end if unit is None else unit.end
    amount = Amount(
        low=number.low,
        high=number.high,
        unit=None if unit is None else unit.unit,
        name=PIECE if unit is None else (unit.unit.name if unit.unit else unit.word),
        filling="" if unit is None else unit.filling,
        typed=text[at:typed_end].strip(),
    )
    return amount, typed_end, (number.doubt,) if number.doubt else ()


def _holder(text: str, amount: Amount, end: int) -> FoundAmount | None:
    """`2 (7 g) packets`, `1 14-ounce can`: so many, each of so much."""
    if amount.name != PIECE:
        return None
    gap = _EACH.match(text, end) or re.compile(r"\s+(?=\d)").match(text, end)
    inner = _one(text, gap.end()) if gap else None
    if inner is None or inner[0].unit is None:
        return None
    each, inner_end, doubts = inner
    close = re.compile(r"\s*(?:each\s*)?[)\]]?\s*").match(text, inner_end)
    holder = unit_at(text, close.end() if close else inner_end)
    name = "" if holder is None else (holder.unit.name if holder.unit else holder.word)
    if holder is None or name not in _HOLDERS:
        return None
    whole = Amount(
        low=amount.low * each.low,
        high=amount.high * each.high,
        unit=each.unit,
        name=each.name,
        typed=text[: holder.end].strip(),
    )
    return FoundAmount(amounts=(whole,), others=(), end=holder.end, doubts=doubts)


def _further(text: str, end: int, amounts: list[Amount]) -> tuple[Amount, int, tuple[str, ...]] | None:
    """`2 oz` behind `1 lb`, `plus 2 tablespoons` behind `1 cup`: of the same sort and of a smaller unit."""
    gap = _PLUS.match(text, end)
    found = _one(text, gap.end()) if gap and amounts[-1].unit is not None else None
    if gap is None or found is None or found[0].unit is None:
        return None
    before, step = amounts[-1].unit, found[0].unit
    assert before is not None
    if (before.grams is None) != (step.grams is None) or (before.volume is None) != (step.volume is None):
        return None
    if before.name == step.name or not _smaller(step, before):
        return None
    amount = found[0] if not gap["less"] else _less(found[0])
    return amount, found[1], found[2]


def _smaller(one: RecipeUnit, other: RecipeUnit) -> bool:
    if one.grams is not None and other.grams is not None:
        return one.grams < other.grams
    return one.volume is not None and other.volume is not None and one.volume[0] < other.volume[0]


def _less(amount: Amount) -> Amount:
    from dataclasses import replace

    return replace(amount, part=-1)


def _another(text: str, end: int, amounts: list[Amount]) -> tuple[Amount, int, tuple[str, ...]] | None:
    """`/ 4 cups`, `(450 g)`, `or 500 g` behind an amount: the same in another measure."""
    gap = _OTHER.match(text, end)
    found = _one(text, gap.end()) if gap else None
    if gap is None or found is None or found[0].unit is None:
        return None
    close = re.compile(r"[^)\]\w]*[)\]]").match(text, found[1]) if re.search(r"[(\[]", gap[0]) else None
    if re.search(r"[(\[]", gap[0]) and close is None:
        nested = _another(text, found[1], amounts)  # (450 g / 1 lb)
        if nested is None:
            return None
        return found[0], found[1], found[2]
    if found[0].unit in [one.unit for one in amounts]:
        return None
    return found[0], close.end() if close else found[1], found[2]
