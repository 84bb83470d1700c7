"""What a comparison can tell and what it cannot: how sure the outcome is, what made it, what would separate."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain.figures import mark, mark_change, score
from ovenleaf.domain.numbers import plain, rounded
from ovenleaf.errors import Next
from ovenleaf.evidence.tasters import How
from ovenleaf.evidence.units import SCORE
from ovenleaf.evidence.verdicts import Call
from ovenleaf.present.chance_words import (
    NO_MORE,
    blind_sentence,
    chance_words,
    more_words,
    or_nothing,
    scatter_sentence,
)
from ovenleaf.present.screen import count, join_words, number_word, rows, short_date, wrap

if TYPE_CHECKING:
    from decimal import Decimal

    from ovenleaf.compare.separating import Bake, Pair
    from ovenleaf.evidence.gaps import Gap
    from ovenleaf.evidence.outcome_gaps import OutcomeGaps
    from ovenleaf.results import Diff

_MOST_NAMED = 9  # of the things that differ; a longer list tells nobody anything
_MOST_PAIRS = 2  # that are told
_MOST_CONDITIONS = 3  # that a bake is told to hold, one by one


def sureness(result: Diff) -> str:
    """The true change that is likely in each of crumb, crust and score, and what it is called."""
    if result.gaps is None or result.other_scales or not result.gaps.gaps:
        return ""
    name = _name(result)
    lines = [(what, _sure(gap, up=gap.above == name)) for what, gap in result.gaps.gaps]
    said = filter(None, (_basis(result.gaps), _more(result.gaps)))
    return "\n".join(("How sure that is", rows(lines, "<<"), *(wrap(sentence, 2) for sentence in said)))


def _name(result: Diff) -> str:
    """What the right side is called among the gaps."""
    bake = result.after.last_bake
    return bake.code if result.after.one_bake and bake else str(result.after.sheet.revision)


def _sure(gap: Gap, *, up: bool) -> str:
    """A gap as a change from the older to the newer, with its call, its chance and its doughs."""
    low, high = (gap.low, gap.high) if up else (-gap.high, -gap.low)
    chance = chance_words(gap.verdict.chance)
    match gap.verdict.call:
        case Call.BETTER:
            call = f"{'better' if up else 'worse'}, {chance}"
        case Call.LEANS:
            call = f"leans {'up' if up else 'down'}, {chance}"
        case Call.CANNOT_TELL:
            call = f"cannot tell, {chance} that it {'rose' if up else 'fell'}"
    return f"likely {move_words(low, high)}; {call}, {_on(gap, up=up)}"


def move_words(low: Decimal, high: Decimal) -> str:
    """From where to where a true change lies, without a sign.

    >>> from decimal import Decimal
    >>> move_words(Decimal("-0.6"), Decimal("1.1")), move_words(Decimal("0.3"), Decimal("1.9"))
    ('0.6 down to 1.1 up', '0.3 to 1.9 up')
    """
    low, high = rounded(low, 1), rounded(high, 1)
    if low < 0 < high:
        return f"{mark(-low)} down to {mark(high)} up"
    if not low and not high:
        return NO_MORE
    ends = sorted((abs(low), abs(high)))
    return f"{or_nothing(ends[0])} to {mark(ends[1])} {'down' if low < 0 else 'up'}"


def _on(gap: Gap, *, up: bool) -> str:
    """The doughs behind a gap, those of the older side first."""
    older, newer = (gap.doughs[1], gap.doughs[0]) if up else gap.doughs
    if older == newer:
        return f"on {count(older, 'dough')} each"
    return f"on {count(older, 'dough')} and {number_word(newer)}"


def _basis(gaps: OutcomeGaps) -> str:
    likely = "The true change lies in the likely range nine times in ten."
    tasted = {
        How.ALL: "",
        How.SHARED: f"Compared by the marks of {join_words(gaps.tasters.shared)}, who tasted all.",
        How.ADJUSTED: "Not the same people tasted, so each taster's leaning is taken out.",
    }[gaps.tasters.how]
    parts = (likely, scatter_sentence(gaps.scatter, gaps.reckoned), tasted, blind_sentence(gaps.blind))
    return " ".join(filter(None, parts))


def _more(gaps: OutcomeGaps) -> str:
    score = gaps.gap(SCORE)
    return more_words(score) if score else ""


def telling(result: Diff) -> str:
    """What differs, whether it can be told apart, and what would tell it apart."""
    said = [*_differences(result), *_apart(result)]
    return "What this can tell\n" + "\n".join(wrap(sentence, 2) for sentence in said if sentence) if said else ""


def _differences(result: Diff) -> list[str]:
    if result.same_dough:
        return [*_same_dough_differs(result), _one_dough(result)]
    names = [_which(name) for name in result.things]
    differ = f"{count(len(names), 'thing').capitalize()} differ"
    if result.other_scales or not (result.before.doughs and result.after.doughs):
        named = f": {join_words(names)}" if len(names) <= _MOST_NAMED else ""
        return [f"{differ}{named}."] if len(names) > 1 else []
    near = _near(result)
    if not names:
        said = "Nothing that is recorded differs, so what differs in the outcome is scatter, or was not recorded."
    elif len(names) == 1:
        said = f"One thing that is recorded differs: {names[0]}. What was not recorded may differ too."
    elif len(names) > _MOST_NAMED:
        said = f"{differ}, far too many for these bakes to say what any one of them did."
    else:
        said = f"{differ}: {join_words(names)}. These bakes cannot say which of them made the difference."
    return list(filter(None, (said, near, _one_dough(result))))


def _near(result: Diff) -> str:
    names = [_which(name) for name in result.beside.near if name not in result.things]
    if not names or len(names) > _MOST_NAMED:
        return ""
    return f"Not counted, being near alike or on both sides: {join_words(names)}."


def _one_dough(result: Diff) -> str:
    if result.same_dough:
        both = result.before.doughs and result.after.doughs and not result.other_scales
        return "One bake of each is little to go by; a repeat could turn it round." if both else ""
    if 1 in (result.before.doughs, result.after.doughs):
        one = "One dough each" if result.before.doughs == result.after.doughs else "One dough on one side"
        return f"{one} is little to go by; a repeat could turn it round."
    return ""


_OF_THE_OVEN = ("oven", "time in the oven")


def _same_dough_differs(result: Diff) -> list[str]:
    """What was done with the two parts of one dough: time and warmth of a step are one change, and so is the oven."""
    heads = [name.partition(",")[0] for name in result.beside.differ]
    names = list(dict.fromkeys("oven" if head in _OF_THE_OVEN else head for head in heads))
    if not names:
        return ["Same dough, and nothing that is recorded differs: what differs in the outcome is scatter."]
    said = f"Same dough: differs in {join_words(names)}, {count(len(names), 'change')}."
    if len(names) > 1:
        said += " These bakes cannot say which of them made the difference."
    return [said, "For the formula they count as one dough."]


def _which(condition: str) -> str:
    """`rye flour, which` as a row, `which rye flour` in a sentence; likewise how warm a step was."""
    name, _, what = condition.rpartition(", ")
    return {"which": f"which {name}", "temperature": f"the temperature in {name}"}.get(what, condition)


def _apart(result: Diff) -> list[str]:
    """Bakes that differ in one of the things alone, or the bake that would."""
    if len(result.things) < 2 or result.same_dough or not (result.before.doughs and result.after.doughs):
        return []
    if result.pairs:
        return [_pair(result, pair) for pair in result.pairs[:_MOST_PAIRS]]
    if result.gaps is None or len(result.things) > _MOST_NAMED:
        return []
    return [f"No two bakes differ in one of them alone. {bake_that_separates(result)[0]}"]


def _pair(result: Diff, pair: Pair) -> str:
    moves = [
        f"{what} {mark_change(old, new, score if what == SCORE else mark).replace('same', 'the same')}"
        for what in ("crumb", "crust", SCORE)
        if (old := getattr(pair.before, what)) is not None and (new := getattr(pair.after, what)) is not None
    ]
    both = f"{_bake(pair.before)} and {_bake(pair.after)}"
    told = count(pair.unsaid, "condition")
    verb = "is" if pair.unsaid == 1 else "are"
    unsaid = f" {told.capitalize()} {verb} recorded of one bake only." if pair.unsaid else ""
    values = f" ({pair.values[0]} and {pair.values[1]})" if all(pair.values) else ""
    return f"{both} differ in {_which(pair.thing)} alone{values}: {join_words(moves)}, on one dough each.{unsaid}"


def _bake(bake: Bake) -> str:
    number = bake.trial.revision.split(".")[0].removeprefix("r")
    return f"{bake.trial.code} of {short_date(bake.trial.day)} (revision {number})"


def bake_that_separates(result: Diff) -> tuple[str, Next | None]:
    """The bake after which one thing alone differs, in words, and how to begin it."""
    name = result.after.sheet.formula.name
    formula = result.diff.differing
    conditions = [thing for thing in result.things if thing not in formula]
    if conditions and (formula or len(conditions) > 1):
        kept = conditions if formula else conditions[1:]
        left = formula if formula else conditions[:1]
        again = f"To tell them apart, bake {_again(result)} once more {_as_before(result, kept)}"
        rest = f"then {_which(left[0])} alone differs" if len(left) == 1 else "then the formula alone differs"
        return f"{again}: {rest}.", Next(f"ovenleaf begin {name} {_typed(result)}", "with what is said above")
    row = next((r for r in result.diff.items if r.stage is None and r.item in formula and r.after is not None), None)
    if row is None or row.after is None:
        return f"To tell them apart, bake {result.before.spoken} with one of the changes alone.", None
    item = f"'{row.item}={plain(row.after)}%'" if " " in row.item else f"{row.item}={plain(row.after)}%"
    before = str(result.before.sheet.revision)
    command = f'ovenleaf tweak {name} {item} --from {before} --why "the {row.item} alone"'
    alone = f"{row.item} {plain(row.after)} % and nothing else changed"
    said = f"To tell them apart, bake {result.before.spoken} with {alone}."
    return said, Next(command, "")


def _again(result: Diff) -> str:
    bake = result.after.last_bake
    revision = f"revision {bake.revision.split('.')[0].removeprefix('r')}" if bake and result.after.one_bake else ""
    return revision or result.after.spoken


def _typed(result: Diff) -> str:
    return str(result.after.sheet.revision)


def _as_before(result: Diff, names: list[str]) -> str:
    """Conditions as they were on the older side; of many, that bake as a whole."""
    was = {row.name: row.before for row in result.bakes}
    if len(names) > _MOST_CONDITIONS and result.before.last_bake:
        return f"just as {result.before.last_bake.code} was made"
    told = [f"{_which(name)} {was[name]}" if was.get(name) else f"{_which(name)} as it was" for name in names]
    return f"with {join_words(told)}"


def next_of(result: Diff) -> tuple[Next, ...]:
    """What to type after a comparison."""
    name = result.after.sheet.formula.name
    if result.after.sheet.draft:
        return (Next(f'ovenleaf save {name} --why "..."', "keep the page as a revision"),)
    if result.after.one_bake and result.after.last_bake and not result.after.doughs:
        return (Next(f"ovenleaf score {result.after.last_bake.code}", "when it is tasted"),)
    if not result.after.doughs:
        return (Next(f"ovenleaf record {name}", "when it is baked"),)
    apart = bake_that_separates(result)[1] if len(result.things) > 1 and result.gaps and not result.pairs else None
    few = len(result.things) <= _MOST_NAMED
    more = (apart,) if apart and few else ()
    return (*more, Next(f"ovenleaf rank {name} --by revision", "which is best, and how surely"))
