"""What `check` looks at in trials: their form, what they refer to, and that a code is one trial's own."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from ovenleaf.book.steps.bakes import page_of, trial_pages
from ovenleaf.book.steps.checking import all_items, check_page_form
from ovenleaf.book.steps.opening import working_page
from ovenleaf.book.steps.photos import check_photos, stray_photos
from ovenleaf.domain.benchline import read as read_line
from ovenleaf.domain.quantity import AmountFault, Unit, amount, split_note
from ovenleaf.domain.revision import place_of, revision_name
from ovenleaf.errors import Refusal
from ovenleaf.findings import Finding, Severity
from ovenleaf.records.codec.formulas import read_formula
from ovenleaf.records.codec.trials import read_trial
from ovenleaf.records.nodes import line_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from pathlib import Path

    from ovenleaf.book.steps.shelf import Kept, Shelf
    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.trial import Trial
    from ovenleaf.records.nodes import Page


def check_trials(
    root: Path, shelves: Mapping[str, Shelf], pantry: Pantry, today: date
) -> tuple[int, tuple[Finding, ...]]:
    """Every trial: its form, what it refers to, and that its code is its own."""
    findings: list[Finding] = []
    codes: dict[str, str] = {}
    pictures: set[str] = set()
    pages = trial_pages(root)
    for path in pages:
        form = check_page_form(root, path, "trial")
        findings += form
        if form:
            continue
        page = working_page(root, path)
        trial = read_trial(page)
        findings += _references(page, trial, shelves, today)
        findings += check_photos(root, page, trial)
        pictures.update(trial.photos)
        if trial.code in codes:
            findings.append(
                _trial_finding(page, "code", "same-code", f"{codes[trial.code]} has code {trial.code} too.")
            )
        codes[trial.code] = path
    if len(codes) == len(pages):  # a page that cannot be read may name pictures too
        findings += stray_photos(root, pictures)
    return len(pages), tuple(findings)


def _references(page: Page, trial: Trial, shelves: Mapping[str, Shelf], today: date) -> Iterable[Finding]:
    if page_of(trial.name) != page.path:
        yield _trial_finding(page, "trial", "misnamed", f"This page says it is {trial.name}, but lies elsewhere.")
    if place_of(trial.code) is None:
        yield _trial_finding(page, "code", "bad-code", f"{trial.code} is no code; one is like D2.")
    if trial.bake_date and date.fromisoformat(trial.bake_date) > today:
        yield _trial_finding(page, "bake_date", "future", f"The day of baking, {trial.bake_date}, is still to come.")
    shelf = shelves.get(trial.formula)
    if shelf is None:
        yield _trial_finding(page, "formula", "unknown-formula", f"There is no formula {trial.formula} in this book.")
        return
    kept = next((kept for kept in shelf.kept if kept.name == revision_name(trial.revision)), None)
    if kept is None:
        text = f"{trial.formula} has no revision {trial.revision}."
        yield _trial_finding(page, "revision", "unknown-revision", text)
    elif trial.pin and trial.pin != kept.pin:
        text = f"Revision {trial.revision} is no longer the page this was baked from."
        yield _trial_finding(page, "revision", "changed-revision", text)
    yield from _weighed(page, trial, kept)


def _weighed(page: Page, trial: Trial, kept: Kept | None) -> Iterable[Finding]:
    items = _items_of(kept)
    for name, text in trial.weighed:
        item = name.rpartition(":")[2]
        if items and item not in items:
            yield _trial_finding(page, "weighed", "not-in-formula", f"{item} was weighed, but is not in the formula.")
        try:
            amount(split_note(text)[0], bare=Unit.G)
        except AmountFault:
            yield _trial_finding(page, "weighed", "amount", f"{item}: {text} is not a weight.")
    for field, text in trial.measured:
        for doubt in read_line(f"{field.split()[0]} {text}").doubts:
            yield _trial_finding(page, "measured", "doubt", f"{field}: {doubt}.")


def _items_of(kept: Kept | None) -> frozenset[str]:
    """The items of a kept revision; none where it is not there or cannot be read, which is told of as it is."""
    try:
        page = kept.page() if kept else None
        return all_items(page) | _parts_of(page) if page else frozenset()
    except Refusal:
        return frozenset()


def _parts_of(page: Page) -> frozenset[str]:
    """What goes into a bowl as a bowl of its own."""
    formula = read_formula(page)
    return frozenset(part.name for part in (*formula.preferments, *formula.soakers, *formula.stages))


def _trial_finding(page: Page, key: str, code: str, message: str) -> Finding:
    return Finding(code=code, severity=Severity.ERROR, path=page.path, line=line_of(page, (key,)), message=message)
