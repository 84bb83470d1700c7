"""Findings as text: under a reading command's answer, and as the whole answer of `check`."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.errors import Next
from ovenleaf.findings import Severity
from ovenleaf.present.refusals import finding_text
from ovenleaf.present.screen import blocks, count, join_words, next_block, wrap

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ovenleaf.findings import Finding
    from ovenleaf.results import CheckReport

MOST = 5


def findings_block(findings: Sequence[Finding]) -> str:
    """Pages that could not be read while others were; the first few, and how to see all."""
    if not findings:
        return ""
    pages = len({finding.path for finding in findings})
    head = f"{count(pages, 'page').capitalize()} could not be read and {'is' if pages == 1 else 'are'} left out."
    told = [finding_text(finding) for finding in findings[:MOST]]
    more = wrap("ovenleaf check shows them all.", 2) if len(findings) > MOST else ""
    return "\n".join(filter(None, (head, *told, more)))


def check_screen(report: CheckReport) -> str:
    """All that `check` found, errors first, and what it looked at."""
    looked = join_words(
        [count(report.formulas, "formula"), count(report.revisions, "revision"), count(report.trials, "trial")]
    )
    found = {severity: [f for f in report.findings if f.severity is severity] for severity in Severity}
    if not report.findings:
        return blocks(_repaired(report), wrap(f"The book is in order: {looked} looked over, nothing found."))
    summary = join_words([count(len(some), *_NOUNS[severity]) for severity, some in found.items() if some])
    return blocks(
        _repaired(report),
        wrap(f"Looked over {looked}: {summary}."),
        *(_group(severity, some) for severity, some in found.items()),
        next_block((Next("ovenleaf check", "again, when they are put right"),)) if report.trouble else "",
    )


def _repaired(report: CheckReport) -> str:
    """What was mended before the book was looked over, and what could not be."""
    if not report.repaired:
        return ""
    mended = ("Mended", *(wrap(told, 2, hanging=2) for told in report.mended)) if report.mended else ()
    left = ("Not mended", *(wrap(told, 2, hanging=2) for told in report.not_mended)) if report.not_mended else ()
    nothing = "" if mended or left else wrap("Nothing had to be mended.")
    return blocks(report.ahead and wrap(report.ahead), nothing, "\n".join(mended), "\n".join(left))


_NOUNS = {
    Severity.ERROR: ("mistake", "mistakes"),
    Severity.WARNING: ("thing to look at", "things to look at"),
    Severity.NOTE: ("note", "notes"),
}
_HEADINGS = {
    Severity.ERROR: "Mistakes",
    Severity.WARNING: "To look at",
    Severity.NOTE: "Notes",
}


def _group(severity: Severity, findings: Sequence[Finding]) -> str:
    if not findings:
        return ""
    return "\n\n".join((_HEADINGS[severity], *map(finding_text, findings)))
