"""One line of a card: weighed where it can be, asked about where it cannot."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain.card import Asked, Choice, Sure, Taken, page_grams
from ovenleaf.domain.ingredients import Kind
from ovenleaf.domain.numbers import CONTEXT, ZERO, plain, rounded
from ovenleaf.domain.quantity import MILLILITRES_PER, Unit
from ovenleaf.domain.recipe_measures import PIECE
from ovenleaf.domain.recipe_questions import (
    as_card_says,
    how_much,
    which_kind,
    which_measure,
    which_salt,
    which_starter,
    which_yeast,
    yeast_cake,
)
from ovenleaf.domain.recipe_units import Measures, unit_named
from ovenleaf.domain.recipe_weights import best_amounts, filled, weigh

if TYPE_CHECKING:
    from ovenleaf.domain.ingredients import Ingredient, Pantry
    from ovenleaf.domain.recipe_items import Meant
    from ovenleaf.domain.recipe_lines import Heard
    from ovenleaf.domain.recipe_measures import Amount
    from ovenleaf.domain.recipe_weights import Weight


def take(heard: Heard, words: str, part: str, meant: Meant, pantry: Pantry, measures: Measures | None) -> Taken:
    """One line of a card, weighed or asked about. `measures` is None where the card does not say whose they are."""
    typed = " ".join(one.typed for one in heard.amounts)
    short = f"{typed} {heard.item}".strip()
    base = Taken(words=words, item=meant.name, short=short, part=part, note=_note(heard), purpose=heard.purpose)
    if heard.purpose:
        return base
    asked = _asked(heard, words, meant, pantry, measures)
    if asked is not None:
        return _with(base, asked=asked, how=asked.about, sure=Sure.OPEN)
    weight = weigh(heard, meant, pantry, measures or Measures.US)
    if weight is None:
        return _with(
            base, asked=how_much(meant.name, as_card_says(heard, words)), how="how much it weighs", sure=Sure.OPEN
        )
    said = (_own_measure(heard, measures) if heard.aside else "") or _amount(heard, meant.ingredient, weight)
    return _with(
        base,
        amount=said,
        grams=Decimal(said.removesuffix(" g")) if said.endswith(" g") else weight.grams,
        low=weight.low,
        high=weight.high,
        how=weight.how,
        source=weight.source,
        sure=weight.sure,
        asked=_how_filled(heard, meant, measures or Measures.US),
    )


def _with(base: Taken, **facts: object) -> Taken:
    return replace(base, **facts)  # type: ignore[arg-type]  # named by the callers, field by field


def _note(heard: Heard) -> str:
    said = heard.note if heard.note != "more" else ""
    return ", ".join(filter(None, (said, "optional" if heard.optional else "")))


def _asked(heard: Heard, words: str, meant: Meant, pantry: Pantry, measures: Measures | None) -> Asked | None:
    """The question that must be settled before the line has grams; None where there is none."""
    said = as_card_says(heard, words)
    if heard.doubts:
        return how_much(meant.name, said, about=f"not clear: {'; '.join(heard.doubts)}")
    best, whose = best_amounts(heard), measures or Measures.US
    if meant.unclear == "yeast" or (_is_cake(best) and meant.ingredient.kind is Kind.YEAST):
        return (
            yeast_cake(meant, best, said)
            if _is_cake(best, meant.name)
            else which_yeast(meant, best, said, pantry, whose)
        )
    if meant.unclear == "starter":
        return which_starter(meant, best, said, pantry)
    if meant.unclear == "kind":
        return which_kind(meant, said, _as_each(heard, meant, pantry, whose))
    if any(one.is_vague for one in best):
        return how_much(meant.name, said, choices=_by_hand(best, meant), about=f"how much a {best[0].name} is")
    if measures is None and any(one.unit is not None and one.unit.differs for one in best):
        return which_measure(meant, best, said)
    pinch = all(one.name == "pinch" for one in best)  # whichever salt it is, it is less than a gram
    if _by_volume(best) and not pinch and (meant.unclear == "salt" or _is_kosher(meant)):
        return which_salt(meant, best, said, pantry, whose)
    return None


def _as_each(heard: Heard, meant: Meant, pantry: Pantry, measures: Measures) -> list[Weight | None]:
    """What a line weighs as each thing that it may mean."""
    known = [replace(meant, name=name, ingredient=pantry.get(name)) for name in meant.near]
    return [weigh(heard, one, pantry, measures) for one in known]


def _is_kosher(meant: Meant) -> bool:
    """Salt whose brands weigh up to twice as much by the spoon, or whose spoon no table has weighed."""
    one = meant.ingredient
    return one.kind is Kind.SALT and one.teaspoon is None and one.name != "fine sea salt"


def _is_cake(amounts: tuple[Amount, ...], name: str = "") -> bool:
    return any(one.name == "cake" for one in amounts) or "cake" in name.split()


def _by_volume(amounts: tuple[Amount, ...]) -> bool:
    return any((one.unit is not None and one.unit.volume is not None) or one.name == "pinch" for one in amounts)


def _by_hand(amounts: tuple[Amount, ...], meant: Meant) -> tuple[Choice, ...]:
    """A handful is a quarter to half a cup (common practice, no source): a range to choose in, never one figure."""
    if len(amounts) != 1 or amounts[0].name not in ("handful", "handfuls") or meant.ingredient.cup is None:
        return ()
    cups = [meant.ingredient.cup * amounts[0].high * part for part in (Decimal("0.25"), Decimal("0.5"))]
    how = "a handful as a quarter to half a cup, common practice, no source"
    return tuple(
        Choice(said=said, amount=page_grams(grams), how=how, sure=Sure.GUESSED)
        for said, grams in zip(("a small one", "a large one"), cups, strict=True)
    )


_PAGE_UNITS = {"teaspoon": "tsp", "tablespoon": "tbsp", "cup": "cup"}


def _own_measure(heard: Heard, measures: Measures | None) -> str:
    """What stands beside the dough, in the measure it was told in: `1 tbsp`; "" where a page has none such."""
    one = best_amounts(heard)[0]
    whole = one.low == one.high and len(best_amounts(heard)) == 1 and one.low == rounded(one.low, 3)
    unit = _PAGE_UNITS.get(one.name, "")
    return f"{plain(one.low)} {unit}" if whole and unit and measures in (None, Measures.US) else ""


def _amount(heard: Heard, ingredient: Ingredient, weight: Weight) -> str:
    """As the page has it: pieces stay pieces, so that two eggs are two eggs; the rest is in grams."""
    amounts = best_amounts(heard)
    if (
        len(amounts) == 1
        and amounts[0].name == PIECE
        and ingredient.piece is not None
        and amounts[0].low == amounts[0].high
    ):
        return f"{plain(amounts[0].low)} pc"
    if all(one.name in ("g", "kg") and one.low == one.high for one in amounts):
        return f"{plain(weight.grams)} g"
    if all(one.unit is not None and one.unit.grams is not None and one.low == one.high for one in amounts):
        return f"{plain(rounded(weight.grams, 1))} g"
    return page_grams(weight.grams)


def _how_filled(heard: Heard, meant: Meant, measures: Measures) -> Asked | None:
    """Of flour by the cup it matters whether the cup was dipped, spooned or sifted into; usual is the table's."""
    one = meant.ingredient
    amounts = best_amounts(heard)
    cups = [amount for amount in amounts if amount.name == "cup"]
    if one.kind is not Kind.FLOUR or one.cup is None or len(cups) != 1 or len(amounts) != 1 or meant.how:
        return None
    others = [other for other in one.weighed_otherwise if other.measure == "cup" and other.how in ("spooned", "sifted")]
    if not others:
        return None
    volume = unit_named("cup").millilitres(measures)
    factor = (cups[0].low + cups[0].high) / 2 * CONTEXT.divide(volume or ZERO, MILLILITRES_PER[Unit.CUP])
    usual = ("scooped" if filled("cup", one) else "not sifted", one.cup, one.source_of("cup"))
    ways = [usual, *((other.how, other.grams, other.source) for other in others if _apart(other.grams, one.cup))]
    return Asked(
        key=meant.name,
        was=heard.amounts[0].typed,
        about=" or ".join(said for said, _, _ in ways),
        soft=True,
        choices=tuple(
            Choice(said=said, amount=page_grams(grams * factor), how=f"table, {said} cup {plain(grams)} g, {source}")
            for said, grams, source in ways
        ),
    )


def _apart(one: Decimal, other: Decimal) -> bool:
    """True of two weights that are more than a fiftieth apart; what is nearer is not worth a question."""
    return abs(one - other) * 50 > other
