"""Open questions in a book: found on any page, told with who proposes what and the bakes behind it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book import layout
from ovenleaf.book.steps.bakes import read_trials
from ovenleaf.book.steps.shelf import Shelf, shelf_of
from ovenleaf.book.steps.sides import kind_of
from ovenleaf.book.steps.unsettled import settle_command
from ovenleaf.compare.news import Asked, Proposal
from ovenleaf.errors import Refusal
from ovenleaf.findings import Finding, Severity
from ovenleaf.records.codec.questions import code_on, open_questions
from ovenleaf.records.nodes import find, line_of
from ovenleaf.records.page_bytes import decode
from ovenleaf.records.yaml_text import read

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

    from ovenleaf.domain.formula import OpenQuestion
    from ovenleaf.domain.revision import RevisionName
    from ovenleaf.records.nodes import Page

_OPEN = b"\nopen:"


def all_asked(root: Path, paths: Iterable[str] | None = None) -> tuple[Asked, ...]:
    """Every question that is open on these pages, or in the whole book. Pages that cannot be read ask nothing."""
    found: list[Asked] = []
    for path in layout.working_pages(root) if paths is None else sorted(paths):
        found += _asked_on(root, path)
    return tuple(found)


def open_findings(root: Path) -> tuple[Finding, ...]:
    """The same as findings, for the look over the whole book."""
    found = []
    for path in layout.working_pages(root):
        page, asked = _questions(root, path)
        for question, told in zip(asked, _asked_on(root, path), strict=True):
            assert page is not None, "it asks something"
            found.append(
                Finding(
                    code="open-question",
                    severity=Severity.WARNING,
                    path=path,
                    line=line_of(page, ("open", question.item)),
                    message=f"{question.item} is open: {_whose(page)}.",
                    fix=settle_command(told.page, question),
                )
            )
    return tuple(found)


def _whose(page: Page) -> str:
    """A page that is no revision yet was adopted, and asks what its card does not say."""
    adopted = find(page.root, ("formula",)) is not None and find(page.root, ("revision",)) is None
    return "the card it was adopted from does not say" if adopted else "two bakers changed it in two ways"


def _asked_on(root: Path, path: str) -> tuple[Asked, ...]:
    page, asked = _questions(root, path)
    return () if page is None else tuple(_asked(root, path, page, question) for question in asked)


def _questions(root: Path, path: str) -> tuple[Page | None, tuple[OpenQuestion, ...]]:
    """A page with its open questions; none on a kept page, which is as it was, nor on one that cannot be read."""
    data = layout.read_file(root, path) or b""
    if _OPEN not in data or kind_of(path) in ("", "kept"):
        return None, ()
    try:
        page = read(decode(data, path), path=path)
        return page, open_questions(page)
    except Refusal:
        return None, ()


def _asked(root: Path, path: str, page: Page, question: OpenQuestion) -> Asked:
    name = path.rpartition("/")[2].removesuffix(".yaml")
    kind = kind_of(path)
    shelf = shelf_of(root, name) if kind == "formula" else None
    code = code_on(page)
    return Asked(
        page=code if kind == "trial" else name,
        title=f"trial {code}" if kind == "trial" else name.replace("-", " "),
        item=question.item,
        was=question.was,
        proposals=tuple(_proposal(root, shelf, by, value) for by, value in question.proposals),
    )


def _proposal(root: Path, shelf: Shelf | None, by: str, value: str) -> Proposal:
    """A proposal with its reason and its bakes, where it is a baker's revision of the formula."""
    names = [] if shelf is None else [kept.name for kept in shelf.kept if ".".join(kept.name.handles) == by]
    if shelf is None or not names:
        return Proposal(by=by, value=value)
    name = max(names)
    bakes = tuple(trial.code for trial in read_trials(root, shelf.name)[0] if trial.revision == str(name))
    return Proposal(by=by, value=value, why=_why(shelf, name), bakes=bakes)


def _why(shelf: Shelf, name: RevisionName) -> str:
    try:
        return next(kept.formula().why for kept in shelf.kept if kept.name == name)
    except Refusal:
        return ""
