"""What is in a book, what goes on in it, and what is wrong in it, as documents."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.present.documents.bakes import trial_in_short
from ovenleaf.present.documents.common import findings_of

if TYPE_CHECKING:
    from ovenleaf.domain.held import Held
    from ovenleaf.present.documents.common import Document
    from ovenleaf.results import CheckReport, Listing, Now


def listing(result: Listing) -> Document:
    """`list`: formulas, and the last trials."""
    return {
        "format": "ovenleaf.list/1",
        "title": result.book.title,
        "in_hand": [_held(one) for one in result.in_hand],
        "planned": [{**trial_in_short(one), "question": one.question or None} for one in result.planned],
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
        "trials": [{**trial_in_short(page), "score": of.score} for page, of in result.trials],
        "trial_count": result.trial_count,
        "findings": findings_of(result.findings),
    }


def _held(one: Held) -> Document:
    """A bake in hand: what runs, and what comes next."""
    return {
        **trial_in_short(one.trial),
        "started": one.trial.started or None,
        "running": [
            {
                "step": begun.step.said,
                "since": begun.since.isoformat(timespec="seconds"),
                "look_at": begun.look.isoformat(timespec="seconds") if begun.look else None,
            }
            for begun in one.running
        ],
        "next": one.coming.said if one.coming else None,
    }


def now(result: Now) -> Document:
    """Bare `ovenleaf`."""
    return {
        "format": "ovenleaf.now/1",
        "title": result.book.title,
        "now": result.now,
        "in_hand": [_held(one) for one in result.in_hand],
        "planned": [{**trial_in_short(one), "question": one.question or None} for one in result.planned],
        "drafts": list(result.drafts),
        "unsaved": list(result.unsaved),
        "last": None if result.last is None else trial_in_short(result.last),
        "cut_off": result.cut_off or None,
        "open_questions": len(result.open),
        "not_shared": result.not_shared,
        "findings": findings_of(result.findings),
    }


def check(report: CheckReport) -> Document:
    """`check`."""
    return {
        "format": "ovenleaf.check/1",
        "formulas": report.formulas,
        "revisions": report.revisions,
        "trials": report.trials,
        "findings": findings_of(report.findings),
        "mended": list(report.mended),
        "not_mended": list(report.not_mended),
    }
