"""Take a household recipe in: read it, weigh each line or ask, keep the card word for word and a draft beside it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING

from ovenleaf.book.steps.adopting import CannotAdopt, CannotAnswer, NameWanted, NotAsked
from ovenleaf.book.steps.card_pages import card_page_of
from ovenleaf.book.steps.handing_in import RECIPE_LIMIT, TOO_LONG_A_RECIPE, CannotRead, recipe_bytes
from ovenleaf.book.steps.opening import open_book, open_pantry, settle_baker
from ovenleaf.book.steps.pages import schema_line
from ovenleaf.book.steps.shelf import formula_names, page_of
from ovenleaf.book.steps.signing import Stamp, put
from ovenleaf.domain.card_answers import Said, answer, answered
from ovenleaf.domain.card_reading import OUTSIDE, flour_of, knows, read_card
from ovenleaf.domain.dough import work_out
from ovenleaf.domain.faults import FormulaFault
from ovenleaf.domain.ingredients import Kind, folded
from ovenleaf.domain.numbers import share_of
from ovenleaf.domain.recipe_parts import RecipeFault
from ovenleaf.domain.recipe_units import Measures
from ovenleaf.domain.revision import is_slug, slug_of
from ovenleaf.domain.sheet import sheet
from ovenleaf.domain.slips import slips
from ovenleaf.errors import PageRefused, Refusal
from ovenleaf.records import schema
from ovenleaf.records.codec.cards import card_text, draft_text
from ovenleaf.records.codec.formulas import read_formula
from ovenleaf.records.recipes import recipe_parts
from ovenleaf.records.yaml_text import read
from ovenleaf.results import Adopted

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import datetime
    from pathlib import Path

    from ovenleaf.domain.card import Asked, Card, Taken
    from ovenleaf.domain.formula import Formula
    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.slip import Slip

__all__ = ["NOT_ADOPTED", "Handed", "ToAdopt", "adopt", "read_recipe", "recipe_bytes", "with_answer"]

NOT_ADOPTED = "Not adopted"


@dataclass(frozen=True, slots=True, kw_only=True)
class Handed:
    """What was handed in: the bytes, and the name of the file as the baker knows it ("-" is standard input)."""

    data: bytes
    shown: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ToAdopt:
    """A recipe that was read and is not written yet; questions can be answered in between."""

    root: Path
    name: str
    title: str
    shown: str
    card: Card
    pantry: Pantry


def read_recipe(given: Path | None, start: Path, handed: Handed, *, name: str, baker: str, cups: str = "") -> ToAdopt:
    """Read a recipe. Raises CannotAdopt, CannotRead, NameWanted, and NoBaker before anything is asked."""
    measures = _measures(cups)
    book = open_book(given, start)
    settle_baker(book.root, baker)
    pantry = open_pantry(book.root)
    if len(handed.data) > RECIPE_LIMIT:
        raise CannotRead("what came in" if handed.shown == "-" else handed.shown, *TOO_LONG_A_RECIPE)
    shown = "what came in" if handed.shown == "-" else handed.shown
    try:
        card = read_card(recipe_parts(handed.data, partial(knows, pantry)), pantry, measures)
    except RecipeFault as fault:
        raise CannotAdopt(fault, shown) from None
    slug = slug_of(name or card.title or _stem(handed.shown))
    if not is_slug(slug) or slug in formula_names(book.root):
        raise NameWanted(handed.shown, slug, taken=is_slug(slug), given=name, called=slug_of(card.title))
    title = card.title or slug[:1].upper() + slug[1:].replace("-", " ")
    return ToAdopt(root=book.root, name=slug, title=title, shown=handed.shown, card=card, pantry=pantry)


class UnknownMeasures(Refusal):
    """Cups of a country that is not known. Fact: `typed`."""

    def __init__(self, typed: str) -> None:
        super().__init__(f"Not adopted: cups are us, metric or imperial, not {typed}.", detail=("As in --cups metric",))
        self.typed = typed


def _measures(typed: str) -> Measures | None:
    if typed and typed.lower() not in list(Measures):
        raise UnknownMeasures(typed)
    return Measures(typed.lower()) if typed else None


def _stem(shown: str) -> str:
    return "" if shown == "-" else shown.replace("\\", "/").rsplit("/", 1)[-1].rpartition(".")[0]


def with_answer(to_adopt: ToAdopt, asked: Asked, typed: str) -> tuple[ToAdopt, Said]:
    """The recipe with one question answered; as it was where the answer has a `problem`."""
    said = answer(asked, typed, to_adopt.pantry)
    if said.problem:
        return to_adopt, said
    if said.item != asked.key and _is_there(to_adopt.card, asked, said.item):
        return to_adopt, Said(problem=f"{said.item} is in the list already; put them together on the card.")
    return replace(to_adopt, card=answered(to_adopt.card, asked, said, to_adopt.pantry)), said


def _is_there(card: Card, asked: Asked, item: str) -> bool:
    bowls = {line.part for line in card.lines if line.asked is not None and line.asked.key == asked.key}
    return any(line.item == item and line.part in bowls and not line.purpose for line in card.lines)


def adopt(to_adopt: ToAdopt, says: Sequence[str], *, baker: str, at: datetime, preview: bool = False) -> Adopted:
    """Keep the card and the draft. `says` answers questions, each ITEM=ANSWER. Raises CannotAnswer, NotAsked."""
    for typed in says:
        to_adopt = _said(to_adopt, typed)
    root, name, card = to_adopt.root, to_adopt.name, to_adopt.card
    stamp = Stamp(by=settle_baker(root, baker), at=at, verb="adopt", preview=preview)
    draft = schema_line("formula", page_of(name)) + draft_text(card, name, to_adopt.title)
    beside = card_text(card, name, file=to_adopt.shown, by=stamp.by, at=stamp.saved)
    beside = schema_line("card", card_page_of(name)) + beside
    formula = _check(draft, beside, name)
    pages: dict[str, str | bytes | None] = {page_of(name): draft, card_page_of(name): beside}
    expect: dict[str, bytes | None] = dict.fromkeys(pages)
    ahead = put(root, pages, stamp, f"{name}: adopted, a draft", card.source, expect=expect)
    return _result(to_adopt, ahead, _slips(formula, to_adopt))


def _said(to_adopt: ToAdopt, typed: str) -> ToAdopt:
    item, _, value = (piece.strip() for piece in typed.partition("="))
    questions = to_adopt.card.questions
    asked = next((one for one in questions if folded(one.key) == folded(item)), None)
    if asked is None:
        raise NotAsked(NOT_ADOPTED, item, tuple(one.key for one in questions))
    to_adopt, said = with_answer(to_adopt, asked, value)
    if said.problem:
        raise CannotAnswer(NOT_ADOPTED, item, value, said.problem)
    return to_adopt


def _slips(formula: Formula, to_adopt: ToAdopt) -> tuple[Slip, ...]:
    """Figures that look like slips; none are told while questions are open, since nothing comes out before."""
    if any(not asked.soft for asked in to_adopt.card.questions):
        return ()
    try:
        worked = work_out(formula, to_adopt.pantry)
    except FormulaFault:  # save says why, and what to do
        return ()
    return slips(sheet(formula, worked, to_adopt.pantry, None), None, "")


def _check(draft: str, beside: str, name: str) -> Formula:
    """Both pages must be such as the book can read; anything else is refused before it is written."""
    for kind, text in (("formula", draft), ("card", beside)):
        page = read(text, path=name)
        if faults := schema.faults(kind, page):
            raise PageRefused(NOT_ADOPTED, faults)
    return read_formula(read(draft, path=name), name=name)


def _result(to_adopt: ToAdopt, ahead: str, found: tuple[Slip, ...]) -> Adopted:
    card, pantry = to_adopt.card, to_adopt.pantry
    flour = flour_of(card, pantry)
    inside = [line for line in card.lines if line.part != OUTSIDE and not line.purpose]
    return Adopted(
        name=to_adopt.name,
        title=to_adopt.title,
        card=card,
        flour=flour,
        shares=tuple(
            (line.part, line.item, share_of(line.grams, flour)) for line in inside if flour and line.grams is not None
        ),
        liquids=tuple(line.item for line in inside if pantry.get(line.item).kind is Kind.WATER),
        stays=tuple(line.item for line in inside if _stays_inside(line, pantry)),
        unlisted=tuple(sorted({line.item for line in inside if line.grams and not pantry.get(line.item).known})),
        slips=found,
        ahead=ahead,
    )


def _stays_inside(line: Taken, pantry: Pantry) -> bool:
    one = pantry.get(line.item)
    return line.grams is not None and not one.reaches_dough and (one.water or 0) > 20
