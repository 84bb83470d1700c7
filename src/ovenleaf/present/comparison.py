"""Two revisions side by side: the formula, the bakes, the outcome, and what that can tell."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain.batch import dough_in_batch
from ovenleaf.domain.figures import grams, mark, mark_change, score
from ovenleaf.domain.numbers import CONTEXT, HUNDRED, portion, rounded
from ovenleaf.present.difference import items_table, moved_ahead, part_lines, process_table, said_table, totals_table
from ovenleaf.present.findings import findings_block
from ovenleaf.present.open_questions import settle_next
from ovenleaf.present.screen import blocks, count, join_words, next_block, rows, short_date, wrap
from ovenleaf.present.telling import next_of, sureness, telling

if TYPE_CHECKING:
    from collections.abc import Callable

    from ovenleaf.domain.sheet import Sheet
    from ovenleaf.results import Diff, Side

NOT_RECORDED = "not recorded"
NOT_SCORED = "not scored"


def diff_screen(result: Diff) -> str:
    """The whole comparison."""
    left, right, after = result.before.spoken, result.after.spoken, result.after.sheet
    names = [side.sheet.formula.label for side in (result.before, result.after)]
    label = names[0] if names[0] == names[1] else "Two formulas"
    comma = "," if ", " in result.before.spoken else ""
    both = f"{_dated(result.before)}{comma} and {_dated(result.after)}"
    return blocks(
        f"{wrap(f'{label}: {both}.')}\n{wrap(_basis(result))}",
        _formula(result, left, right),
        "\n".join(filter(None, map(_open, (result.before, result.after)))),
        _baked(result),
        _outcome(result),
        sureness(result),
        telling(result),
        findings_block(result.findings),
        next_block(settle_next(after) if after.formula.open and not after.settled else next_of(result)),
    )


def _dated(side: Side) -> str:
    """A revision with the day it was saved; a bake or a draft has no such day."""
    saved = side.sheet.formula.saved if side.spoken.startswith("revision ") else ""
    return f"{side.spoken} of {short_date(saved)}" if saved else side.spoken


def _basis(result: Diff) -> str:
    parts = join_words([part.name for part in result.after.sheet.worked.parts])
    counted = f", {parts} included" if parts else ""
    doughs = (result.before.doughs, result.after.doughs)
    if result.same_dough:
        baked = "One dough, baked in two ways."
    elif doughs == (1, 1) or result.before.one_bake:
        baked = "One dough each."
    elif not any(doughs):
        baked = "Neither has scored bakes yet."
    else:
        one, other = (count(number, "dough") for number in doughs)
        baked = f"{one.capitalize()} of {result.before.spoken}, {other} of {result.after.spoken}."
    return f"Shares are of all the flour{counted}. {baked}"


def _formula(result: Diff, left: str, right: str) -> str:
    diff = result.diff
    if not diff.changes:
        return "The formula is the same on both sides."
    totals = totals_table(diff, left, right)
    items = items_table(diff, left, right, rest="all else")
    return blocks(
        f"The formula\n{items}" if items else wrap(moved_ahead(result.before.sheet, result.after.sheet)),
        part_lines(diff, left, right),
        f"Totals\n{totals}" if totals else "",
        _same_dough(result),
        process_table(diff, left, right),
        said_table(diff, left, right),
    )


def _open(side: Side) -> str:
    """What is open in a revision is neither baker's."""
    asked = [question.item for question in side.sheet.formula.open]
    if not asked:
        return ""
    return wrap(f"Open in {side.spoken}: {join_words(asked)}. What stands there for it is from before both changes.")


