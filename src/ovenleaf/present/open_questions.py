"""Open questions on a screen: what each baker proposes, what is behind it, and how it is settled."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.compare.open_questions import answer_typed, proposals_said
from ovenleaf.errors import Next
from ovenleaf.present.screen import count, join_words, rows, wrap

if TYPE_CHECKING:
    from ovenleaf.compare.news import Asked, Proposal
    from ovenleaf.domain.sheet import Sheet


def spoken_name(by: str, me: str) -> str:
    """Who proposes, as a screen says it: oneself is `you`."""
    return join_words(["you" if handle == me else handle for handle in by.split(".")])


def asked_blocks(asked: tuple[Asked, ...], me: str) -> tuple[str, ...]:
    """A block for each question, under a sentence that says how many there are."""
    if not asked:
        return ()
    many = count(len(asked), "question")
    head = f"{many[:1].upper()}{many[1:]} to settle, by either of you"
    blocks = [_asked_block(one, me) for one in asked]
    blocks[0] = f"{wrap(head)}\n{blocks[0]}"
    formulas = list(dict.fromkeys(one.title for one in asked if any(p.why or p.bakes for p in one.proposals)))
    until = f"Until then this revision of {join_words(formulas)} cannot be weighed up; those of each of you can."
    return (*blocks, wrap(until)) if formulas else tuple(blocks)


def _asked_block(one: Asked, me: str) -> str:
    item = one.item.replace(".", ", ")
    heading = f"{item[:1].upper()}{item[1:]} in {one.title}, before: {one.was}"
    table = rows([(proposal.value, _behind(proposal, me)) for proposal in one.proposals], "<<")
    return f"{wrap(heading, 2)}\n{table}"


def _behind(proposal: Proposal, me: str) -> str:
    bakes = f"{count(len(proposal.bakes), 'bake')} behind it yet"
    if proposal.bakes:
        bakes = f"{count(len(proposal.bakes), 'bake')} behind it, {', '.join(proposal.bakes)}"
    why = f'"{proposal.why}"' if proposal.why else ""
    known = bakes if proposal.why or proposal.bakes else ""
    return ", ".join(filter(None, (spoken_name(proposal.by, me), why, known)))


def asked_next(asked: tuple[Asked, ...]) -> tuple[Next, ...]:
    """The commands that settle the first question, one for each proposal."""
    one = asked[0]
    return tuple(Next(f"ovenleaf settle {one.page} {_edit(one.item, proposal)}") for proposal in one.proposals)


def _edit(item: str, proposal: Proposal) -> str:
    plain = proposal.value if len(proposal.value) < 12 and " " not in proposal.value else proposal.by
    return answer_typed(item, plain)


def open_block(sheet: Sheet) -> str:
    """What is open in a revision, or was when it was saved: what stands for it there is nobody's proposal."""
    asked = sheet.formula.open
    if not asked:
        return ""
    lines = [(question.item, proposals_said(question)) for question in asked]
    what = join_words([question.item for question in asked])
    if sheet.draft and sheet.formula.revision is None:
        return f"Left open by its card\n{rows(lines, '<<')}\n{wrap('Until that is settled it cannot be kept.', 2)}"
    head = "Open when this was saved, and settled since" if sheet.settled else "Open between the bakers"
    before = f"What stands here for {what} is from before, and nobody's proposal; this revision is not one to bake."
    return f"{head}\n{rows(lines, '<<')}\n{wrap(before, 2)}"


def settle_next(sheet: Sheet) -> tuple[Next, ...]:
    """The commands that settle the first question, one for each proposal."""
    one, name = sheet.formula.open[0], sheet.formula.name
    return tuple(Next(f"ovenleaf settle {name} {answer_typed(one.item, by)}") for by, _ in one.proposals)
