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

    from ovenleaf.evidence.ranking import Outcome
    from ovenleaf.findings import Finding

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


def findings_of(findings: Sequence[Finding]) -> list[dict[str, object]]:
    """Findings as data."""
    return [finding_as_json(finding) for finding in findings]


def outcome_of(doughs: int, of: Outcome) -> Document:
    """How doughs came out, as data."""
    return {"doughs": doughs, "crumb": of.crumb, "crust": of.crust, "score": of.score}
