"""What `check` looks at in trials: their form, what they refer to, and that a code is one trial's own."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from functools import partial
from typing import TYPE_CHECKING

from ovenleaf.book.names import TRIALS, trial_pages
from ovenleaf.book.steps.bakes import page_of
from ovenleaf.book.steps.checking import look_at_page
from ovenleaf.book.steps.opening import working_page
from ovenleaf.book.steps.photos import check_photos, stray_photos
from ovenleaf.book.steps.remembering import remembered
from ovenleaf.domain.benchline import read as read_line
from ovenleaf.domain.quantity import AmountFault, Unit, amount, split_note
from ovenleaf.domain.revision import place_of, revision_name
from ovenleaf.domain.trial import Trial
from ovenleaf.findings import Finding, Severity
from ovenleaf.records import schema
from ovenleaf.records.codec.trials import read_trial
from ovenleaf.records.nodes import line_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from pathlib import Path

    from ovenleaf.book.steps.shelf import Shelf


def check_trials(
    root: Path, shelves: Mapping[str, Shelf], items: Mapping[str, frozenset[str]], today: date
) -> tuple[int, tuple[Finding, ...]]:
    """Every trial: its form, what it refers to, and that its code is its own.

    `items` holds what can be weighed for each kept page, by where it lies.
    """
    findings: list[Finding] = []
    codes: dict[str, str] = {}
    pictures: set[str] = set()
    pages = trial_pages(root)
    look = partial(_looked_at, root)
    for path, said in remembered(root, f"{TRIALS}/", pages, "checked trial", look, by=schema.digest("trial")):
        if not isinstance(said, Trial):
            findings += said
            continue
        page = _Place(root, path)
        findings += _references(page, said, shelves, items, today)
        if said.photos:
            findings += check_photos(root, working_page(root, path), said)
            pictures.update(said.photos)
        if said.code in codes:
            findings.append(page.finding("code", "same-code", f"{codes[said.code]} has code {said.code} too."))
        codes[said.code] = path
    if len(codes) == len(pages):  # a page that cannot be read may name pictures too
        findings += stray_photos(root, pictures)
    return len(pages), tuple(findings)


@dataclass(frozen=True, slots=True)
class _Place:
    """A trial's page, which is read only if something is found, to name the line."""

    root: Path
    path: str

    def finding(self, key: str, code: str, message: str) -> Finding:
        line = line_of(working_page(self.root, self.path), (key,))
        return Finding(code=code, severity=Severity.ERROR, path=self.path, line=line, message=message)


def _looked_at(root: Path, path: str) -> Trial | tuple[Finding, ...]:
    """The trial on a page, or what is wrong with the page's form."""
    return look_at_page(root, path, "trial", read_trial)


def _references(
    page: _Place, trial: Trial, shelves: Mapping[str, Shelf], items: Mapping[str, frozenset[str]], today: date
) -> Iterable[Finding]:
    if page_of(trial.name) != page.path:
        yield page.finding("trial", "misnamed", f"This page says it is {trial.name}, but lies elsewhere.")
    if place_of(trial.code) is None:
        yield page.finding("code", "bad-code", f"{trial.code} is no code; one is like D2.")
    if trial.bake_date and date.fromisoformat(trial.bake_date) > today:
        yield page.finding("bake_date", "future", f"The day of baking, {trial.bake_date}, is still to come.")
    shelf = shelves.get(trial.formula)
    if shelf is None:
        yield page.finding("formula", "unknown-formula", f"There is no formula {trial.formula} in this book.")
        return
    kept = next((kept for kept in shelf.kept if kept.name == revision_name(trial.revision)), None)
    if kept is None:
        text = f"{trial.formula} has no revision {trial.revision}."
        yield page.finding("revision", "unknown-revision", text)
    elif trial.pin and trial.pin != kept.pin:
        text = f"Revision {trial.revision} is no longer the page this was baked from."
        yield page.finding("revision", "changed-revision", text)
    yield from _weighed(page, trial, items.get(kept.path, frozenset()) if kept else frozenset())


def _weighed(page: _Place, trial: Trial, items: frozenset[str]) -> Iterable[Finding]:
    for name, text in trial.weighed:
        item = name.rpartition(":")[2]
        if items and item not in items:
            yield page.finding("weighed", "not-in-formula", f"{item} was weighed, but is not in the formula.")
        try:
            amount(split_note(text)[0], bare=Unit.G)
        except AmountFault:
            yield page.finding("weighed", "amount", f"{item}: {text} is not a weight.")
    for field, text in trial.measured:
        for doubt in read_line(f"{field.split()[0]} {text}").doubts:
            yield page.finding("measured", "doubt", f"{field}: {doubt}.")
