"""Scores against something weighed or measured, and scores by revision, as pictures to keep."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain.figures import score
from ovenleaf.domain.numbers import CONTEXT, plain
from ovenleaf.present.against import amount, doughs_words, line_words, marks, revision_words, span
from ovenleaf.present.screen import count
from ovenleaf.present.svg import Plot, Spot, svg

if TYPE_CHECKING:
    from ovenleaf.evidence.against import Against, Point
    from ovenleaf.results import History

_SHAPES = 8


def against_svg(result: History) -> str:
    """The same as an SVG file."""
    shown = result.against
    assert shown is not None
    points = shown.points
    across = span([point.value for point in points], 8) if points else (Decimal(0), Decimal(1))
    up = marks([point.score for point in points], 8) if points else (Decimal(0), Decimal(1))
    unit = f", {shown.unit}" if shown.unit else ""
    told = [
        f"{p.codes}, {revision_words(result, p.trials[0])}: {amount(shown, p.value)}, {shown.of} {score(p.score)}"
        for p in points
    ]
    return svg(
        Plot(
            title=f"{result.title}: {shown.of} against {shown.what}",
            description=". ".join((f"{count(len(points), 'dough').capitalize()}", *told, line_words(shown))),
            across_name=f"{shown.what}{unit}",
            up_name=shown.of,
            across=tuple((tick, plain(tick)) for tick in across),
            up=tuple((tick, score(tick)) for tick in up),
            spots=tuple(_spot(result, point, point.value) for point in points),
            kinds=_kinds(result),
            line=_drawn(shown, across, up),
        )
    )


def _drawn(
    shown: Against, across: tuple[Decimal, ...], up: tuple[Decimal, ...]
) -> tuple[tuple[Decimal, Decimal], tuple[Decimal, Decimal]] | None:
    """The line as far as there are doughs, and as far as the picture reaches."""
    line = shown.line
    if line is None:
        return None
    ends = []
    for x in (shown.points[0].value, shown.points[-1].value):
        y = line.start + line.slope * x
        held = min(max(y, up[0]), up[-1])
        ends.append((x if held == y else CONTEXT.divide(held - line.start, line.slope), held))
    return ends[0], ends[1]


def _kinds(result: History) -> tuple[str, ...]:
    names = tuple(row.spoken for row in result.rows)
    return names if 1 < len(names) <= _SHAPES else ()


def _spot(result: History, point: Point, x: Decimal) -> Spot:
    names = [str(row.revision) for row in result.rows]
    revision = point.trials[0].revision
    kind = names.index(revision) if _kinds(result) and revision in names else 0
    return Spot(x=x, y=point.score, name=point.codes, kind=kind)


def chart_svg(result: History, of: str = "score") -> str:
    """The same as an SVG file, revisions from left to right."""
    shown = result.chart or ()
    points = [point for _, doughs in shown for point in doughs]
    up = marks([point.score for point in points], 8) if points else (Decimal(0), Decimal(1))
    across = [(Decimal(0), "")]
    across += [(Decimal(place), str(row.revision.number)) for place, row in enumerate(result.rows, start=1)]
    told = [f"{name}: {doughs_words(doughs)}" for name, doughs in shown]
    return svg(
        Plot(
            title=f"{result.title}: {of} by revision",
            description=". ".join((count(len(points), "dough").capitalize(), *told)),
            across_name="revision",
            up_name=of,
            across=tuple(across),
            up=tuple((tick, score(tick)) for tick in up),
            spots=tuple(_spot(result, point, point.value) for point in points),
        )
    )
