"""Words for what was refused and for what is wrong in a page. Knows facts only; decides no exit code."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.errors import PageRefused
from ovenleaf.findings import Severity
from ovenleaf.present.screen import as_typed, blocks, clean, count, next_block, wrap

if TYPE_CHECKING:
    from ovenleaf.errors import Place, Refusal
    from ovenleaf.findings import Finding

FORMAT = "ovenleaf.refusal/1"
LONGEST = 200  # letters of a line that a refusal shows


def text(refusal: Refusal) -> str:
    """The refusal as a screen: what, where, in more detail, what to type next."""
    findings = _findings(refusal)
    if len(findings) == 1 and not refusal.what.endswith("."):
        return _one_fault(refusal, findings[0])
    return blocks(
        wrap(_headline(refusal, len(findings))),
        "" if refusal.where is None else _where(refusal.where),
        *(finding_text(finding) for finding in findings),
        "\n".join(as_typed(line) for line in refusal.detail),
        next_block(refusal.next),
    )


def _headline(refusal: Refusal, findings: int) -> str:
    if findings < 2 or refusal.what.endswith((".", "?")):
        return refusal.what
    return f"{refusal.what}: {count(findings, 'thing')} to put right."


def _one_fault(refusal: Refusal, finding: Finding) -> str:
    """A page with one fault: the fault in the first sentence, then where, then how to mend it."""
    message = f"{finding.message[:1].lower()}{finding.message[1:]}"
    again = "" if finding.severity is Severity.NOTE else " Put it right and try again."
    return blocks(
        wrap(f"{refusal.what}: {message}"),
        as_typed(f"{finding.path}{_in_line(finding.line, finding.text)}", 2) if finding.path else "",
        _mending(finding.fix),
        "" if refusal.next else f"Nothing was changed.{again}",
        next_block(refusal.next),
    )


def _mending(fix: str) -> str:
    """How to mend it; more than one line are a list, and each is set in where it goes on. What stands below a line
    that ends with a colon is what to write, and is set in whole."""
    lines = fix.splitlines()
    if lines[:1] and lines[0].endswith(":"):
        return "\n".join((wrap(lines[0]), *(as_typed(line.strip(), 2) for line in lines[1:])))
    return "\n".join(wrap(line, hanging=2 if len(lines) > 1 else 0) for line in lines)


def finding_text(finding: Finding) -> str:
    """One finding: where and what in a sentence, the line as typed, how to mend it."""
    line = "" if finding.line is None else f", line {finding.line}"
    place = f"In {finding.path}{line}: " if finding.path else ""
    parts = (
        wrap(f"{place}{finding.message}", 2),
        as_typed(finding.text.strip(), 4) if finding.text.strip() else "",
        *(wrap(line, 4, hanging=2) for line in finding.fix.splitlines()),
    )
    return "\n".join(part for part in parts if part)


def as_json(refusal: Refusal) -> dict[str, object]:
    """The refusal as data for scripts; `where` is None where it has no place."""
    where = refusal.where
    return {
        "format": FORMAT,
        "what": refusal.what,
        "where": None if where is None else {"path": where.path, "line": where.line, "text": where.text},
        "detail": list(refusal.detail),
        "findings": [finding_as_json(finding) for finding in _findings(refusal)],
        "next": [{"command": one.command, "words": one.words} for one in refusal.next],
    }


def finding_as_json(finding: Finding) -> dict[str, object]:
    """A finding as data for scripts, with its code."""
    return {
        "code": finding.code,
        "severity": str(finding.severity),
        "path": finding.path,
        "line": finding.line,
        "message": finding.message,
        "fix": finding.fix,
        "text": finding.text,
    }


def _where(place: Place) -> str:
    return as_typed(f"  {clean(place.path)}{_in_line(place.line, place.text)}")


def _in_line(line: int | None, text: str) -> str:
    """`, line 14: water: 65%`; of a long line its beginning."""
    shown = text.strip()
    shown = f"{shown[:LONGEST]} ..." if len(shown) > LONGEST + 4 else shown
    return f"{'' if line is None else f', line {line}'}{f': {shown}' if shown else ''}"


def _findings(refusal: Refusal) -> tuple[Finding, ...]:
    return refusal.findings if isinstance(refusal, PageRefused) else ()
