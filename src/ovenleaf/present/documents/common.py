"""Answers as JSON for scripts: one document a command, with its format and number in the first key.

Each kind has a schema of its own in `schemas/answers`. Blank is null, never zero.
"""

from __future__ import annotations

import json
from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain.numbers import rounded
from ovenleaf.present.refusals import finding_as_json

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ovenleaf.domain.formula import OpenQuestion
    from ovenleaf.evidence.gaps import Gap
    from ovenleaf.evidence.ranking import Outcome
    from ovenleaf.evidence.scatter import Scatter
    from ovenleaf.findings import Finding

Document = dict[str, object]
PLACES = 6


def text(document: Document) -> str:
    """The document as JSON, keys in their order."""
    told = json.dumps(document, ensure_ascii=False, indent=2, default=_number)
    if all(map(str.isprintable, told.split("\n"))):
        return told
    # Signs that turn a line about, or that a terminal obeys, are spelled: a reader of JSON gets them as they stood.
    return "".join(sign if sign.isprintable() or sign == "\n" else json.dumps(sign)[1:-1] for sign in told)


def _number(value: object) -> int | float:
    """A Decimal as a JSON number, to a millionth: finer than anything a scale or a taster can tell."""
    assert isinstance(value, Decimal), type(value)
    short = rounded(value, PLACES).normalize()
    return int(short) if short == short.to_integral_value() else float(short)


def findings_of(findings: Sequence[Finding]) -> list[dict[str, object]]:
    """Findings as data."""
    return [finding_as_json(finding) for finding in findings]


def open_questions(asked: Sequence[OpenQuestion]) -> list[Document]:
    """What two bakers changed in two ways, each with what was there and who proposes what."""
    return [
        {
            "item": question.item,
            "was": question.was,
            "proposals": [{"by": by, "value": value} for by, value in question.proposals],
        }
        for question in asked
    ]


def outcome_of(doughs: int, of: Outcome) -> Document:
    """How doughs came out, as data."""
    return {"doughs": doughs, "crumb": of.crumb, "crust": of.crust, "score": of.score}


def scatter_of(scatter: Scatter, reckoned: Decimal) -> Document:
    """How far doughs of one revision come out apart, and how that is known."""
    return {
        "deviation": scatter.deviation,
        "repeats": scatter.repeats,
        "formula": scatter.formula or None,
        "reckoned": reckoned,
    }


def gap_of(gap: Gap) -> Document:
    """Two set beside each other, the likelier one above."""
    return {
        "above": gap.above,
        "below": gap.below,
        "doughs_above": gap.doughs[0],
        "doughs_below": gap.doughs[1],
        "apart": gap.apart,
        "low": gap.low,
        "high": gap.high,
        "chance": Decimal(str(round(gap.verdict.chance, 4))),
        "call": str(gap.verdict.call),
        "more_doughs": gap.more,
    }
