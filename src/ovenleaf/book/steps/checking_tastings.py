"""What `check` looks at in tastings: their form, that the breads are bakes of this book, that the key can be read."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book.names import code_on, trial_pages
from ovenleaf.book.steps.checking import check_page_form
from ovenleaf.book.steps.opening import working_page
from ovenleaf.book.steps.tastings import CannotOpen, key_of, page_of, tasting_pages
from ovenleaf.findings import Finding, Severity
from ovenleaf.records.codec.tastings import read_tasting
from ovenleaf.records.nodes import line_of

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from ovenleaf.domain.tasting import Tasting
    from ovenleaf.records.nodes import Page


def check_tastings(root: Path) -> tuple[Finding, ...]:
    """Every tasting of the book."""
    pages = tasting_pages(root)
    codes = frozenset(code_on(root, page) for page in trial_pages(root)) if pages else frozenset()
    findings: list[Finding] = []
    for path in pages:
        form = check_page_form(root, path, "tasting")
        findings += form
        if not form:
            page = working_page(root, path)
            findings += _references(page, read_tasting(page), codes)
    return tuple(findings)


def _references(page: Page, tasting: Tasting, codes: frozenset[str]) -> Iterator[Finding]:
    if page_of(tasting.name) != page.path:
        yield _finding(page, "tasting", "misnamed", f"This page says it is {tasting.name}, but lies elsewhere.")
    for bread in tasting.breads:
        if bread not in codes:
            yield _finding(page, "breads", "unknown-trial", f"There is no trial {bread} in this book.")
    try:
        key_of(tasting)
    except CannotOpen as refusal:
        yield _finding(page, "sealed", "unreadable-key", refusal.what, " ".join(refusal.detail))


def _finding(page: Page, key: str, code: str, message: str, fix: str = "") -> Finding:
    return Finding(
        code=code, severity=Severity.ERROR, path=page.path, line=line_of(page, (key,)), message=message, fix=fix
    )
