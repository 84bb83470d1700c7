"""What a writing command says when it is done: started, entered, tweaked, saved."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain.figures import change_words, pct, shown_pct
from ovenleaf.errors import Next
from ovenleaf.present.difference import items_table, part_lines, process_table, said_table
from ovenleaf.present.formula import (
    basis,
    dough_blocks,
    figures_words,
    makes_words,
    new_items_words,
    outside_block,
    piece_words,
    revision_words,
    steps_words,
)
from ovenleaf.present.screen import blocks, count, date_words, join_words, next_block, wrap
from ovenleaf.present.totals import totals_blocks

if TYPE_CHECKING:
    from collections.abc import Iterable

    from ovenleaf.compare.formula_diff import FormulaDiff
    from ovenleaf.domain.sheet import Sheet
    from ovenleaf.domain.slip import Slip
    from ovenleaf.results import Answered, Entered, Poured, Saved, Started, Tweaked, Written


def ahead(result: Written) -> str:
    """What is said ahead of everything else, or ""."""
    return wrap(result.ahead) if result.ahead else ""


def started_screen(result: Started) -> str:
    """A book was begun."""
    top = f" {result.page.scale.high} means: {result.page.top}." if result.page.top else ""
    first = wrap(f"Started: {result.page.title}, in the folder {result.folder}. You bake here as {result.baker}.")
    scale = wrap(f"Scores run from {result.page.scale}.{top}")
    go = Next(f"cd {result.folder}")
    if result.formulas:
        name = result.formulas[0]
        inside = wrap(f"It holds {count(len(result.formulas), 'formula')} and {count(result.trials, 'trial')}.")
        look = (go, Next(f"ovenleaf diff {name}", "the last two revisions"), Next(f"ovenleaf rank {name}", "the bakes"))
        return blocks(f"{first}\n{scale}\n{inside}", next_block(look))
    return blocks(
        ahead(result),
        f"{first}\n{scale}",
        next_block((go, Next("ovenleaf enter stall-loaf", "put in a formula, asked line by line"))),
    )


def _by_whom(sheet: Sheet) -> str:
    formula = sheet.formula
    return f"{revision_words(sheet)}, {date_words(formula.saved)}, by {join_words(formula.by)}"


def entered_screen(result: Entered) -> str:
    """A formula page was kept, shown whole."""
    sheet = result.sheet
    if result.diff is not None and result.before:
        head = f"Entered: {sheet.formula.label}, {_by_whom(sheet)}, made from {result.before}."
        return blocks(
            ahead(result),
            _head(head, result.diff, sheet),
            *_changed(result.diff, result.before, sheet),
            slips_block(result.slips, sheet.formula.name),
            next_block(_after_a_change(sheet.formula.name)),
        )
    return blocks(
        ahead(result),
        f"{wrap(f'Entered: {sheet.formula.label}, {_by_whom(sheet)}.')}\n{basis(sheet)}",
        *dough_blocks(sheet),
        totals_blocks(sheet),
        "\n".join(filter(None, (piece_words(sheet), makes_words(sheet)))),
        figures_words(sheet),
        outside_block(sheet.formula),
        steps_words(sheet.formula),
        new_items_words(sheet),
        slips_block(result.slips, sheet.formula.name),
        next_block(_after_entering(sheet)),
    )


def _after_entering(sheet: Sheet) -> tuple[Next, ...]:
    name, makes = sheet.formula.name, sheet.formula.makes
    return (
        Next(f"ovenleaf weigh {name}", f"the weigh-up{f' for {makes}' if makes else ''}"),
        Next(f"ovenleaf record {name}", "when it is baked"),
    )


def _after_a_change(name: str) -> tuple[Next, ...]:
    return (
        Next(f"ovenleaf record {name}", "when it is baked"),
        Next(f"ovenleaf diff {name}", "this revision and the one before"),
    )


def _head(head: str, diff: FormulaDiff, sheet: Sheet) -> str:
    """The sentence that comes first, and what shares are of where any of the whole formula is shown."""
    if not any(row.stage is None and row.change for row in diff.items):
        return wrap(head)
    names = [part.name for part in sheet.worked.parts]
    included = f", {join_words(names)} included" if names else ""
    return f"{wrap(head)}\n{wrap(f'Shares are of all the flour{included}.')}"


def tweaked_screen(result: Tweaked) -> str:
    """A new revision, and only what is new in it."""
    sheet = result.sheet
    head = f"{sheet.formula.label}, {_by_whom(sheet)}, made from {result.before}."
    return blocks(
        ahead(result),
        _head(head, result.diff, sheet),
        *_changed(result.diff, result.before, sheet),
        "\n".join(map(_poured_words, result.poured)),
        slips_block(result.slips, sheet.formula.name),
        next_block(_after_a_change(sheet.formula.name)),
    )


def _changed(diff: FormulaDiff, before: str, sheet: Sheet) -> tuple[str, ...]:
    names = before, revision_words(sheet)
    return (
        items_table(diff, *names),
        part_lines(diff, *names),
        process_table(diff, *names),
        said_table(diff, *names),
        wrap(_else_words(diff, sheet)),
        new_items_words(sheet),
    )


def _else_words(diff: FormulaDiff, sheet: Sheet) -> str:
    """What did not move, and how many things did."""
    said = "All else is the same." if diff.independent else "The dough and its steps are the same."
    whole_moved = any(row.stage is None and row.change for row in diff.items)
    still = [part.name for part in sheet.worked.parts if not any(row.stage == part.name for row in diff.items)]
    if whole_moved and still:
        stays = "stays as it is" if len(still) == 1 else "stay as they are"
        said += f" The {join_words(still)} {stays}; the difference is in the final dough."
    moved = dict.fromkeys(row.stage for row in diff.items if row.stage is not None)
    if moved and not whole_moved:
        parts = join_words([str(name) for name in moved])
        said += f" So is the dough as a whole: what changes in the {parts} is made up in the final dough."
    if diff.independent > 1:
        said += (
            f" {count(diff.independent, 'change').capitalize()} at once: the next bake will show what they do together."
        )
    return said


def _poured_words(poured: Poured) -> str:
    step = shown_pct(poured.step)
    goes = f"it goes {change_words(step, ' points')}" if step else "it is no step at all"
    return wrap(
        f"Last time the bowl got {pct(poured.actual)} {poured.item}, not {pct(poured.planned)} (trial {poured.code})."
        f" From that bake {goes}."
    )


def slips_block(slips: tuple[Slip, ...], name: str) -> str:
    """What looks like a slip, as questions; nothing was refused, and an answer is remembered."""
    if not slips:
        return ""
    told = [wrap(slip.message, 2, hanging=2) for slip in slips]
    answer = wrap(f'If it is as you mean it: ovenleaf check {name} --meant "..."', 2)
    return "\n".join(("Kept, and worth a second look", *told, answer))


def saved_screen(result: Saved) -> str:
    """What was kept of the pages that were edited by hand."""
    return blocks(
        ahead(result),
        *map(_saved_revision, result.revisions),
        _listed("Touched up, without a new revision, since the dough and its steps are the same", result.touched),
        _combined(result),
        _listed("Saved as edited", result.pages),
        _corrected(result),
        next_block(_saved_next(result)),
    )


def _saved_revision(result: Entered) -> str:
    sheet = result.sheet
    if result.diff is None or not result.before:
        head = wrap(f"Saved: {sheet.formula.label}, {_by_whom(sheet)}, a new formula.")
        return blocks(head, slips_block(result.slips, sheet.formula.name))
    head = f"Saved: {sheet.formula.label}, {_by_whom(sheet)}, made from {result.before}."
    return blocks(
        _head(head, result.diff, sheet),
        *_changed(result.diff, result.before, sheet),
        slips_block(result.slips, sheet.formula.name),
    )


def _listed(heading: str, names: Iterable[str]) -> str:
    lines = [f"  {name}" for name in names]
    return "\n".join([heading, *lines]) if lines else ""


def _combined(result: Saved) -> str:
    """Pages that were brought together outside ovenleaf, each a revision of both bakers now."""
    told = [f"  {name}, revision {number}" for name, number in result.combined]
    return "\n".join(("Kept: what two bakers had changed, brought together", *told)) if told else ""


def _corrected(result: Saved) -> str:
    """Trials in which values had changed; the old ones stay beside the new."""
    told = [wrap(f"{code}: {join_words(fields)}", 2, hanging=2) for code, fields in result.corrected]
    head = wrap("Put right by hand, each with what stood there before, your name, the day and why")
    return "\n".join((head, *told)) if told else ""


def _saved_next(result: Saved) -> tuple[Next, ...]:
    if not result.revisions:
        return tuple(Next(f"ovenleaf show {name}", "as it stands now") for name, _ in result.combined[:1])
    name = result.revisions[0].sheet.formula.name
    if result.revisions[0].diff is None:
        return (Next(f"ovenleaf record {name}", "when it is baked"),)
    return _after_a_change(name)


def answered_screen(result: Answered) -> str:
    """What looked like a slip is meant, and will not be asked about again."""
    told = [wrap(slip.message, 2, hanging=2) for slip in result.slips]
    head = f"Remembered: {result.formula.replace('-', ' ')} is as you mean it. It is not asked about again."
    return blocks(ahead(result), wrap(head), "\n".join(told), wrap(f"Why: {result.meant}"))
