"""What to bake next as a document."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.evidence.next import question
from ovenleaf.present.documents.common import findings_of

if TYPE_CHECKING:
    from ovenleaf.evidence.next import Suggestion
    from ovenleaf.present.documents.common import Document
    from ovenleaf.results import NextBakes


def next_bakes(result: NextBakes) -> Document:
    """`next`."""
    standings = result.standings
    return {
        "format": "ovenleaf.next/1",
        "formula": result.name,
        "scatter": standings.reckoned if standings else None,
        "repeats": standings.scatter.repeats if standings else 0,
        "suggestions": [
            {"number": place, **_suggestion(one), "question": question(one, result.spoken), "as_in": alike or None}
            for place, (one, alike) in enumerate(zip(result.suggestions, result.alike, strict=True), start=1)
        ],
        "planned": [
            {"code": trial.code, "revision": trial.revision, "question": trial.question or None}
            for trial in result.planned
        ],
        "findings": findings_of(result.findings),
    }


def _suggestion(one: Suggestion) -> Document:
    return {
        "why": one.kind.value,
        "revision": one.revision,
        "beside": one.beside or None,
        "plan": dict(one.plan),
        "doughs": one.doughs,
        "known_now": one.now,
        "known_then": one.then,
        "things": list(one.things),
        "rise": one.rise,
    }
