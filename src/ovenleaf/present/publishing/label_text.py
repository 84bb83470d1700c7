"""A label's figures as plain text, a guide for whoever makes the label: ingredients, allergens, weight, two tables."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain.figures import pct
from ovenleaf.domain.net_weight import tolerance
from ovenleaf.domain.numbers import HUNDRED, plain, portion, rounded
from ovenleaf.domain.nutrition import SODIUM, eu_rounded, us_calories, us_fat, us_grams, us_sodium
from ovenleaf.domain.quantity import GRAMS_PER, Unit
from ovenleaf.present.formula import revision_words
from ovenleaf.present.screen import blocks, count, day_words, join_words, rows, spoken, wrap

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from ovenleaf.domain.label import Listed
    from ovenleaf.results.publishing import Label

GUIDE = "A guide and no label: check your authority's rules before you sell."
SERVING = Decimal(50)  # g, of bread, 21 CFR 101.12(b), from memory
_NOT_KNOWN = "not worked out"


def label_text(label: Label) -> str:
    """The whole page, ending in a line end."""
    with spoken(False):
        tables = (_eu(label), _us(label))
    return (
        blocks(
            f"{wrap(f'{label.sheet.formula.label}, {revision_words(label.sheet)}: figures for a label')}\n{GUIDE}",
            wrap(f"Ingredients: {', '.join(map(_listed, label.listed))}."),
            wrap(_contains(label)),
            wrap(_net(label)),
            _prepacked(label),
            *tables,
            "\n".join(wrap(one) for one in _basis(label)),
        )
        + "\n"
    )


def _listed(one: Listed) -> str:
    """`butter (MILK)`: allergens in capitals, which no printer loses."""
    inside = ", ".join((*one.parts, *(word.upper() for word in one.allergens)))
    return f"{one.item} ({inside})" if inside else one.item


def _contains(label: Label) -> str:
    found = label.allergens
    us = join_words([*found.us, *found.others]) or "none of the nine"
    eu = join_words([*found.eu, *found.others]) or "none of the fourteen"
    new = label.sheet.new_items
    unknown = f" What is in {join_words(new)} is not known: read the label." if new else ""
    return f"Allergens as named in the EU: {eu}. Contains, as named in the US: {us}.{unknown}"


def _net(label: Label) -> str:
    if label.piece is None:
        return "Net weight: weigh it; the page of the formula does not say what a piece is."
    return f"Net weight of a piece, worked out from the bake loss: {net_weight(label.piece)}. Weigh some to be sure."


def _prepacked(label: Label) -> str:
    """What a pack of that weight may weigh, for who packs to one weight."""
    nominal = None if label.piece is None else rounded(label.piece, 0)
    found = None if nominal is None else tolerance(nominal)
    if found is None or nominal is None:
        return ""
    few, none = (f"{plain(one)} g" for one in (found.few_under, found.none_under))
    eu = (
        f"In the EU and the UK, by the average rule (Directive 76/211/EEC): on average no less than {plain(nominal)} g,"
        f" at most 1 pack in 40 under {few}, none under {none}."
    )
    us = "In the US: on average no less than the label says, and no pack far under (NIST Handbook 133)."
    head = f"Packed ahead and marked {plain(nominal)} g"
    return "\n".join((head, wrap(eu, 2), wrap(us, 2)))


def net_weight(grams: Decimal) -> str:
    """In both systems: `74 g (2.6 oz)`, from a pound up `558 g (1 lb 3.7 oz)`."""
    ounces = rounded(grams / GRAMS_PER[Unit.OZ], 1)
    pounds, rest = divmod(ounces, 16)
    told = f"{plain(pounds)} lb {plain(rest)} oz" if pounds else f"{plain(ounces)} oz"
    return f"{plain(rounded(grams, 0))} g ({told})"


def _eu(label: Label) -> str:
    found = label.nutrition
    names = ("fat", "saturates", "carbohydrate", "sugars", "fibre", "protein", "salt")
    inside = ("saturates", "sugars")
    lines = [("energy", _energy(label))]
    for name in names:
        grams = found.of(name)
        told = _NOT_KNOWN if grams is None else eu_rounded(name, grams)
        lines.append((f"of which {name}" if name in inside else name, told))
    return f"In 100 g of bread, rounded as the EU's guidance has it\n{rows(lines, '<>')}"


def _energy(label: Label) -> str:
    kj, kcal = label.nutrition.kilojoules, label.nutrition.kilocalories
    if kj is None or kcal is None:
        return _NOT_KNOWN
    return f"{plain(rounded(kj, 0))} kJ / {plain(rounded(kcal, 0))} kcal"


def _us(label: Label) -> str:
    """Of a serving, as a US panel has it: a small piece whole, of a loaf the reference amount for bread."""
    found, small = label.nutrition, label.piece is not None and label.piece <= HUNDRED
    grams = label.piece if label.piece is not None and small else SERVING
    per = f"In a {'piece' if small else 'serving'} of {plain(rounded(grams, 0))} g"

    def of(name: str) -> Decimal | None:
        value = found.of(name)
        return None if value is None else portion(value, grams)

    carbohydrate, fibre, salt = of("carbohydrate"), of("fibre"), of("salt")
    whole = None if carbohydrate is None or fibre is None else carbohydrate + fibre
    calories = None if found.calories is None else portion(found.calories, grams)
    lines = [
        ("calories", _told(calories, us_calories)),
        ("total fat", _told(of("fat"), us_fat)),
        ("saturated fat", _told(of("saturates"), us_fat)),
        ("sodium", _told(None if salt is None else salt * 1000 / SODIUM, us_sodium)),
        ("total carbohydrate", _told(whole, us_grams)),
        ("dietary fiber", _told(fibre, us_grams)),
        ("total sugars", _told(of("sugars"), us_grams)),
        ("protein", _told(of("protein"), us_grams)),
    ]
    missing = "Trans fat, cholesterol, added sugars, vitamins and minerals are not worked out; a full panel has them."
    return f"{per}, rounded as 21 CFR 101.9(c) has it, halves up\n{rows(lines, '<>')}\n{wrap(missing, 2)}"


def _told(value: Decimal | None, as_label: Callable[[Decimal], str]) -> str:
    return _NOT_KNOWN if value is None else as_label(value)


_FROM = {"given": "as you said", "formula": "as the formula says"}


def _basis(label: Label) -> Iterator[str]:
    """What the figures rest on, and what they leave out."""
    loss, found = label.loss, label.nutrition
    measured = f"as {count(loss.bakes, 'bake')} of this formula measured"
    known = _FROM.get(loss.source, measured)
    yield f"Worked out from the ingredient list, with a bake loss of {pct(loss.pct)}, {known}."
    yield "What the oven takes is counted as water. Sugar that the yeast eats is not taken off."
    for name, items in found.not_known:
        yield f"No {name}: the ingredient list does not know it of {join_words(items)}."
    if found.passed_over:
        yield f"Left out for being so little, and not known: {join_words(found.passed_over)}."
    if outside := [line.item for line in label.sheet.formula.outside]:
        yield f"Not in the figures, though in the list: {join_words(list(dict.fromkeys(outside)))}, outside the dough."
    saved = label.sheet.formula.saved
    on = f", {day_words(saved)}" if saved else ""
    revision = f"{label.sheet.formula.label}, {revision_words(label.sheet)}{on}"
    yield f"{label.book}. {revision}. Made on {day_words(label.made)}."
