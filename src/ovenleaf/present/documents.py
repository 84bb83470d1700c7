"""Answers as JSON for scripts: one document a command, with its format and number in the first key."""

from __future__ import annotations

import json
from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain.numbers import portion, rounded
from ovenleaf.evidence.ranking import outcome
from ovenleaf.present.formula import batch_flour
from ovenleaf.present.refusals import finding_as_json

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ovenleaf.domain.ingredients import Ingredient
    from ovenleaf.domain.percent import Share
    from ovenleaf.domain.sheet import Sheet
    from ovenleaf.domain.trial import Marks, Trial
    from ovenleaf.evidence.ranking import Outcome
    from ovenleaf.findings import Finding
    from ovenleaf.results import (
        CheckReport,
        Diff,
        History,
        Listing,
        Now,
        RankedTrials,
        ShownTrial,
        Side,
        Weighed,
        WeighUp,
    )

Document = dict[str, object]
PLACES = 6


def text(document: Document) -> str:
    """The document as JSON, keys in their order."""
    return json.dumps(document, ensure_ascii=False, indent=2, default=_number)


def _number(value: object) -> int | float:
    """A Decimal as a JSON number, to a millionth: finer than anything a scale or a taster can tell."""
    assert isinstance(value, Decimal), type(value)
    short = rounded(value, PLACES).normalize()
    return int(short) if short == short.to_integral_value() else float(short)


def _findings(findings: Sequence[Finding]) -> list[dict[str, object]]:
    return [finding_as_json(finding) for finding in findings]


def _outcome(doughs: int, of: Outcome) -> Document:
    return {"doughs": doughs, "crumb": of.crumb, "crust": of.crust, "score": of.score}


def formula(sheet: Sheet) -> Document:
    """`show FORMULA`: the whole, the parts, the final dough (worked out, weights only), the totals."""
    flour = batch_flour(sheet)
    return {
        "format": "ovenleaf.formula/1",
        "formula": sheet.formula.name,
        "title": sheet.formula.label,
        "revision": None if sheet.revision is None else str(sheet.revision),
        "draft": sheet.draft,
        "by": list(sheet.formula.by),
        "saved": sheet.formula.saved or None,
        "why": sheet.formula.why or None,
        "makes": sheet.formula.makes or None,
        "flour_g": flour,
        "ingredients": [_share(share, flour) for share in sheet.worked.whole],
        "preferments": [
            {
                "name": part.name,
                "leavened": part.leavened,
                "flour_pct": part.flour,
                "into": part.into or None,
                "grams": portion(part.pct, flour),
                "lines": [
                    {"item": line.item, "own_pct": line.own, "pct": line.pct, "grams": portion(line.pct, flour)}
                    for line in part.lines
                ],
            }
            for part in sheet.worked.parts
        ],
        "final_dough": [{"item": s.item, "grams": portion(s.pct, flour)} for s in sheet.worked.final],
        "totals": [{"name": name, "pct": pct} for name, pct in _totals(sheet)],
        "process": [
            {"step": step.name, "text": step.line.typed, "words": step.line.words} for step in sheet.formula.process
        ],
        "allergens": list(sheet.allergens),
    }


def _share(share: Share, flour: Decimal) -> Document:
    return {"item": share.item, "pct": share.pct, "grams": portion(share.pct, flour), "note": share.note or None}


def _totals(sheet: Sheet) -> list[tuple[str, Decimal]]:
    t = sheet.totals
    return [
        ("water as poured", t.water_poured),
        ("all water", t.all_water),
        ("salt", t.salt),
        ("fat", t.fat),
        ("added sugar", t.added_sugar),
        ("milk sugar", t.milk_sugar),
        ("yeast as instant", t.yeast_as_instant),
        ("prefermented flour", t.prefermented_flour),
        ("dough yield", t.dough_yield),
        ("total", t.total),
    ]


def trial(result: ShownTrial) -> Document:
    """`show TRIAL`: what was planned, what was done, every taster's marks."""
    view, page = result.view, result.view.trial
    of = outcome(page.scores, result.book.weights)
    return {
        "format": "ovenleaf.trial/1",
        **_trial(page),
        "batch": page.batch or None,
        "rows": [
            {"name": r.name, "planned": r.before or None, "actual": r.after or None, "gap": r.words or None}
            for r in view.rows
        ],
        "measured": dict(page.measured),
        "bake_loss_pct": view.loss,
        "scale": str(page.scale) if page.scale else None,
        "scores": [_marks(marks) for marks in page.scores],
        "crumb": of.crumb,
        "crust": of.crust,
        "score": of.score,
        "missing": list(view.missing),
        "log": list(page.log),
        "corrections": [
            {"field": m.field, "was": m.was, "now": m.now, "by": m.by, "at": m.at, "why": m.why}
            for m in page.corrections
        ],
        "left_out": page.left_out or None,
    }


def _trial(page: Trial) -> Document:
    return {
        "trial": page.name,
        "code": page.code,
        "formula": page.formula,
        "revision": page.revision,
        "state": page.state.value,
        "bake_date": page.bake_date or None,
        "baker": page.baker or None,
    }


def _marks(marks: Marks) -> Document:
    return {
        "taster": marks.taster,
        "crumb": marks.crumb,
        "crust": marks.crust,
        "flavour": marks.flavour,
        "bake_again": marks.bake_again,
        "faults": list(marks.faults),
        "hours_after": marks.hours_after,
        "blind": marks.blind,
        "note": marks.note or None,
    }


