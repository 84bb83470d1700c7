"""A formula's sheet as text: the whole formula, its parts, the final dough, totals, steps."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain.batch import dough_in_batch
from ovenleaf.domain.figures import grams, pct, shown_grams, shown_pct
from ovenleaf.domain.ingredients import Kind
from ovenleaf.domain.numbers import ZERO, portion, rounded
from ovenleaf.domain.paper import FIRST_CAUTION, LAST_CAUTION
from ovenleaf.domain.quantity import Unit
from ovenleaf.domain.revision import slug_of
from ovenleaf.errors import Next
from ovenleaf.present.open_questions import open_block, settle_next
from ovenleaf.present.screen import blocks, count, date_words, join_words, next_block, rows, wrap
from ovenleaf.present.totals import totals_blocks
from ovenleaf.present.words import in_degrees

if TYPE_CHECKING:
    from ovenleaf.domain.formula import Formula, Line
    from ovenleaf.domain.percent import Share, WorkedPart
    from ovenleaf.domain.sheet import Sheet

ROUND_BATCH = Decimal(1000)  # a sheet with no batch named is for 1000 g of flour, where figures come out round


def sheet_screen(sheet: Sheet) -> str:
    """The whole sheet of one revision, to look at."""
    formula = sheet.formula
    return blocks(
        "\n".join(
            (
                wrap(f"{formula.label}, {revision_words(sheet)}{_saved(sheet)}."),
                *([wrap(f"Makes {formula.makes}.")] if formula.makes else []),
                basis(sheet),
            )
        ),
        wrap(f"Why: {formula.why}") if formula.why else "",
        open_block(sheet),
        *dough_blocks(sheet),
        totals_blocks(sheet),
        makes_words(sheet),
        figures_words(sheet),
        process_block(formula),
        outside_block(formula),
        aims_block(formula),
        new_items_words(sheet),
        cautions(sheet),
        next_block(_next(sheet)),
    )


def _saved(sheet: Sheet) -> str:
    formula = sheet.formula
    by = f", by {join_words(formula.by)}" if formula.by and not sheet.shared_number else ""
    return f", {date_words(formula.saved)}{by}" if formula.saved else ""


def revision_words(sheet: Sheet) -> str:
    """`revision 2`, or `a draft, not saved yet`."""
    if sheet.revision is None:
        return "a draft, not saved yet"
    by = f" by {join_words(sheet.revision.handles)}" if sheet.shared_number else ""
    return f"revision {sheet.revision.number}{by}"


def batch_flour(sheet: Sheet) -> Decimal:
    """The flour, in g, that weights on this sheet are for."""
    return sheet.worked.flour_g or ROUND_BATCH


def basis(sheet: Sheet) -> str:
    """What the figures count."""
    if sheet.worked.flour_g is None:
        return f"Weights are for {grams(ROUND_BATCH)} of flour."
    return f"Weights are as typed; shares are of all the flour, {grams(sheet.worked.flour_g)}."


def dough_blocks(sheet: Sheet) -> tuple[str, ...]:
    """The whole formula, each part in its own 100 %, and the final dough in weights only."""
    worked = sheet.worked
    whole = _whole(sheet)
    if not worked.parts:
        return (whole,)
    parts = (_part(part, batch_flour(sheet)) for part in worked.parts)
    final = _final(sheet)
    return (f"The whole formula, in shares of all the flour\n{whole}", *parts, final)


def _whole(sheet: Sheet) -> str:
    flour = batch_flour(sheet)
    lines = [
        (_name(share, sheet), shown_pct(share.pct), shown_grams(portion(share.pct, flour)))
        for share in sheet.worked.whole
    ]
    total = ("dough", sum((p for _, p, _ in lines), ZERO), sum((g for _, _, g in lines), ZERO))
    if sheet.worked.flour_g is None:
        return rows([(name, pct(p), grams(g)) for name, p, g in (*lines, total)], "<>>")
    return rows([(name, grams(g), pct(p)) for name, p, g in (*lines, total)], "<>>")


def _name(share: Share, sheet: Sheet) -> str:
    """The item with its note, and how many pieces it is."""
    line = next((line for line in sheet.formula.ingredients if line.item == share.item), None)
    return ", ".join(filter(None, (share.item, _pieces(line), in_degrees(share.note))))


def _pieces(line: Line | None) -> str:
    if line is None or line.amount is None or line.amount.unit in (Unit.SHARE, Unit.G, Unit.KG, Unit.OZ, Unit.LB):
        return ""
    text = str(line.amount)
    return text.removesuffix(" pc")


def _part(part: WorkedPart, flour: Decimal) -> str:
    title = part.name.capitalize()
    if part.flour:
        heading = f"{title}, in shares of its own flour; takes {pct(part.flour)} of all the flour"
    else:
        heading = f"{title}, in shares of all the flour"
    lines = [
        (
            ", ".join(filter(None, (line.item, in_degrees(line.note)))),
            shown_pct(line.pct if line.own is None else line.own),
            shown_grams(portion(line.pct, flour)),
        )
        for line in part.lines
    ]
    total = (part.name, sum((p for _, p, _ in lines), ZERO), sum((g for _, _, g in lines), ZERO))
    table = rows([(name, pct(p), grams(g)) for name, p, g in (*lines, total)], "<>>")
    kept = f"  {grams(portion(part.kept, flour))} of it is kept for next time." if part.kept else ""
    rest = f"  then {in_degrees(part.rest)}" if part.rest else ""
    into = f"  all of it goes into the {part.into}" if part.into else ""
    return "\n".join(filter(None, (heading, table, kept, rest, into)))


def _final(sheet: Sheet) -> str:
    flour = batch_flour(sheet)
    lines = [(_name(share, sheet), shown_grams(portion(share.pct, flour))) for share in sheet.worked.final]
    total = sum((g for _, g in lines), ZERO)
    table = rows([(name, grams(g)) for name, g in (*lines, ("dough", total))], "<>")
    return f"Final dough, worked out, in weights only\n{table}"


def process_block(formula: Formula) -> str:
    """The steps in their order, each as the page has it."""
    if not formula.process:
        return ""
    return "Steps\n" + rows([(step.name, in_degrees(step.line.typed)) for step in formula.process], "<<")


def steps_words(formula: Formula) -> str:
    """How many steps there are, in a sentence."""
    steps = [step.name for step in formula.process]
    if not steps:
        return "Steps are not written yet; add them when you like."
    if len(steps) == 1:
        return f"One step, {steps[0]}."
    return f"{count(len(steps), 'step').capitalize()}, from {steps[0]} to {steps[-1]}."


def outside_block(formula: Formula) -> str:
    """What is used but is not in the dough."""
    if not formula.outside:
        return ""
    lines = [(line.item, ", ".join(filter(None, (_amount(line), line.note)))) for line in formula.outside]
    return "Outside the dough, never in the percentages\n" + rows(lines, "<<")


def _amount(line: Line) -> str:
    return line.word if line.amount is None else str(line.amount).replace("%", " %")


def aims_block(formula: Formula) -> str:
    """What this formula aims at; the highest mark means just that."""
    return "Aims\n" + rows(formula.aims, "<<") if formula.aims else ""


def new_items_words(sheet: Sheet) -> str:
    """Ingredients that no list knows, said once."""
    if not sheet.new_items:
        return ""
    verb, they = ("is", "It counts") if len(sheet.new_items) == 1 else ("are", "They count")
    return wrap(
        f"{join_words(sheet.new_items).capitalize()} {verb} in no ingredient list. {they} as neither flour nor"
        f" water, and what allergens there are in {'it' if verb == 'is' else 'them'} is not known."
    )


def cautions(sheet: Sheet) -> str:
    """Allergens by the ingredient list, and what can hurt at the bench."""
    contains = f"Contains {join_words(sheet.allergens)}, by the ingredient list. " if sheet.allergens else ""
    raw = "flour and egg are" if any(kind is Kind.EGG for _, kind in sheet.kinds) else "flour is"
    return wrap(f"{contains}{FIRST_CAUTION} Raw {raw} not for tasting. Oven, tins and steam burn. {LAST_CAUTION}")


def piece_words(sheet: Sheet) -> str:
    """What one piece of something counts as."""
    return "\n".join(wrap(f"1 {item} counts as {grams(each)}{_which(item)}.") for item, each in sheet.pieces)


def _which(item: str) -> str:
    return " without its shell, a US large or a European medium" if item == "egg" else ""


def makes_words(sheet: Sheet) -> str:
    """What of a page's weights goes into what it makes; "" where it says neither, or both are alike."""
    wanted = dough_in_batch(sheet.formula.makes, sheet.worked) if sheet.formula.makes else None
    if wanted is None or sheet.worked.flour_g is None:
        return ""
    have = rounded(portion(sheet.worked.total, sheet.worked.flour_g), 0)
    spare = have - rounded(wanted, 0)
    if not spare:
        return ""
    rest = f"{grams(spare)} to spare" if spare > 0 else f"{grams(-spare)} short"
    return wrap(f"{sheet.formula.makes} take {grams(rounded(wanted, 0))} of the {grams(have)} of dough; {rest}.")


_COMPOSED = (Kind.MILK, Kind.EGG, Kind.CHEESE, Kind.FAT, Kind.SUGAR)


def figures_words(sheet: Sheet) -> str:
    """Where the figures of an enriched dough are from; "" where no more than one line has anything inside it."""
    items = [item for item, kind in sheet.kinds if kind in _COMPOSED]
    if len(items) < 2:
        return ""
    said = f"What is inside {join_words(items)} is from the ingredient list, each figure with its source. See one with"
    return f"{wrap(said)}\n  ovenleaf show {slug_of(items[0])}"


def _next(sheet: Sheet) -> tuple[Next, ...]:
    name = sheet.formula.name
    if sheet.formula.open and not sheet.settled:
        return settle_next(sheet)
    if sheet.draft:
        return (Next(f'ovenleaf save {name} --why "..."', "keep it as a revision"),)
    return (
        Next(f"ovenleaf weigh {name}", "the weigh-up"),
        Next(f"ovenleaf history {name}", "its revisions, and what came of each"),
    )
