"""Look the whole book over: every page, every reference, what is not saved. Changes nothing."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from ovenleaf.book import layout
from ovenleaf.book.steps.bakes import read_trials
from ovenleaf.book.steps.checking import check_anchors, check_formula, check_page_form, look_at_kept
from ovenleaf.book.steps.checking_beside import check_history, check_strays
from ovenleaf.book.steps.checking_published import check_published
from ovenleaf.book.steps.checking_tastings import check_tastings
from ovenleaf.book.steps.checking_trials import check_trials
from ovenleaf.book.steps.open_pages import open_findings
from ovenleaf.book.steps.opening import (
    BOOK_PAGE,
    INGREDIENTS_PAGE,
    built_in,
    find_root,
    open_pantry,
    open_to_read,
    settle_baker,
)
from ovenleaf.book.steps.questioning import answered, newest_slips, slip_findings
from ovenleaf.book.steps.shelf import formula_names, shelf_of, take
from ovenleaf.book.steps.signing import Stamp, put
from ovenleaf.domain.ingredients import Pantry
from ovenleaf.errors import Next, PageRefused, Refusal
from ovenleaf.evidence.units import by_person, mixings
from ovenleaf.results import Answered, CheckReport

if TYPE_CHECKING:
    from datetime import date, datetime
    from pathlib import Path

    from ovenleaf.domain.trial import Trial
    from ovenleaf.findings import Finding


def check(given: Path | None, start: Path, today: date, *, whole: bool = False) -> CheckReport:
    """Every finding in the book, sorted by page and line; with `whole`, its history too, file by file."""
    root = find_root(given, start)
    findings: list[Finding] = []
    for page, kind in ((BOOK_PAGE, "book"), (INGREDIENTS_PAGE, "ingredients")):
        if (root / page).is_file():
            findings += check_page_form(root, page, kind)
    findings += check_anchors(root)
    pantry = _pantry(root)
    shelves = [shelf_of(root, name) for name in formula_names(root)]
    looked = look_at_kept(root, shelves, pantry)
    for shelf in shelves:
        findings += check_formula(root, shelf, looked, pantry)
        findings += slip_findings(root, shelf, pantry)
        findings += check_published(root, shelf, pantry, partial(_bakes, root))
    items = {path: frozenset(one.items) for path, one in looked.items()}
    trials, of_trials = check_trials(root, {shelf.name: shelf for shelf in shelves}, items, today)
    findings += of_trials
    findings += check_tastings(root)
    findings += open_findings(root)
    findings += check_strays(root)
    findings += check_history(root, whole=whole)
    return CheckReport(
        findings=tuple(sorted(findings, key=lambda f: (f.path, f.line or 0, f.code))),
        formulas=len(shelves),
        revisions=sum(len(shelf.kept) for shelf in shelves),
        trials=trials,
        pages=len(layout.working_pages(root)),
    )


class NothingToAnswer(Refusal):
    """Nothing of the formula is asked about. Fact: `formula`."""

    def __init__(self, formula: str) -> None:
        super().__init__(
            f"Nothing of {formula} looks like a slip, so there is nothing to answer.",
            next=(Next("ovenleaf check", "the whole book"),),
        )
        self.formula = formula


def answer_slips(
    given: Path | None, start: Path, formula: str, meant: str, *, baker: str, at: datetime, preview: bool = False
) -> Answered:
    """Remember that what looks like a slip in a formula is meant, and why."""
    root = find_root(given, start)
    who = settle_baker(root, baker)
    shelf = take(root, formula)
    pantry = open_pantry(root)
    found = newest_slips(root, shelf, pantry)
    if found is None or not found[1]:
        raise NothingToAnswer(shelf.name)
    stamp = Stamp(by=who, at=at, verb="check", preview=preview)
    pages, expect = answered(root, shelf.name, found[0], found[1], stamp, meant)
    subject = f"{shelf.name}: {', '.join(slip.about for slip in found[1])} as meant ({who})"
    ahead = put(root, pages, stamp, subject, meant, expect=expect)
    return Answered(formula=shelf.name, slips=found[1], meant=meant, ahead=ahead)


def _bakes(root: Path, formula: str) -> tuple[tuple[Trial, ...], dict[str, str]]:
    """A formula's trials, and the mixing of each by its code."""
    trials = by_person(read_trials(root, formula)[0], dict(open_to_read(root, root).page.persons))
    return trials, mixings(trials)


def _pantry(root: Path) -> Pantry:
    """The ingredients; the built-in ones alone where the book's own list cannot be read."""
    try:
        return open_pantry(root)
    except (PageRefused, Refusal):
        return Pantry(built_in())
