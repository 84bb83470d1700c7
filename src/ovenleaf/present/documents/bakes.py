"""A trial as a document, whole and in short."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain.late_marks import told_late
from ovenleaf.evidence.ranking import outcome
from ovenleaf.present.documents.common import findings_of

if TYPE_CHECKING:
    from datetime import datetime

    from ovenleaf.domain.trial import Marks, Trial
    from ovenleaf.present.documents.common import Document
    from ovenleaf.results import Found, Gaps, ShownTrial


def trial(result: ShownTrial) -> Document:
    """`show TRIAL`: what was planned, what was done, every taster's marks."""
    view, page = result.view, result.view.trial
    of = outcome(page.scores, result.book.weights)
    return {
        "format": "ovenleaf.trial/1",
        **trial_in_short(page),
        "started": page.started or None,
        "entered": page.entered or None,
        "shares_dough_with": page.shares_dough_with or None,
        "question": page.question or None,
        "batch": page.batch or None,
        "as_planned": page.as_planned or None,
        "rows": [
            {"name": r.name, "planned": r.before or None, "actual": r.after, "gap": r.words or None} for r in view.rows
        ],
        "plan": dict(page.plan),
        "measured": dict(page.measured),
        "bake_loss_pct": view.loss,
        "bake_loss_of": view.loss_of or None,
        "scale": str(page.scale) if page.scale else None,
        "scores": [_marks(marks, told_late(page)) for marks in page.scores],
        "crumb": of.crumb,
        "crust": of.crust,
        "score": of.score,
        "missing": list(view.missing),
        "missing_to_compare": list(view.missing_to_compare),
        "photos": list(page.photos),
        "log": list(page.log),
        "corrections": [
            {"field": m.field, "was": m.was, "now": m.now, "by": m.by, "at": m.at, "why": m.why}
            for m in page.corrections
        ],
        "left_out": page.left_out or None,
    }


def gaps(result: Gaps) -> Document:
    """`list --gaps`: the trials that lack something, those that lack least first."""
    return {
        "format": "ovenleaf.gaps/1",
        "looked_at": result.looked_at,
        "repeatable": result.repeatable,
        "comparable": result.comparable,
        "trials": [
            {
                **trial_in_short(view.trial),
                "missing": list(view.missing),
                "missing_to_compare": list(view.missing_to_compare),
            }
            for view in result.rows
        ],
        "findings": findings_of(result.findings),
    }


def found(result: Found) -> Document:
    """`find`: the bakes that fit, newest first, and what they have in common."""
    return {
        "format": "ovenleaf.find/1",
        "asked": [{"said": one.said, "trials": number} for one, number in zip(result.asked, result.each, strict=True)],
        "looked_at": result.looked_at,
        "trials": [{**trial_in_short(fit.view.trial), "why": [one or None for one in fit.why]} for fit in result.fits],
        "common": [{"name": name, "span": span} for name, span in result.common],
        "findings": findings_of(result.findings),
    }


def trial_in_short(page: Trial) -> Document:
    """A trial by its names, its state and its day."""
    return {
        "trial": page.name,
        "code": page.code,
        "formula": page.formula,
        "revision": page.revision,
        "state": page.state.value,
        "bake_date": page.bake_date or None,
        "baker": page.baker or None,
    }


def _marks(marks: Marks, late: dict[tuple[str, str], datetime]) -> Document:
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
        "added": {name: at.isoformat() for (taster, name), at in late.items() if taster == marks.taster},
    }
