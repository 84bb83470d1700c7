"""The totals of a formula as text, each saying what it counts; printed lines add up as printed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain.figures import pct, shown_pct
from ovenleaf.domain.ingredients import Kind
from ovenleaf.domain.numbers import ZERO, rounded
from ovenleaf.present.screen import blocks, join_words, rows, wrap

if TYPE_CHECKING:
    from decimal import Decimal

    from ovenleaf.domain.sheet import Sheet

    Rows = tuple[tuple[str, Decimal], ...]


def totals_blocks(sheet: Sheet) -> str:
    """The totals: with their sources one to a line where no water is poured, otherwise one line each."""
    if not sheet.totals.water_poured and sheet.totals.all_water:
        return _in_full(sheet)
    return _in_short(sheet)


def _in_short(sheet: Sheet) -> str:
    t = sheet.totals
    inside = tuple((item, p) for item, p in t.all_water_from if dict(sheet.kinds).get(item) is not Kind.WATER)
    lines = [
        ("water as poured", pct(t.water_poured), "") if t.water_poured else None,
        ("all water", _tenth(t.all_water), _inside(inside, shows=_tenth(t.all_water) != _tenth(t.water_poured))),
        ("salt", pct(t.salt), "") if t.salt else None,
        ("fat", _tenth(t.fat), _from(t.fat_from)) if _shows(t.fat) else None,
        ("added sugar", _tenth(t.added_sugar), _from(t.added_sugar_from)) if _shows(t.added_sugar) else None,
        ("milk sugar", _tenth(t.milk_sugar), "which yeast leaves alone") if _shows(t.milk_sugar) else None,
        ("yeast", pct(t.yeast_as_instant), "as instant") if t.yeast_as_instant else None,
        ("prefermented flour", pct(t.prefermented_flour), "") if t.prefermented_flour else None,
    ]
    table = "Totals, in shares of all the flour\n" + rows([line for line in lines if line], "<><")
    return "\n".join(filter(None, (table, _not_known(sheet))))


def _not_known(sheet: Sheet) -> str:
    """What is not in the totals because the ingredient list does not have it."""
    told = [f"the {join_words(missing)} in {item}" for item, missing in sheet.totals.not_known]
    return wrap(f"Not known, and so not counted: {'; '.join(told)}.", 2) if told else ""


def _shows(value: Decimal) -> bool:
    return bool(rounded(value, 1))


def _tenth(value: Decimal) -> str:
    return pct(rounded(value, 1))


def _inside(sources: Rows, *, shows: bool) -> str:
    """What brings the water that is not poured; said too where it is so little that the figure does not move."""
    names = [item for item, share in sources if rounded(share, 2)][:3]
    if not names:
        return ""
    if not shows:
        return f"{join_words(names)} {'brings' if len(names) == 1 else 'bring'} too little to show"
    return f"with the water inside {join_words(names)}"


def _from(sources: Rows) -> str:
    names = [item for item, share in sources if _shows(share)]
    return f"from the {join_words(names[:3])}" if names else ""


def _in_full(sheet: Sheet) -> str:
    t = sheet.totals
    water = _add_up("All water", "None is poured; it comes inside", t.all_water_from)
    fat = _add_up("Fat", "", t.fat_from)
    sugars = _sugars(t.added_sugar_from, t.milk_sugar_from)
    return blocks(water, fat, sugars, _not_known(sheet), _other(sheet))


def _add_up(name: str, words: str, sources: Rows) -> str:
    """A heading with the sum of the figures below it as they are printed."""
    lines = [(item, rounded(share, 1)) for item, share in sources if _shows(share)]
    if not lines:
        return ""
    heading = f"{name}, {pct(_sum(lines))} of the flour{'. ' + words if words else ''}"
    return f"{heading}\n{rows([(item, pct(share)) for item, share in lines], '<>')}"


def _sum(lines: list[tuple[str, Decimal]]) -> Decimal:
    return sum((share for _, share in lines), ZERO)


def _sugars(added: Rows, milk: Rows) -> str:
    lines = [(item, rounded(share, 1), "") for item, share in added if _shows(share)]
    lines += [(i, rounded(s, 1), "milk sugar, which yeast leaves alone") for i, s in milk if _shows(s)]
    if not lines:
        return ""
    total = sum((share for _, share, _ in lines), ZERO)
    table = rows([(item, pct(share), words) for item, share, words in lines], "<><")
    return f"Sugars, {pct(total)} of the flour\n{table}"


def _other(sheet: Sheet) -> str:
    t = sheet.totals
    said = []
    yeasts = [(item, share) for share in sheet.worked.whole if (item := share.item) and _is_yeast(sheet, item)]
    for item, share in yeasts:
        if "instant" not in item:
            said.append(f"{pct(share.pct)} {item} does the work of {pct(shown_pct(t.yeast_as_instant))} instant yeast.")
    if t.prefermented_flour:
        said.append(f"{pct(t.prefermented_flour)} of the flour is prefermented.")
    return "\n".join(wrap(sentence) for sentence in said)


def _is_yeast(sheet: Sheet, item: str) -> bool:
    return dict(sheet.kinds).get(item) is Kind.YEAST
