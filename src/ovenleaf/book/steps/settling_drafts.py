"""A draft that was adopted, with its card's questions answered: line by line on its page, and on the card's page."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.book.steps.adopting import CannotAnswer, card_page
from ovenleaf.book.steps.answering import NothingOpen, NotOpen, SayHow
from ovenleaf.book.steps.card_pages import card_page_of
from ovenleaf.book.steps.opening import open_pantry
from ovenleaf.book.steps.signing import Stamp, put
from ovenleaf.domain.card import Asked, Choice, Sure
from ovenleaf.domain.card_answers import BY_WEIGHT, Said, answer
from ovenleaf.domain.card_reading import asked_again
from ovenleaf.domain.recipe_units import Measures
from ovenleaf.records.codec.cards import read_card_page, with_answer
from ovenleaf.records.codec.draft_edits import place_of, with_answered_line, with_heat, without_question
from ovenleaf.records.codec.questions import open_questions
from ovenleaf.records.meant import SpliceFault

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from ovenleaf.book.steps.shelf import Shelf
    from ovenleaf.domain.formula import OpenQuestion
    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.records.nodes import Page

NOT_SETTLED = "Not settled"


@dataclass(frozen=True, slots=True, kw_only=True)
class SettledDraft:
    """What was settled in a draft: rows of what was asked, what it was taken as, how; and what is still open."""

    title: str
    rows: tuple[tuple[str, str, str], ...]
    left: tuple[OpenQuestion, ...]
    ahead: str


def is_open_draft(shelf: Shelf) -> bool:
    """True of a formula that no revision was kept of yet, and that was adopted or typed with questions."""
    return shelf.data is not None and not shelf.in_force


def settle_draft(root: Path, shelf: Shelf, edits: Sequence[str], why: str, stamp: Stamp) -> SettledDraft:
    """Answer questions, each ITEM=ANSWER. Raises NothingOpen, NotOpen, SayHow, CannotAnswer."""
    page = shelf.page()
    questions = open_questions(page)
    if not questions:
        raise NothingOpen(shelf.name)
    if not edits:
        raise SayHow(shelf.name, questions[0])
    pantry = open_pantry(root)
    card = card_page(root, shelf.name)
    pages: dict[str, str | bytes | None] = {}
    rows = []
    for typed in edits:
        item, _, value = (piece.strip() for piece in typed.partition("="))
        question = next((one for one in open_questions(page) if one.item.lower() == item.lower()), None)
        if question is None:
            raise NotOpen(shelf.name, item, tuple(one.item for one in open_questions(page)))
        if not value:
            raise SayHow(shelf.name, question)
        where = place_of(page, question.item)
        heat = where is not None and where[0] == "process"
        said = answer(_asked(question, _as_read(card, question.item, pantry), heat=heat), value, pantry)
        if said.problem:
            raise CannotAnswer(NOT_SETTLED, question.item, value, said.problem)
        page, card = _applied(page, card, question, where, said, stamp)
        rows.append((question.item, f"{said.item} {said.amount}", said.how if said.how != "as said" else ""))
    pages[shelf.path] = page.text
    expect: dict[str, bytes | None] = {shelf.path: shelf.data}
    if card is not None:
        pages[card_page_of(shelf.name)] = card.text
    subject = f"{shelf.name}: {', '.join(row[0] for row in rows)} settled in the draft"
    ahead = put(root, pages, stamp, subject, why, expect=expect)
    title = shelf.formula().label
    return SettledDraft(title=title, rows=tuple(rows), left=open_questions(page), ahead=ahead)


def _as_read(card: Page | None, item: str, pantry: Pantry) -> dict[tuple[str, str], Choice]:
    """The answers that the card raised, by what is said and its amount: they hold how each is known."""
    if card is None:
        return {}
    told = read_card_page(card)
    whose = told.measures if told.measures in list(Measures) else ""
    measures = Measures(whose) if whose else None
    asked = (asked_again(line.card, item, pantry, measures) for line in told.lines if line.item == item)
    return {(one.said, one.amount): one for found in asked if found is not None for one in found.choices}


def _asked(question: OpenQuestion, known: dict[tuple[str, str], Choice], *, heat: bool) -> Asked:
    """The question as the page has it. An amount that is still to be weighed stands as such."""
    told = [(said, "" if text == BY_WEIGHT else text) for said, text in question.proposals]
    choices = tuple(known.get(one, Choice(said=one[0], amount=one[1], sure=Sure.TOLD)) for one in told)
    return Asked(key=question.item, was=question.was, about="", choices=choices, wants="heat" if heat else "amount")


def _applied(
    page: Page, card: Page | None, question: OpenQuestion, where: tuple[str | int, ...] | None, said: Said, stamp: Stamp
) -> tuple[Page, Page | None]:
    """Both pages with one answer; where the line is gone from the page by hand, the question alone goes."""
    if where is None:
        return without_question(page, question.item), card
    if where[0] == "process":
        return without_question(with_heat(page, where, said.amount), question.item), card
    try:
        page = with_answered_line(page, where, question.was, said.item, said.amount)
    except SpliceFault:
        problem = f"{said.item} is on the page already. Put the two together there by hand."
        raise CannotAnswer(NOT_SETTLED, question.item, said.item, problem) from None
    if card is not None:
        bowl = str(where[1]) if where[0] == "stages" else ""
        by = f"{stamp.by}, {stamp.saved[:10]}: {said.how or said.amount}"
        card = with_answer(
            card, bowl, question.item, item=said.item, amount=said.amount, answered=by, sure=said.sure.value
        )
    return without_question(page, question.item), card
