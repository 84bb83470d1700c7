"""What is printed for a blind tasting: a score sheet for each taster, and the list of whoever cuts and serves."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain.tasting import Design
from ovenleaf.present.screen import blocks, date_words, join_words, rows, short_date, wrap

if TYPE_CHECKING:
    from ovenleaf.results import TastingSetUp

_LINE = "_" * 7


def score_sheets(result: TastingSetUp) -> str:
    """One sheet for each taster, a form feed between; codes only."""
    tasting = result.shown.tasting
    sheets = [_sheet(result, taster, order) for taster, order in tasting.orders]
    return "\n\f\n".join(sheets) + "\n"


def _sheet(result: TastingSetUp, taster: str, order: tuple[str, ...]) -> str:
    tasting = result.shown.tasting
    head = f"Tasting of {date_words(tasting.set_up)}. Taster: {taster}."
    care = f"The breads hold {join_words(result.allergens)}." if result.allergens else ""
    return blocks(
        wrap(head),
        wrap(" ".join(filter(None, (care, "If there is anything you cannot eat, say so first."))), 0),
        _triangle(order) if tasting.design is Design.TRIANGLE else _marks(result, order),
    )


def _marks(result: TastingSetUp, order: tuple[str, ...]) -> str:
    book = result.shown.book
    top = f"; {book.scale.high} means: {book.top}" if book.top else ""
    aims = [wrap(f"{name.capitalize()}, aim: {text}") for name, text in result.aims]
    return blocks(
        wrap(
            "Taste in this order, with a sip of water between. Look, then taste; do not talk until everybody is done."
        ),
        "\n".join((wrap(f"Marks from {book.scale}{top}. Leave blank what you cannot say."), *aims)),
        rows(
            [(code, _LINE, _LINE, "_" * 34) for code in order], "<<<<", heading=("code", "crumb", "crust", "in words")
        ),
    )


def _triangle(order: tuple[str, ...]) -> str:
    return blocks(
        wrap(
            "Two of these three are the same bread, one is another. Taste in this order, with a sip of water between."
        ),
        rows([(code, "") for code in order], "<<"),
        wrap("Which is the odd one? Guess if you must, and leave none blank."),
        f"Code: {_LINE}",
    )


def labels_list(result: TastingSetUp) -> str:
    """Which bread goes under which code, and whose plates stand in which order."""
    tasting = result.shown.tasting
    breads = {bread.code: bread for bread in result.shown.breads}
    plates = []
    for code, bread in result.key:
        told = breads.get(bread)
        what = f"{bread}, {told.title}, {told.spoken}, baked {short_date(told.bake_date)}" if told else bread
        plates.append((code, what))
    return (
        blocks(
            wrap(f"For whoever cuts and serves at the tasting of {date_words(tasting.set_up)}."),
            wrap("Nobody who tastes should see this list. Whoever cuts does not taste."),
            "Under which code goes which bread\n" + rows(plates, "<<"),
            "Whose plates, in this order\n" + rows([(t, ", ".join(order)) for t, order in tasting.orders], "<<"),
            wrap(
                "Cut the breads cold and out of sight, the same piece from each, no ends, all as thick. Write the code"
                " on the plate, not on the bread. The same light for all."
            ),
        )
        + "\n"
    )
