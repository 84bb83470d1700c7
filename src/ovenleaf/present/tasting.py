"""A blind tasting as text: set up, coming in, opened. Until it is opened no bread is named beside its code."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain.figures import mark
from ovenleaf.domain.tasting import Design
from ovenleaf.domain.trial import ATTRIBUTES
from ovenleaf.errors import Next
from ovenleaf.present.screen import (
    blocks,
    count,
    date_words,
    join_words,
    next_block,
    rows,
    short_date,
    wrap,
)
from ovenleaf.present.tasting_opened import opened_blocks
from ovenleaf.present.writing import ahead

if TYPE_CHECKING:
    from ovenleaf.domain.tasting import Bread, Tasting
    from ovenleaf.domain.trial import Marks
    from ovenleaf.results import TastingSetUp, TastingShown, TastingTold

_CLOSED = "Which bread is under which code stays closed until all is in."


def set_up_screen(result: TastingSetUp, sheet: str = "", labels: str = "") -> str:
    """A tasting was set up."""
    tasting = result.shown.tasting
    return blocks(
        ahead(result),
        f"{wrap(f'Set up: {_what(tasting)}, {date_words(tasting.set_up)}.')}\n{wrap(_CLOSED)}",
        wrap(f"Question: {tasting.question}") if tasting.question else "",
        _breads(result.shown),
        _orders(tasting),
        _allergens(result),
        _marked_before(result),
        _files(sheet, labels),
        next_block(_next_closed(tasting, sheet=sheet, labels=labels, new=True)),
    )


def _what(tasting: Tasting) -> str:
    people = count(len(tasting.tasters), "taster")
    if tasting.design is Design.TRIANGLE:
        return f"a triangle of {join_words(tasting.breads)} for {people}"
    plates = len(tasting.codes)
    twice = plates - len(tasting.breads)
    again = f", {count(twice, 'of them', 'of them')} twice," if twice else ""
    return f"a blind tasting of {count(len(tasting.breads), 'bread')}{again} for {people}"


def _breads(shown: TastingShown) -> str:
    return "The breads\n" + rows([_bread(bread) for bread in shown.breads], "<<<")


def _bread(bread: Bread) -> tuple[str, str, str]:
    return bread.code, f"{bread.title}, {bread.spoken}", f"baked {short_date(bread.bake_date)}"


def _orders(tasting: Tasting) -> str:
    return "Served in this order\n" + rows([(taster, ", ".join(order)) for taster, order in tasting.orders], "<<")


def _allergens(result: TastingSetUp) -> str:
    if not result.allergens:
        return wrap("Ask every taster about allergies before serving.")
    return wrap(
        f"The breads hold {join_words(result.allergens)}, by the ingredient list; the label of what you bought has"
        " the last word. Ask every taster before serving."
    )


def _marked_before(result: TastingSetUp) -> str:
    if not result.marked_before:
        return ""
    told = [f"{taster} {bread}" for taster, bread in result.marked_before]
    return wrap(
        f"Marked already, not blind: {join_words(told)}. Those marks stay in the trials; what is said blind then"
        " stands in the tasting alone."
    )


def _files(sheet: str, labels: str) -> str:
    told = []
    if sheet:
        told.append(f"The score sheets are in {sheet}, one for each taster.")
    if labels:
        told.append(f"The list for whoever cuts and serves is in {labels}; nobody who tastes should see it.")
    return wrap(" ".join(told)) if told else ""


def _next_closed(tasting: Tasting, *, sheet: str = "", labels: str = "", new: bool = False) -> tuple[Next, ...]:
    found = []
    if new and not labels:
        found.append(
            Next(f"ovenleaf taste {tasting.name} --labels cut.txt", "for whoever cuts and serves; do not look")
        )
    if new and not sheet:
        found.append(Next(f"ovenleaf taste {tasting.name} --sheet sheets.txt", "score sheets to print"))
    if tasting.still_to_come:
        taster, codes = tasting.still_to_come[0]
        told = "--odd" if tasting.design is Design.TRIANGLE else "--crumb N --crust N"
        words = "the odd one's code" if tasting.design is Design.TRIANGLE else "what comes in, by code"
        found.append(Next(f"ovenleaf taste {codes[0]} --taster {taster} {told}", words))
    else:
        found.append(Next("ovenleaf taste --open", "if what is blank stays blank"))
    return tuple(found)


def told_screen(result: TastingTold) -> str:
    """What came in was taken down; or, when it was the last, the tasting opened."""
    tasting = result.shown.tasting
    if tasting.is_open:
        return blocks(ahead(result), wrap(_taken(result)), opened_blocks(result.shown, result.kept))
    return blocks(
        ahead(result),
        wrap(_taken(result)),
        _awaited(result.shown),
        next_block(_next_closed(tasting)),
    )


def _taken(result: TastingTold) -> str:
    if result.why_absent:
        return f"Nothing will come from {result.taster}: {result.why_absent}."
    if not result.code:
        return "Opened as it is; what is blank stays blank."
    right = " Put right; what was told before stays on the page." if result.corrected else ""
    if result.marks is None:
        return f"Taken down: {result.taster} takes {result.code} for the odd one.{right}"
    return f"Taken down: {result.taster} on {result.code}: {_marks_words(result.marks)}.{right}"


def _marks_words(marks: Marks) -> str:
    told = [f"{name} {mark(value)}" for name in ATTRIBUTES if (value := getattr(marks, name)) is not None]
    return ", ".join((*told, *marks.faults, *([marks.note] if marks.note else [])))


def _awaited(shown: TastingShown) -> str:
    tasting = shown.tasting
    lines = [(taster, ", ".join(codes)) for taster, codes in tasting.still_to_come]
    awaited = "Still to come\n" + rows(lines, "<<") if lines else "Every plate was told."
    blank = [(f"{taster}, {code}", f"no {' and no '.join(names)}") for taster, code, names in shown.blanks]
    return blocks(awaited, "Still blank\n" + rows(blank, "<<") if blank else "")


def tasting_screen(shown: TastingShown, sheet: str = "", labels: str = "") -> str:
    """A tasting as it stands."""
    tasting = shown.tasting
    head = f"{_what(tasting)[:1].upper()}{_what(tasting)[1:]}, set up {date_words(tasting.set_up)} by {tasting.by}."
    question = wrap(f"Question: {tasting.question}") if tasting.question else ""
    if tasting.is_open:
        return blocks(wrap(head), question, _files(sheet, labels), opened_blocks(shown))
    return blocks(
        f"{wrap(head)}\n{wrap(_CLOSED)}",
        question,
        _breads(shown),
        _orders(tasting),
        _awaited(shown) if tasting.marks or tasting.odd or tasting.absent else "",
        _files(sheet, labels),
        next_block(_next_closed(tasting, sheet=sheet, labels=labels, new=not tasting.marks and not tasting.odd)),
    )
