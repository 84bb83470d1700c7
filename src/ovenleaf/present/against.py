"""Scores against something weighed or measured, and scores by revision, as text; `against_pictures` draws them."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain.figures import pct, score
from ovenleaf.domain.numbers import CONTEXT, plain, rounded
from ovenleaf.errors import Next
from ovenleaf.present.findings import findings_block
from ovenleaf.present.picture import picture
from ovenleaf.present.ranked import MANY, together, together_words
from ovenleaf.present.scales import QUARTERS, ticks
from ovenleaf.present.screen import blocks, count, is_spoken, next_block, rows, short_date, some_words, wrap

if TYPE_CHECKING:
    from ovenleaf.domain.trial import Trial
    from ovenleaf.evidence.against import Against, Point
    from ovenleaf.results import History

_ROWS = 14  # of a picture in text
_LISTED = 24  # doughs told one by one
_SURE = "as recorded"
UNITS = "Bakes that share a dough count once, and tasters are averaged."


def against_screen(result: History, svg_file: str = "") -> str:
    """Scores against something weighed or measured."""
    shown = result.against
    assert shown is not None
    points = shown.points
    title = result.title
    if not points:
        head = f"{title}: no dough has both {_a_score(shown)} and a figure for {shown.what}."
        return blocks(
            wrap(head), left_out_block(result, shown), findings_block(result.findings), next_steps(result, svg_file)
        )
    return blocks(
        "\n".join(
            (
                wrap(f"{title}: {shown.of} against {shown.what}, {count(len(points), 'dough')}."),
                wrap(f"{_basis(shown)} {UNITS}"),
            )
        ),
        "" if is_spoken() or shown.line is None else _picture(shown),
        _table(result, shown),
        left_out_block(result, shown),
        "What this can tell\n" + wrap(line_words(shown), 2) + _sources(shown),
        kept_words(svg_file),
        findings_block(result.findings),
        next_steps(result, svg_file),
    )


def _a_score(shown: Against) -> str:
    return "a score" if shown.of == "score" else f"a mark for {shown.of}"


def _basis(shown: Against) -> str:
    of = {"%": " of all the flour" if shown.what != "bake loss" else " of the dough", "": ""}.get(shown.unit, "")
    unit = {"%": "percent", "min": "minutes", "g": "grams"}.get(shown.unit, shown.unit)
    said = f"{shown.what.capitalize()} is in {unit}{of}, " if unit else f"{shown.what.capitalize()} is "
    known = {point.source for point in shown.points}
    if known == {_SURE}:
        return f"{said}as recorded in the bake, not as planned."
    return f"{said}as it went in; where only the plan is known, that is said."


def amount(shown: Against, value: Decimal) -> str:
    """A value of what scores are set against, with its unit."""
    if shown.unit == "%":
        return pct(value)
    return f"{plain(rounded(value, 1))} {shown.unit}".strip()


def span(values: list[Decimal], most: int) -> tuple[Decimal, ...]:
    """The ticks of an axis over these values, about so many."""
    return ticks(min(values), max(values), most)


def marks(values: list[Decimal], most: int) -> tuple[Decimal, ...]:
    """Along a scale of marks, in quarters and halves as bakers give them."""
    return ticks(min(values), max(values), most, QUARTERS)


def _picture(shown: Against) -> str:
    along = span([point.value for point in shown.points], 6)
    up = marks([point.score for point in shown.points], _ROWS)
    step = up[1] - up[0]
    levels = {point.codes: rounded(CONTEXT.divide(point.score - up[0], step), 0) for point in shown.points}
    lines = [
        (score(level), [(point.value, point.codes) for point in shown.points if levels[point.codes] == place])
        for place, level in reversed(list(enumerate(up)))
    ]
    unit = f" ({shown.unit})" if shown.unit else ""
    head = wrap(f"{shown.of.capitalize()} upward, {shown.what}{unit} to the right; a code is a dough")
    return f"{head}\n{picture(lines, [(tick, plain(tick)) for tick in along])}"


def _table(result: History, shown: Against) -> str:
    if len(shown.points) > _LISTED:
        return ""
    sure = all(point.source == _SURE for point in shown.points)
    lines = [
        (
            f"{point.codes}, {short_date(point.trials[0].bake_date)}, {revision_words(result, point.trials[0])}",
            amount(shown, point.value),
            score(point.score),
            "" if sure else point.source,
        )
        for point in shown.points
    ]
    return rows(lines, "<>><", heading=("dough", shown.what, shown.of, ""))


def revision_words(result: History, trial: Trial) -> str:
    """A revision as the screen names it."""
    spoken = {str(row.revision): row.spoken for row in result.rows}
    return spoken.get(trial.revision, trial.revision)


def left_out_block(result: History, shown: Against) -> str:
    """The bakes without a point, and why."""
    many = together(shown.left_out, MANY)
    lines = [
        wrap(f"{trial.code}, {_day(trial)}{revision_words(result, trial)}: {why}", 2, hanging=2)
        for trial, why in shown.left_out
        if why not in many
    ]
    return "\n".join(("Left out", *lines, *map(together_words, many.items()))) if shown.left_out else ""


def _day(trial: Trial) -> str:
    return f"{short_date(trial.bake_date)}, " if trial.bake_date else ""


def line_words(shown: Against) -> str:
    """The slope with its range, or why there is none; and that a line is not a cause."""
    line, points = shown.line, shown.points
    if len(points) < 2:
        return "One dough alone shows no direction. A second, with another figure, would begin to."
    if line is None:
        return f"All doughs have the same figure for {shown.what}, so nothing can be said of what it does."
    step = _step(points)
    per = _per(shown, step)
    found = line.slope_range()
    going = f"From these {count(len(points), 'dough')}, {_the(shown)} goes {_moved(line.slope * step)} for each {per}"
    if found is None:
        why = "two doughs always lie on a line" if not line.freedom else "they lie on one line, which is chance"
        return f"{going}. How sure that is cannot be told: {why}. {_CAUSE}"
    low, high = (end * step for end in found)
    sure = f"the true figure may be anything from {_moved(low)} to {_moved(high)}"
    told = "It cannot be told yet whether it rises or falls." if low <= 0 <= high else "So a direction shows."
    return f"{going}; {sure} (such ranges are right nine times in ten). {told} {_CAUSE}"


def _the(shown: Against) -> str:
    return "the score" if shown.of == "score" else shown.of


_CAUSE = (
    "Whatever else differed between these doughs is in it too, and a straight line does not show where more"
    " becomes too much."
)


def _moved(change: Decimal) -> str:
    small = rounded(change, 2)
    return f"{'up' if small > 0 else 'down'} {abs(small):f}" if small else "neither up nor down"


def _step(points: tuple[Point, ...]) -> Decimal:
    """A step that a baker would take: 1, 10 or 0.1 of the unit, not above the span of the doughs."""
    span = max(p.value for p in points) - min(p.value for p in points)
    return Decimal(1).scaleb(span.adjusted())


def _per(shown: Against, step: Decimal) -> str:
    words = {"%": "points more", "°C": "°C warmer", "min": "min longer", "g": "g more"}.get(shown.unit, "more")
    if step == 1:
        return words.replace("points", "point").replace("min ", "minute ")
    return f"{plain(step)} {words}"


def _sources(shown: Against) -> str:
    loose = [point.codes for point in shown.points if "not confirmed" in point.source]
    if not loose:
        return ""
    return "\n" + wrap(f"Of {some_words(loose)} only the plan is known; what was weighed may have been another.", 2)


def kept_words(svg_file: str) -> str:
    """Where the picture is, if one was kept."""
    return wrap(f"The picture is in {svg_file}, to print or to show; it opens in any browser.") if svg_file else ""


def next_steps(result: History, svg_file: str) -> str:
    """What to type next."""
    keep = [] if svg_file else [Next(_again(result), "the picture in a file")]
    return next_block((*keep, Next(f"ovenleaf history {result.name}", "what each revision changed")))


def _again(result: History) -> str:
    if result.against is None:
        return f"ovenleaf history {result.name} --chart --svg scores.svg"
    what = result.against.what
    said = f'"{what}"' if " " in what else what
    return f"ovenleaf history {result.name} --against {said} --svg {what.split()[0]}.svg"


def chart_screen(result: History, svg_file: str = "", of: str = "score") -> str:
    """The doughs of each revision along a scale of scores."""
    shown = result.chart or ()
    points = [point for _, doughs in shown for point in doughs]
    head = f"{result.title}: {of} by revision, {count(len(points), 'dough')}."
    if not points:
        return blocks(
            wrap(head), "No dough is scored yet.", findings_block(result.findings), next_steps(result, svg_file)
        )
    along = marks([point.score for point in points], 6)
    lines = [(name, [(p.score, p.codes) for p in doughs]) for name, doughs in shown]
    drawn = picture(lines, [(tick, score(tick)) for tick in along])
    told = [(name, doughs_words(doughs)) for name, doughs in shown]
    return blocks(
        f"{wrap(head)}\n{wrap(UNITS)}",
        rows(told, "<<") if is_spoken() else f"{of.capitalize()} from left to right; a code is a dough\n{drawn}",
        kept_words(svg_file),
        findings_block(result.findings),
        next_steps(result, svg_file),
    )


def doughs_words(doughs: tuple[Point, ...]) -> str:
    """The doughs of one revision by score, spoken."""
    told = sorted(doughs, key=lambda point: point.score)
    return ", ".join(f"{point.codes} {score(point.score)}" for point in told) or "no dough that is scored"
