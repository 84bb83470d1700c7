"""Comparisons, rankings and histories as documents."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.present.documents.common import findings_of, gap_of, open_questions, outcome_of, scatter_of

if TYPE_CHECKING:
    from ovenleaf.compare.separating import Pair
    from ovenleaf.evidence.against import Against, Point
    from ovenleaf.evidence.standing import Standings
    from ovenleaf.present.documents.common import Document
    from ovenleaf.results import Diff, History, RankedTrials, Side


def history(result: History) -> Document:
    """`history`."""
    return {
        "format": "ovenleaf.history/1",
        "formula": result.name,
        "draft": result.draft,
        "revisions": [
            {
                "revision": str(row.revision),
                "number": row.revision.number,
                "by": list(row.by),
                "saved": row.saved,
                "why": row.why or None,
                "made_from": list(row.made_from),
                "open": open_questions(row.open),
                "mark": row.mark or None,
                "pin": row.pin,
                **outcome_of(row.doughs, row.outcome),
            }
            for row in result.rows
        ],
        "against": None if result.against is None else _against(result.against),
        "chart": None
        if result.chart is None
        else [
            {"revision": str(row.revision), "bakes": [_place(point) for point in points]}
            for row, (_, points) in zip(result.rows, result.chart, strict=True)
        ],
        "findings": findings_of(result.findings),
    }


def _against(shown: Against) -> Document:
    """Scores against something weighed or measured; slope: marks for one unit, with a range right nine times in ten."""
    found = shown.line.slope_range() if shown.line else None
    low, high = found or (None, None)
    return {
        "what": shown.what,
        "unit": shown.unit or None,
        "of": shown.of,
        "doughs": [{**_place(point), "value": point.value, "source": point.source} for point in shown.points],
        "slope": shown.line.slope if shown.line else None,
        "slope_low": low,
        "slope_high": high,
        "left_out": [{"trial": trial.name, "code": trial.code, "why": why} for trial, why in shown.left_out],
    }


def _place(point: Point) -> Document:
    return {"codes": [trial.code for trial in point.trials], "score": point.score}


def diff(result: Diff) -> Document:
    """`diff`. An item's `stage` is null for the whole formula; a part's own rows stand where its split moved."""
    found = result.diff
    return {
        "format": "ovenleaf.diff/1",
        "formula": result.after.sheet.formula.name,
        "from_formula": result.before.sheet.formula.name,
        "from_trial": _bake(result.before),
        "to_trial": _bake(result.after),
        "from": _revision(result.before),
        "to": _revision(result.after),
        "ingredients": [
            {
                "item": row.item,
                "stage": row.stage,
                "from_pct": row.before,
                "to_pct": row.after,
                "change_points": row.change,
            }
            for row in found.items
        ],
        "totals": [
            {"name": row.name, "from_pct": row.before, "to_pct": row.after, "change_points": row.change}
            for row in found.totals
        ],
        "process": [
            {"step": row.step, "field": row.field or None, "from": row.before or None, "to": row.after or None}
            for row in found.process
        ],
        "beside": [
            {"about": row.step, "field": row.field or None, "from": row.before or None, "to": row.after or None}
            for row in found.said
        ],
        "changes": found.independent,
        "differing": list(found.differing),
        "bakes": [
            {"name": row.name, "from": row.before or None, "to": row.after or None, "gap": row.words or None}
            for row in result.bakes
        ],
        "things": list(result.things),
        "near": list(result.beside.near),
        "recorded_on_one_side": list(result.beside.one_sided),
        "separating": [_pair(pair) for pair in result.pairs],
        "outcome": {
            "from": outcome_of(result.before.doughs, result.before.outcome),
            "to": outcome_of(result.after.doughs, result.after.outcome),
            "gaps": [{"what": what, **gap_of(gap)} for what, gap in result.gaps.gaps] if result.gaps else [],
            "scatter": scatter_of(result.gaps.scatter, result.gaps.reckoned) if result.gaps else None,
            "compared_by": str(result.gaps.tasters.how) if result.gaps else None,
        },
        "findings": findings_of(result.findings),
    }


def _pair(pair: Pair) -> Document:
    """Two bakes that differ in one thing alone."""
    before, after = pair.before, pair.after
    return {
        "thing": pair.thing,
        "from_trial": before.trial.code,
        "to_trial": after.trial.code,
        "from_value": pair.values[0] or None,
        "to_value": pair.values[1] or None,
        "from_score": before.score,
        "to_score": after.score,
        "recorded_of_one_only": pair.unsaid,
    }


def _bake(side: Side) -> str | None:
    return side.last_bake.code if side.one_bake and side.last_bake else None


def _revision(side: Side) -> str | None:
    return None if side.sheet.revision is None else str(side.sheet.revision)


def rank(result: RankedTrials) -> Document:
    """`rank`. Blank is null, never zero."""
    document: Document = {
        "format": "ovenleaf.rank/1",
        "by": "trial" if result.revisions is None else "revision",
        "scale": str(result.scale),
        "converted": result.converted,
        "weights": dict(result.weights),
        "rows": _revision_rows(result) if result.revisions is not None else _trial_rows(result),
        "basis": [_basis(found) for found in result.standings],
        "left_out": [{"trial": page.name, "code": page.code, "why": why} for page, why in result.ranking.left_out],
        "findings": findings_of(result.findings),
    }
    return document


def _basis(found: Standings) -> Document:
    """What the chances of one formula rest on, and what they are called."""
    return {
        "formula": found.formula,
        "scatter": scatter_of(found.scatter, found.reckoned),
        "tasters": list(found.tasters.tasters),
        "compared_by": str(found.tasters.how),
        "shared_tasters": list(found.tasters.shared),
        "leanings": [
            {"taster": lean.taster, "attribute": lean.attribute, "above": lean.above, "doughs": lean.doughs}
            for lean in found.tasters.leanings
        ],
        "blind": {"blind": found.blind.blind, "knew": found.blind.knew, "not_recorded": found.blind.unsaid},
        "leader": found.first.row.revision if found.first else None,
        "call": str(found.leader.call) if found.leader else None,
        "gap": None if found.gap is None else gap_of(found.gap),
    }


def _trial_rows(result: RankedTrials) -> list[Document]:
    return [
        {
            "place": row.place,
            "trial": row.trial.name,
            "code": row.trial.code,
            "formula": row.trial.formula,
            "revision": row.trial.revision,
            "score": row.outcome.score,
            "crumb": row.outcome.crumb,
            "crust": row.outcome.crust,
            "tasters": list(row.outcome.tasters),
        }
        for row in result.ranking.rows[: result.top]
    ]


def _revision_rows(result: RankedTrials) -> list[Document]:
    return [
        {
            "place": row.place,
            "formula": row.formula,
            "revision": row.revision,
            "doughs": row.doughs,
            "mean": row.mean,
            "compared_mean": result.standing(row).compared,
            "low": result.standing(row).low,
            "high": result.standing(row).high,
            "lowest": row.lowest,
            "highest": row.highest,
            "chance_best": result.standing(row).chance,
        }
        for row in (result.revisions or ())[: result.top]
    ]