def _same_dough(result: Diff) -> str:
    """The same change in grams, for equal dough."""
    before, after = result.before.sheet, result.after.sheet
    moved = [r.item for r in result.diff.items if r.stage is None and (r.change or None in (r.before, r.after))]
    if not moved:
        return ""
    dough = dough_in_batch(after.formula.makes, after.worked) or dough_in_batch(before.formula.makes, before.worked)
    dough = dough or CONTEXT.divide(after.worked.total * 1000, HUNDRED)
    lines = []
    for item in ("flour", *moved):
        old, new = (_in_dough(side, item, dough) for side in (before, after))
        if old != new:
            lines.append((item, _weight_words(old), _weight_words(new), _more(old, new)))
    heading = ("", result.before.spoken, result.after.spoken, "")
    return f"For {grams(rounded(dough, 0))} of dough\n{rows(lines, '<>><', heading=heading)}" if lines else ""


def _in_dough(sheet: Sheet, item: str, dough: Decimal) -> Decimal:
    flour = CONTEXT.divide(dough * HUNDRED, sheet.worked.total)
    if item == "flour":
        return rounded(flour, 0)
    share = next((s.pct for s in sheet.worked.whole if s.item == item), Decimal(0))
    weight = portion(share, flour)
    return rounded(weight, 0 if weight >= HUNDRED else 1)


def _weight_words(weight: Decimal) -> str:
    """What is not in a formula weighs nothing; a figure would look as if it had been measured out."""
    return grams(weight) if weight else "none"


def _more(old: Decimal, new: Decimal) -> str:
    return f"{grams(abs(new - old))} {'more' if new > old else 'less'}"


def _baked(result: Diff) -> str:
    """The last bake of each side; conditions that are the same on both sides close the block in one line."""
    left, right = result.before.last_bake, result.after.last_bake
    if left is None or right is None:
        return ""
    shares = {share.item for side in (result.before, result.after) for share in side.sheet.worked.whole}
    lines = [
        (
            f"{row.name} weighed" if row.name in shares else row.name,
            row.before or NOT_RECORDED,
            row.after or NOT_RECORDED,
            row.words,
        )
        for row in result.bakes
    ]
    heading = ("", *(f"{trial.code}, {short_date(trial.day)}" for trial in (left, right)), "")
    several = max(result.before.doughs, result.after.doughs) > 1
    title = "As it was baked, the last bake of each" if several else "As it was baked"
    if not lines:
        return f"{title}\n" + wrap("Nothing but the scores is recorded of these bakes.", 2)
    lines.sort(key=lambda line: not line[3])  # what can be compared comes first
    alone = wrap("What is recorded on one side only cannot be compared.", 2) if not lines[-1][3] else ""
    return "\n".join(filter(None, (title, rows(lines, "<>><", heading=heading), alone)))


def _outcome(result: Diff) -> str:
    """How the doughs of each side came out."""
    before, after = result.before, result.after
    if not before.doughs and not after.doughs:
        return ""
    top = f"How it came out{_means(result)}"
    heading = ("", *(f"{side.spoken}" for side in (before, after)), "")
    lines = []
    for name in ("crumb", "crust", "score"):
        old, new = (getattr(side.outcome, name) for side in (before, after))
        show = score if name == "score" else mark
        words = (
            mark_change(old, new, show)
            if old is not None and new is not None and not result.other_scales
            else "cannot be compared"
        )
        lines.append((name, _marked(old, show), _marked(new, show), words))
    return "\n".join(filter(None, (top, rows(lines, "<>><", heading=heading), _two_scales(result))))


def _two_scales(result: Diff) -> str:
    if not result.other_scales:
        return ""
    bakes = (result.before.last_bake, result.after.last_bake)
    told = join_words([f"{bake.code} from {bake.scale}" for bake in bakes if bake is not None])
    return wrap(f"Two scales: {told}.", 2)


def _means(result: Diff) -> str:
    """What the highest mark means, in the book's own words; nothing where a bake was scored on another scale."""
    bakes = [side.last_bake for side in (result.before, result.after) if side.one_bake and side.last_bake]
    if any(bake.scale is not None and bake.scale.high != result.scale_top for bake in bakes):
        return ""
    return f", {result.scale_top} being {result.top}" if result.top else ""


def _marked(value: Decimal | None, show: Callable[[Decimal], str]) -> str:
    return NOT_SCORED if value is None else show(value)
