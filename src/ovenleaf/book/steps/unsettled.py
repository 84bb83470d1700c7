"""A revision with open questions: neither baker made it so, and it is not baked until they have settled it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.compare.open_questions import answer_typed, proposals_said
from ovenleaf.errors import ExitCode, Next, Refusal

if TYPE_CHECKING:
    from ovenleaf.domain.formula import Formula, OpenQuestion


class Unsettled(Refusal):
    """The revision has open questions. Facts: `formula`, `items`."""

    exit_code = ExitCode.OPEN

    def __init__(self, formula: str, asked: tuple[OpenQuestion, ...], own: tuple[str, ...], verb: str) -> None:
        items = tuple(question.item for question in asked)
        super().__init__(
            f"This revision of {formula} has open questions, so it is not one to bake yet: {', '.join(items)}.",
            detail=tuple(f"  {question.item}: {proposals_said(question)}" for question in asked),
            next=(
                Next(settle_command(formula, asked[0]), "settle it, whichever way you agree on"),
                *(Next(f"ovenleaf {verb.format(formula, name)}", "one baker's own") for name in own),
            ),
        )
        self.formula = formula
        self.items = items


class StillOpen(Refusal):
    """A draft whose card left questions open cannot be kept yet. Facts: `formula`, `items`."""

    exit_code = ExitCode.OPEN

    def __init__(self, formula: str, asked: tuple[OpenQuestion, ...]) -> None:
        items = tuple(question.item for question in asked)
        super().__init__(
            f"Not saved: the card of {formula} leaves open: {', '.join(items)}.",
            detail=tuple(
                f"  {question.item}, {question.was}: {proposals_said(question) or 'how much'}" for question in asked
            ),
            next=tuple(Next(settle_command(formula, question)) for question in asked),
        )
        self.formula = formula
        self.items = items


def settle_command(page: str, question: OpenQuestion) -> str:
    """How a question is settled, with the first proposal."""
    by = question.proposals[0][0] if question.proposals else "10g"
    return f"ovenleaf settle {page} {answer_typed(question.item, by)}"


def refuse_unsettled(name: str, formula: Formula, verb: str) -> None:
    """Raise Unsettled where a revision asks its bakers something; `verb` is the command for a baker's own."""
    if formula.open:
        raise Unsettled(name, formula.open, formula.made_from, verb)
