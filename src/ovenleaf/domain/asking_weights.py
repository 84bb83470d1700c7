"""The questions about what was weighed and counted: the batch, the flours, water, the pieces, the bread."""

from __future__ import annotations

import re
from functools import partial
from typing import TYPE_CHECKING

from ovenleaf.domain import benchline
from ovenleaf.domain.batch import dough_in_batch, flour_in_batch
from ovenleaf.domain.bench_limits import unusual_loss
from ovenleaf.domain.benchvalues import Pieces
from ovenleaf.domain.edits import meant
from ovenleaf.domain.figures import grams, pct
from ovenleaf.domain.ingredients import Kind
from ovenleaf.domain.numbers import CONTEXT, HUNDRED, NUMBER, plain, portion, rounded, share_of
from ovenleaf.domain.quantity import UNIT_WORDS, AmountFault, Unit, amount
from ovenleaf.domain.question import NO, NOTHING_TAKEN, Question, Taken, Wording, question
from ovenleaf.domain.said import Said, together

if TYPE_CHECKING:
    from collections.abc import Iterator
    from decimal import Decimal

    from ovenleaf.domain.percent import Worked
    from ovenleaf.domain.quantity import Amount
    from ovenleaf.domain.sheet import Sheet

_ITEM = re.compile(rf"(?P<item>\D*?)[\s:=]+(?P<weight>{NUMBER}.*)")


def flour_questions(sheet: Sheet) -> Iterator[Question]:
    """Which each flour is, and of what lot."""
    for flour in (item for item, kind in sheet.kinds if kind is Kind.FLOUR):
        yield question(f"{flour.capitalize()}, which and what lot", partial(_which_flour, flour))


def _which_flour(flour: str, typed: str, _: Said) -> Taken:
    if typed.lower() in NO:
        return Taken(echo="Left unrecorded.")
    return Taken(said=Said(flours=((flour, typed),)))


def batch_question(sheet: Sheet) -> Question:
    """The plan is the weights of the page, or else what it says it makes; a page in shares alone plans none."""
    worked = sheet.worked
    planned = f"{grams(worked.flour_g)} flour" if worked.flour_g else sheet.formula.makes
    flour = flour_in_batch(planned, worked)
    if not flour:
        text, planned = "Batch, such as 600 g flour or 12 rolls of 85 g", ""
    elif worked.flour_g:
        text = f"Batch, planned {grams(flour)} of flour, {grams(portion(worked.total, flour))} of dough"
    else:
        text = f"Batch, planned {planned}, from {grams(rounded(flour, 0))} of flour"
    return question(text, lambda typed, _: _batch(typed, worked), planned)


def _batch(typed: str, worked: Worked) -> Taken:
    """A batch; a bare weight is one of flour."""
    for said in (typed, f"{typed} flour", f"{typed} g flour"):
        flour = flour_in_batch(said, worked)
        if flour:
            return Taken(said=Said(batch=said), echo=f"Taken as {grams(flour)} of flour.")
    return Taken(problem="Say it as 600 g flour, 1020 g dough, or 12 rolls of 85 g.")


def _flour(said: Said, worked: Worked) -> Decimal | None:
    """The flour of this bake in g, by the batch that was told or else the weights of the page."""
    return flour_in_batch(said.batch, worked) or worked.flour_g


def weight_questions(sheet: Sheet) -> Iterator[Question]:
    """What water was weighed, and whatever else was weighed differently."""
    for share in sheet.worked.whole:
        if dict(sheet.kinds)[share.item] is Kind.WATER:
            yield Question(
                put=partial(_weight_planned, share.item, share.pct, sheet.worked),
                take=partial(_weighed, share.item, sheet.worked),
            )
    yield question(
        "Anything else weighed differently, such as salt 12 g, or no",
        lambda typed, said: _differently(typed, said, sheet),
    )


def _weight_planned(item: str, share: Decimal, worked: Worked, said: Said) -> Wording:
    """In grams of this batch where it is known, or else in shares of the flour."""
    flour = _flour(said, worked)
    inner = [part.name for part in worked.parts if item in (line.item for line in part.lines)]
    whole = f"{' and '.join(inner)} included" if inner else "in all"
    if flour is None:
        text = f"{item.capitalize()}, planned {pct(share)} of the flour, {whole}, in g"
        return Wording(text=text, planned=plain(share) + "%")
    planned = grams(rounded(portion(share, flour), 0))
    return Wording(text=f"{item.capitalize()}, planned {planned}, {whole}", planned=planned)


