"""What `correct` says when it is done, and how a value put right is told wherever a trial is shown."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain.figures import score
from ovenleaf.errors import Next
from ovenleaf.present.formula import revision_words
from ovenleaf.present.screen import blocks, date_words, next_block, rows, short_date, wrap
from ovenleaf.present.writing import ahead

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from ovenleaf.domain.trial import Correction
    from ovenleaf.evidence.moves import Standing
    from ovenleaf.results import Corrected

NOT_RECORDED = "not recorded"
_NAMES = {
    "bake_date": "day of baking",
    "started": "begun",
    "as_planned": "as planned",
    "left_out": "left out of rankings",
    "shares_dough_with": "shares its dough with",
}


def field_words(field: str) -> str:
    """A value of a trial as a baker calls it.

    >>> field_words("weighed.poolish:water"), field_words("scores.noor.crumb"), field_words("steps.bulk.time")
    ('water in poolish, weighed', 'crumb, noor', 'bulk, time')
    """
    block, _, rest = field.partition(".")
    match block:
        case "weighed":
            bowl, colon, item = rest.partition(":")
            return f"{item} in {bowl}, weighed" if colon else f"{rest}, weighed"
        case "flours":
            return f"{rest}, which"
        case "scores":
            taster, _, mark = rest.replace(".faults.", ".fault ").rpartition(".")
            return f"{mark.partition(' ')[0].replace('_', ' ')}, {taster}"
        case "steps":
            return rest.replace(".", ", ")
        case "photos":
            return f"picture {rest}"
        case "log":
            return f"log, line {rest}"
        case "kitchen" | "measured":
            return rest
        case "plan":
            return f"{rest}, planned for this bake"
    return _NAMES.get(field, field)


def value_words(field: str, value: str, spoken: Mapping[str, str]) -> str:
    """A value as a screen says it; `spoken` tells revisions."""
    if not value:
        return NOT_RECORDED
    if field == "bake_date":
        return date_words(value)
    return spoken.get(value, value) if field == "revision" else value


def correction_lines(corrections: Iterable[Correction], spoken: Mapping[str, str]) -> str:
    """Each value put right: what it was and is, when, by whom and why; the pin goes with its revision, unsaid."""
    return "\n".join(
        wrap(
            f"{field_words(made.field)}: was {value_words(made.field, made.was, spoken)}, now"
            f" {value_words(made.field, made.now, spoken)}; {short_date(made.at)}, by {made.by}: {made.why}",
            2,
            hanging=2,
        )
        for made in corrections
        if made.field != "pin"
    )


def corrected_screen(result: Corrected) -> str:
    """A trial was put right, or more was told of it."""
    trial = result.view.trial
    done = "Put right" if result.corrections else "Added"
    day = f", baked {date_words(trial.bake_date)}" if trial.bake_date else ""
    head = f"{done}: trial {trial.code}, {result.view.sheet.formula.label}, {revision_words(result.view.sheet)}{day}."
    why = result.corrections[0].why if result.corrections else ""
    stays = f"Why: {why}. What stood there before stays in the trial, with your name and the day." if why else ""
    return blocks(
        ahead(result),
        "\n".join(filter(None, (wrap(head), wrap(stays.replace("..", "."))))),
        _changes(result),
        _added(result),
        _moves(result),
        next_block(_next(result)),
    )


def _changes(result: Corrected) -> str:
    spoken = dict(result.spoken)
    lines = [
        (field_words(c.field), value_words(c.field, c.was, spoken), value_words(c.field, c.now, spoken))
        for c in result.corrections
    ]
    return rows(lines, "<<<", heading=("", "it was", "put right")) if lines else ""


def _added(result: Corrected) -> str:
    if not result.added:
        return ""
    spoken = dict(result.spoken)
    lines = [(field_words(field), value_words(field, value, spoken)) for field, value in result.added]
    head = "Added late, for it was not recorded" if result.corrections else "It was not recorded so far; marked as late"
    return f"{head}\n{rows(lines, '<<')}"


def _moves(result: Corrected) -> str:
    spoken = dict(result.spoken)
    lines = [(f"trial {move.name}", _place(move.before), _place(move.after)) for move in result.moves]
    lines += [(spoken.get(move.name, move.name), _place(move.before), _place(move.after)) for move in result.revisions]
    table = rows(lines, "<<<", heading=("", "ranked before", "ranked now")) if lines else ""
    if not lines and not result.diffs:
        return "No ranking and no comparison of revisions moves by it."
    unmoved = "" if lines else "No place in the ranking moves."
    return "\n".join(filter(None, ("What it moves", table, wrap(unmoved, 2), wrap(_compared(result), 2))))


def _place(standing: Standing | None) -> str:
    if standing is None:
        return "not ranked"
    return f"place {standing.place}{' equal' if standing.tied else ''}, {score(standing.score)}"


def _compared(result: Corrected) -> str:
    """The comparisons of revisions that read otherwise now."""
    pairs = [f"{_number(one)} and {_number(other)}" for one, other in result.diffs]
    return f"Compared anew: revisions {', revisions '.join(pairs)}." if pairs else ""


def _number(typed: str) -> str:
    """A revision as it stands behind the word: `2`, or its full name where two bakers share the number."""
    return typed.removeprefix("r") if typed[1:].isdigit() else typed


def _next(result: Corrected) -> tuple[Next, ...]:
    trial = result.view.trial
    shown = Next(f"ovenleaf show {trial.code}", "the trial, with what was put right")
    by = "" if result.moves else " --by revision"
    ranked = Next(f"ovenleaf rank {trial.formula}{by}", "all its bakes")
    pair = next((f" {one} {other}" for one, other in result.diffs), None)
    compared = () if pair is None else (Next(f"ovenleaf diff {trial.formula}{pair}", "compared anew"),)
    return (shown, *([ranked] if result.moves or result.revisions else []), *compared)
