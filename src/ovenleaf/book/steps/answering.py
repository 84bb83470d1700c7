"""What a baker types to settle a question: whose value, or which."""

from __future__ import annotations

import difflib
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.compare.open_questions import answer_typed
from ovenleaf.compare.policies import FLOURS, ORDER, WHOLE
from ovenleaf.domain.revision import matching, revision_name
from ovenleaf.errors import Next, Refusal

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ovenleaf.book.steps.shelf import Shelf
    from ovenleaf.domain.formula import OpenQuestion
    from ovenleaf.records.nodes import Plain

    Data = dict[str, Plain]


class NothingOpen(Refusal):
    """No question is open on the page. Fact: `page`."""

    def __init__(self, page: str) -> None:
        super().__init__(
            f"Nothing is open in {page}, so there is nothing to settle.",
            next=(Next("ovenleaf check", "the whole book, open questions among it"),),
        )
        self.page = page


class NotOpen(Refusal):
    """The item is no open question. Facts: `page`, `item`, `items`."""

    def __init__(self, page: str, item: str, items: tuple[str, ...]) -> None:
        near = difflib.get_close_matches(item, items, n=1, cutoff=0.6)
        meant = f" Did you mean {near[0]}?" if near else ""
        super().__init__(f"{item or 'That'} is not open in {page}.{meant}", detail=(f"Open: {', '.join(items)}.",))
        self.page = page
        self.item = item
        self.items = items


class SayHow(Refusal):
    """No value was given, or one that cannot be used. Facts: `page`, `item`."""

    def __init__(self, page: str, question: OpenQuestion) -> None:
        super().__init__(
            f"How is {question.item} in {page} settled? Say whose value it is, or the value.",
            detail=tuple(f"  {text}    {by}" for by, text in question.proposals),
            next=tuple(
                Next(f"ovenleaf settle {page} {answer_typed(question.item, by)}") for by, _ in question.proposals
            ),
        )
        self.page = page
        self.item = question.item


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """One question settled: with which value, as it stands on a page, and whose proposal that is, or ""."""

    item: str
    text: str
    whose: str


def answers(
    shelf: Shelf | None, page: str, questions: Sequence[OpenQuestion], edits: Sequence[str], me: str
) -> tuple[Answer, ...]:
    """What was typed, each ITEM=REVISION, ITEM=BAKER or ITEM=VALUE. Raises NotOpen, SayHow."""
    if not edits:
        raise SayHow(page, questions[0])
    return tuple(_answer(shelf, page, questions, edit, me) for edit in edits)


def _answer(shelf: Shelf | None, page: str, questions: Sequence[OpenQuestion], edit: str, me: str) -> Answer:
    item, _, value = (piece.strip() for piece in edit.partition("="))
    question = next((one for one in questions if one.item.lower() == item.lower()), None)
    if question is None:
        raise NotOpen(page, item, tuple(one.item for one in questions))
    if not value:
        raise SayHow(page, question)
    by = _whose(shelf, question, me if value in ("mine", "me") else value)
    if by:
        return Answer(item=question.item, text=dict(question.proposals)[by], whose=by)
    same = next((by for by, text in question.proposals if _even(text) == _even(value)), "")
    text = dict(question.proposals)[same] if same else value
    if not same and _is_group(question.item, question):
        raise SayHow(page, question)
    return Answer(item=question.item, text=text, whose=same)


def _even(text: str) -> str:
    return text.replace(" ", "").lower()


def _whose(shelf: Shelf | None, question: OpenQuestion, value: str) -> str:
    """The proposal that is meant by a baker or a revision, or ""."""
    names = [by for by, _ in question.proposals]
    if value in names:
        return value
    mine = [by for by in names if value in by.split(".") and revision_name(by) is None]
    if len(mine) == 1:
        return mine[0]
    found = matching(value, shelf.names) if shelf is not None and value[:1] == "r" else ()
    by_handle = [by for by in names for name in found if by in (str(name), ".".join(name.handles))]
    return by_handle[0] if len(set(by_handle)) == 1 else ""


def _is_group(item: str, question: OpenQuestion) -> bool:
    """True where a value is more than one line, so that it cannot be typed."""
    last = item.rpartition(":")[2]
    return last in (FLOURS, WHOLE, ORDER) or any(source_of(text) for _, text in question.proposals)


def source_of(text: str) -> str:
    """The revision a proposal that is more than one line is taken from, or ""."""
    name = revision_name(text.partition(",")[0])
    return str(name) if name is not None and "," in text else ""