def _weighed(item: str, worked: Worked, typed: str, said: Said) -> Taken:
    try:
        read = amount(typed, bare=Unit.G)
    except AmountFault:
        return Taken(problem="Give a weight, as in 396 g.")
    if read.is_share:
        return Taken(problem="Give what was weighed, as in 396 g.")
    flour = _flour(said, worked)
    echo = _beside_plan(item, read, share_of(read.value, flour), worked) if flour and read.unit is Unit.G else ""
    return Taken(said=Said(weighed=((item, str(read)),)), echo=echo)


def _beside_plan(item: str, weighed: Amount, share: Decimal, worked: Worked) -> str:
    planned = next(one.pct for one in worked.whole if one.item == item)
    beside = "as planned" if pct(planned) == pct(share) else f"planned {pct(planned)}"
    return f"{weighed} is {pct(share)} of the flour; {beside}."


def _differently(typed: str, said: Said, sheet: Sheet) -> Taken:
    """`no`, or items with their weights, a comma between two."""
    if typed.lower() in NO:
        return Taken(said=Said(as_planned="all the rest" if said.weighed else "all of it"), echo="All else as planned.")
    taken = NOTHING_TAKEN
    for one in re.split(r",\s+", typed):
        more = _one_weighed(one, said, sheet)
        if more.problem:
            return more
        taken = Taken(said=together(taken.said, more.said), echo=" ".join(filter(None, (taken.echo, more.echo))))
    return taken


def _one_weighed(typed: str, said: Said, sheet: Sheet) -> Taken:
    """`salt 12 g`, by a short name too where it can mean one thing only."""
    known = tuple(item for item, _ in sheet.kinds)
    found = _ITEM.fullmatch(typed)
    items = meant(found["item"].strip(), known) if found else ()
    if found and len(items) == 1:
        return _weighed(items[0], sheet.worked, found["weight"], said)
    if len(items) > 1:
        return Taken(problem=f"That can mean {' or '.join(items)}.")
    return Taken(problem=f"Begin with one of {', '.join(known)}; or say no.")


def piece_questions(sheet: Sheet) -> Iterator[Question]:
    """How many pieces it made, and what they weigh."""
    pieces = benchline.read(sheet.formula.makes).get("pieces")
    noun = pieces.noun if isinstance(pieces, Pieces) else "pieces"

    def put(said: Said) -> Wording:
        planned = _pieces_planned(sheet, said)
        told = f"planned {planned}" if planned else "a number"
        return Wording(text=f"How many {noun}, {told}", planned=str(planned or ""))

    def take(typed: str, _said: Said) -> Taken:
        figure, _, words = typed.partition(" ")
        if not figure.isdecimal() or not int(figure) or words.casefold() in UNIT_WORDS:
            return Taken(problem="Give a number, as in 12.")
        return Taken(said=Said(measured=(("pieces", str(int(figure))),)))

    yield Question(put=put, take=take)
    yield question("All the bread together, when cold, in g", lambda typed, said: _baked(typed, said, sheet))


def _pieces_planned(sheet: Sheet, said: Said) -> int | None:
    """How many pieces the page plans for this batch, to the nearest; None where it plans none."""
    pieces = benchline.read(sheet.formula.makes).get("pieces")
    told = benchline.read(said.batch).get("pieces")
    if isinstance(told, Pieces):
        return told.count
    flour = flour_in_batch(said.batch, sheet.worked)
    if not isinstance(pieces, Pieces) or flour is None:
        return pieces.count if isinstance(pieces, Pieces) else None
    planned = flour_in_batch(sheet.formula.makes, sheet.worked) or sheet.worked.flour_g
    return max(1, int(rounded(CONTEXT.divide(pieces.count * flour, planned), 0))) if planned else None


def _baked(typed: str, said: Said, sheet: Sheet) -> Taken:
    try:
        read = amount(typed, bare=Unit.G)
    except AmountFault:
        return Taken(problem="Give a weight, as in 884 g.")
    dough = dough_in_batch(said.batch, sheet.worked)
    lost = None if dough is None or read.unit is not Unit.G else HUNDRED - share_of(read.value, dough)
    told = f"{pct(lost)} less than the {grams(rounded(dough, 0))} of dough." if dough and lost and lost > 0 else ""
    odd = unusual_loss(lost) if lost is not None else ""
    echo = " ".join(filter(None, (told, odd and f"{odd} If it is a slip, say back.")))
    return Taken(said=Said(measured=(("baked weight", str(read)),)), echo=echo)
