"""Where both ways of two bakers are good: one's own goes on as a formula of its own, the other's in its place."""

from __future__ import annotations

from dataclasses import replace
from itertools import count
from typing import TYPE_CHECKING

from ovenleaf.book.steps.answering import Answer
from ovenleaf.book.steps.keeping import Keep, check_page, keep_as_next
from ovenleaf.book.steps.shelf import formula_names, shelf_of
from ovenleaf.book.steps.unsettled import settle_command
from ovenleaf.domain.revision import is_slug, slug_of
from ovenleaf.errors import Next, Refusal
from ovenleaf.records.codec.editing import as_copy

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from ovenleaf.book.steps.shelf import Shelf
    from ovenleaf.book.steps.signing import Stamp
    from ovenleaf.domain.formula import OpenQuestion
    from ovenleaf.domain.ingredients import Pantry


class NewNameTaken(Refusal):
    """The name for the other proposal cannot be used. Facts: `name`, `why`."""

    def __init__(self, formula: str, name: str, why: str, free: str) -> None:
        super().__init__(f"Not settled: {why}", next=(Next(f"ovenleaf settle {formula} --keep-both {free}"),))
        self.name = name
        self.why = why


class NotYours(Refusal):
    """Neither proposal is by whoever types, so it is not known which becomes a formula of its own. Fact: `formula`."""

    def __init__(self, shelf: Shelf, question: OpenQuestion, new: str) -> None:
        formula, own = shelf.name, shelf.kept[-1].formula().made_from
        super().__init__(
            f"Neither proposal for {question.item} in {formula} is yours, so which of them should get the new name?",
            detail=("Copy one baker's revision under the new name, and settle the question with the other's value.",),
            next=(
                *(Next(f"ovenleaf copy {formula} {new} {name}") for name in own),
                Next(settle_command(formula, question), "settle it, whichever way you agree on"),
            ),
        )
        self.formula = formula


def mine_in(shelf: Shelf, questions: Sequence[OpenQuestion], me: str, new: str) -> str:
    """The name under which the one who types proposed something; `new` is what the copy is to be called.

    Raises NotYours.
    """
    for question in questions:
        for by, _ in question.proposals:
            if me in by.split("."):
                return by
    raise NotYours(shelf, questions[0], new)


def others_answers(questions: Sequence[OpenQuestion], mine: str) -> tuple[Answer, ...]:
    """Every question settled as the other baker proposes."""
    return tuple(_others(question, mine) for question in questions)


def _others(question: OpenQuestion, mine: str) -> Answer:
    by, text = next(((by, text) for by, text in question.proposals if by != mine), question.proposals[0])
    return Answer(item=question.item, text=text, whose=by)


def as_its_own(root: Path, shelf: Shelf, mine: str, typed: str, stamp: Stamp, pantry: Pantry) -> Keep:
    """The revision behind one's own proposal as revision 1 of a new formula. Raises NewNameTaken."""
    new, names = slug_of(typed), formula_names(root)
    if not is_slug(new) or new in names:
        why = f"there is a formula {new} already." if is_slug(new) else f"{typed} cannot be the name of a formula."
        free = next(name for number in count(2) if (name := f"{shelf.name}-{number}") not in names)
        raise NewNameTaken(shelf.name, typed, why, free)
    own = [kept for kept in shelf.kept if mine in (str(kept.name), ".".join(kept.name.handles))]
    if not own:
        raise NewNameTaken(shelf.name, typed, f"the revision by {mine} is not there any more.", new)
    target = shelf_of(root, new)
    title = new[:1].upper() + new[1:].replace("-", " ")
    page = as_copy(replace(own[-1].page(), path=target.path), new, title, f"{shelf.name} {own[-1].name}")
    checked = check_page(page, new, pantry, "Not settled")
    return keep_as_next(target, checked, stamp, why=f"kept apart from {shelf.name}", made_from=())
