"""Two revisions side by side: the formula, the bakes, the outcome, and what that can tell."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.compare.bakes import condition_name
from ovenleaf.domain.batch import dough_in_batch
from ovenleaf.domain.figures import change_words, grams, mark, score
from ovenleaf.domain.numbers import CONTEXT, HUNDRED, portion, rounded
from ovenleaf.errors import Next
from ovenleaf.present.difference import items_table, moved_ahead, part_lines, process_table, said_table, totals_table
from ovenleaf.present.findings import findings_block
from ovenleaf.present.screen import blocks, count, join_words, next_block, rows, short_date, wrap

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from ovenleaf.domain.sheet import Sheet
    from ovenleaf.results import Diff, Side

NOT_RECORDED = "not recorded"
NOT_SCORED = "not scored"
_MOST_NAMED = 9  # of the things that differ; a longer list tells nobody anything


def diff_screen(result: Diff) -> str:
    """The whole comparison."""
    left, right = result.before.spoken, result.after.spoken
    names = [side.sheet.formula.label for side in (result.before, result.after)]
    label = names[0] if names[0] == names[1] else "Two formulas"
    comma = "," if ", " in result.before.spoken else ""
    both = f"{_dated(result.before)}{comma} and {_dated(result.after)}"
    return blocks(
        f"{wrap(f'{label}: {both}.')}\n{wrap(_basis(result))}",
        _formula(result, left, right),
        _baked(result),
        _outcome(result),
        _telling(result),
        findings_block(result.findings),
        next_block(_next(result)),
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
            change_words(rounded(new, 2) - rounded(old, 2))
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


def _telling(result: Diff) -> str:
    """What the comparison can tell, and what it cannot."""
    said = [*_differences(result), *_lead(result)]
    return "What this can tell\n" + "\n".join(wrap(sentence, 2) for sentence in said) if said else ""


def _differences(result: Diff) -> list[str]:
    if result.same_dough:
        return _same_dough_differs(result)
    names = [*result.diff.differing]
    told = {*names, *_planned_so(result)}
    names += [_which(name) for name in result.differing_bakes if name not in told]
    differ = f"{count(len(names), 'thing').capitalize()} differ"
    if result.other_scales or not (result.before.doughs and result.after.doughs):
        named = f": {join_words(names)}" if len(names) <= _MOST_NAMED else ""
        return [f"{differ}{named}."] if len(names) > 1 else []
    if not names:
        return ["Nothing that is recorded differs, so what differs in the outcome is scatter, or was not recorded."]
    if len(names) == 1:
        return [f"One thing that is recorded differs: {names[0]}. What was not recorded may differ too."]
    if len(names) > _MOST_NAMED:
        return [f"{differ}, far too many for these bakes to say what any one of them did."]
    return [f"{differ}: {join_words(names)}. These bakes cannot say which of them made the difference."]


_OF_THE_OVEN = ("oven", "time in the oven", "core temperature")


def _same_dough_differs(result: Diff) -> list[str]:
    """What was done with the two parts of one dough: time and warmth of a step are one change, and so is the oven."""
    heads = [name.partition(",")[0] for name in result.differing_bakes]
    names = list(dict.fromkeys("oven" if head in _OF_THE_OVEN else head for head in heads))
    if not names:
        return ["Same dough, and nothing that is recorded differs: what differs in the outcome is scatter."]
    said = f"Same dough: differs in {join_words(names)}, {count(len(names), 'change')}."
    if len(names) > 1:
        said += " These bakes cannot say which of them made the difference."
    return [said, "For the formula they count as one dough."]


def _planned_so(result: Diff) -> Iterator[str]:
    """Conditions of a bake that the formula itself changes: a longer bulk that was planned is one change, not two."""
    for row in (*result.diff.process, *result.diff.said):
        yield condition_name(row.step, "time" if row.field == "rest" else row.field)


def _which(condition: str) -> str:
    """`rye flour, which` as a row, `which rye flour` in a sentence."""
    name, which, rest = condition.rpartition(", which")
    return f"which {name}" if which and not rest else condition


def _lead(result: Diff) -> list[str]:
    old, new = result.before.outcome.score, result.after.outcome.score
    if old is None or new is None or result.other_scales:
        return []
    lead = abs(rounded(new, 2) - rounded(old, 2))
    said = []
    if result.same_dough:
        said.append("One bake of each is little to go by; a repeat could turn it round.")
    elif result.before.doughs == 1 or result.after.doughs == 1:
        one = "One dough each" if result.before.doughs == result.after.doughs == 1 else "One dough on one side"
        turn = "turn it round" if lead else "put one of them ahead"
        said.append(f"{one} is little to go by; a repeat could {turn}.")
    for name, row in result.repeats if lead else ():
        if apart := row.highest - row.lowest:
            most = "up to " if row.doughs > 2 else ""
            said.append(
                f"{count(row.doughs, 'dough').capitalize()} of {name} came out {most}{mark(apart)} apart."
                f" A lead of {mark(lead)} is {_beside(lead, apart)}."
            )
            break
    return said


def _beside(lead: Decimal, apart: Decimal) -> str:
    """A lead beside how far apart doughs of one revision came out."""
    if lead >= apart:
        return "more than that" if lead > apart else "no more than that"
    return "well inside that" if lead < apart / 2 else "inside that"


def _next(result: Diff) -> tuple[Next, ...]:
    name = result.after.sheet.formula.name
    if result.after.sheet.draft:
        return (Next(f'ovenleaf save {name} --why "..."', "keep the page as a revision"),)
    if result.after.one_bake and result.after.last_bake and not result.after.doughs:
        return (Next(f"ovenleaf score {result.after.last_bake.code}", "when it is tasted"),)
    if not result.after.doughs:
        return (Next(f"ovenleaf record {name}", "when it is baked"),)
    return (Next(f"ovenleaf rank {name}", "all its bakes"), Next(f"ovenleaf history {name}", "all its revisions"))