def ingredient(one: Ingredient) -> Document:
    """`show INGREDIENT`: g per 100 g, household weights in g."""
    figures = ("flour", "water", "fat", "protein", "carbohydrate", "sugars", "milk_sugar", "salt", "ash")
    household = ("cup", "tablespoon", "teaspoon", "packet", "piece")
    return {
        "format": "ovenleaf.ingredient/1",
        "ingredient": one.name,
        "kind": one.kind.value,
        "also": list(one.also),
        "per_100_g": {name: getattr(one, name) for name in figures},
        "density_g_per_ml": one.density,
        "household_g": {name: value for name in household if (value := getattr(one, name)) is not None},
        "as_instant_yeast": one.instant,
        "made_of": dict(one.made_of),
        "reaches_dough": one.reaches_dough,
        "allergens": list(one.allergens),
        "source": one.source or None,
        "note": one.note or None,
    }


def listing(result: Listing) -> Document:
    """`list`: formulas, and the last trials."""
    return {
        "format": "ovenleaf.list/1",
        "title": result.book.title,
        "formulas": [
            {
                "formula": one.name,
                "title": one.title,
                "revision": None if one.revision is None else str(one.revision),
                "revisions": one.revisions,
                "trials": one.trials,
                "draft": one.draft,
                "keeper": one.keeper or None,
                "away": one.away,
                "broken": one.broken,
            }
            for one in result.formulas
        ],
        "trials": [{**_trial(page), "score": of.score} for page, of in result.trials],
        "trial_count": result.trial_count,
        "findings": _findings(result.findings),
    }


def now(result: Now) -> Document:
    """Bare `ovenleaf`."""
    return {
        "format": "ovenleaf.now/1",
        "title": result.book.title,
        "now": result.now,
        "in_hand": [_trial(page) for page in result.in_hand],
        "drafts": list(result.drafts),
        "unsaved": list(result.unsaved),
        "last": None if result.last is None else _trial(result.last),
        "cut_off": result.cut_off or None,
        "findings": _findings(result.findings),
    }


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
                "mark": row.mark or None,
                "pin": row.pin,
                **_outcome(row.doughs, row.outcome),
            }
            for row in result.rows
        ],
        "findings": _findings(result.findings),
    }


def diff(result: Diff) -> Document:
    """`diff`. An item's `stage` is null for the whole formula; a part's own rows stand where its split moved."""
    found = result.diff
    return {
        "format": "ovenleaf.diff/1",
        "formula": result.after.sheet.formula.name,
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
        "outcome": {
            "from": _outcome(result.before.doughs, result.before.outcome),
            "to": _outcome(result.after.doughs, result.after.outcome),
        },
        "findings": _findings(result.findings),
    }


def _revision(side: Side) -> str | None:
    return None if side.sheet.revision is None else str(side.sheet.revision)


def rank(result: RankedTrials) -> Document:
    """`rank`. Blank is null, never zero; `chance_best` is not worked out yet."""
    document: Document = {
        "format": "ovenleaf.rank/1",
        "scale": str(result.book.scale),
        "weights": dict(result.weights),
        "rows": _revision_rows(result) if result.revisions is not None else _trial_rows(result),
        "left_out": [{"trial": page.name, "code": page.code, "why": why} for page, why in result.ranking.left_out],
        "findings": _findings(result.findings),
    }
    return document


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
            "low": row.low,
            "high": row.high,
            "lowest": row.low,
            "chance_best": None,
        }
        for row in (result.revisions or ())[: result.top]
    ]


def check(report: CheckReport) -> Document:
    """`check`."""
    return {
        "format": "ovenleaf.check/1",
        "formulas": report.formulas,
        "revisions": report.revisions,
        "trials": report.trials,
        "findings": _findings(report.findings),
    }


def weigh(result: Weighed) -> Document:
    """`weigh`: the first formula's figures at the top, and one entry for each formula."""
    ups = [_weigh_up(up) for up in result.ups]
    first = {key: value for key, value in ups[0].items() if key not in ("formula", "revision")}
    return {
        "format": "ovenleaf.weigh/1",
        "formula": ups[0]["formula"],
        "revision": ups[0]["revision"],
        **first,
        "formulas": ups,
        "flours": [{"item": item, "grams": grams} for item, grams in result.flours],
    }


def _weigh_up(up: WeighUp) -> Document:
    return {
        "formula": up.sheet.formula.name,
        "revision": None if up.sheet.revision is None else str(up.sheet.revision),
        "flour_g": up.batch.flour,
        "dough_g": up.batch.dough,
        "pieces": up.batch.pieces,
        "each_g": up.batch.each,
        "bench_loss_pct": up.bench.pct,
        "bake_loss_pct": up.bake.pct,
        "bowls": [
            {
                "name": bowl.name,
                "lines": [{"item": line.item, "pct": line.pct, "grams": line.grams} for line in bowl.lines],
            }
            for bowl in up.bowls
        ],
        "water_temperature_c": up.water.answer.water if up.water else None,
        "ice_g": up.water.ice_g if up.water else None,
        "schedule": [{"step": s.name, "begins": s.begins.isoformat(), "ends": s.ends.isoformat()} for s in up.slots],
    }
