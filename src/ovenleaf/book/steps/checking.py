"""What `check` looks at, page by page. Every fault is a finding; nothing stops the look at the rest."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from ovenleaf.book import git, journal, layout, settings
from ovenleaf.book.steps.bakes import page_of, refused, trial_pages
from ovenleaf.book.steps.keeping import check_page
from ovenleaf.book.steps.marking import marks_page_of
from ovenleaf.book.steps.opening import working_page
from ovenleaf.book.steps.shelf import Kept, Shelf, is_draft
from ovenleaf.domain.benchline import read as read_line
from ovenleaf.domain.formula import all_lines
from ovenleaf.domain.quantity import AmountFault, Unit, amount, split_note
from ovenleaf.domain.revision import place_of, revision_name
from ovenleaf.errors import Refusal
from ovenleaf.findings import Finding, Severity
from ovenleaf.records import schema
from ovenleaf.records.codec.books import read_book, read_marks
from ovenleaf.records.codec.formulas import read_formula
from ovenleaf.records.codec.ingredients import read_ingredients
from ovenleaf.records.codec.trials import read_trial
from ovenleaf.records.nodes import line_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from pathlib import Path

    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.trial import Trial
    from ovenleaf.records.nodes import Page

_READERS = {"book": read_book, "ingredients": read_ingredients, "marks": read_marks, "trial": read_trial}


def check_page_form(root: Path, path: str, kind: str) -> tuple[Finding, ...]:
    """The form of one page: that it parses, fits its schema, and says what can be understood."""
    try:
        page = working_page(root, path)
        if findings := schema.faults(kind, page, kept=True):
            return findings
        _READERS[kind](page)
    except Refusal as refusal:
        return refused(path, refusal)
    return ()


def check_formula(root: Path, shelf: Shelf, pantry: Pantry) -> tuple[Finding, ...]:
    """A formula's current page, its kept revisions and its marks."""
    findings: list[Finding] = []
    for kept in shelf.kept:
        findings += _kept(shelf, kept, pantry)
    if shelf.data is None:
        findings.append(_gone(shelf))
    else:
        findings += _current(shelf, pantry)
    if (root / marks_page_of(shelf.name)).is_file():
        findings += check_page_form(root, marks_page_of(shelf.name), "marks")
    return tuple(findings)


def _gone(shelf: Shelf) -> Finding:
    return Finding(
        code="no-current-page",
        severity=Severity.WARNING,
        path=shelf.path,
        message=f"The current page of {shelf.name} is gone; its {len(shelf.kept)} saved revisions are there.",
        fix=f"Copy {shelf.kept[-1].path} to {shelf.path}.",
    )


def _current(shelf: Shelf, pantry: Pantry) -> tuple[Finding, ...]:
    try:
        checked = check_page(shelf.page(), shelf.name, pantry, shelf.path)
        draft = is_draft(shelf)
    except Refusal as refusal:
        return refused(shelf.path, refusal)
    found = []
    if checked.formula.name != shelf.name:
        found.append(_misnamed(checked.page, shelf))
    if draft:
        found.append(_draft(shelf))
    found += [_open_question(checked.page, question.item) for question in checked.formula.open]
    return tuple(found)


def _misnamed(page: Page, shelf: Shelf) -> Finding:
    return Finding(
        code="misnamed",
        severity=Severity.ERROR,
        path=page.path,
        line=line_of(page, ("formula",)),
        message=f"This page lies where {shelf.name} lies, but says it is another formula.",
        fix=f"Write formula: {shelf.name}, or give the file the name that the page says.",
    )


def _draft(shelf: Shelf) -> Finding:
    return Finding(
        code="draft",
        severity=Severity.NOTE,
        path=shelf.path,
        message=f"{shelf.name} was edited by hand and is not saved yet.",
        fix=f'ovenleaf save {shelf.name} --why "..."',
    )


def _open_question(page: Page, item: str) -> Finding:
    return Finding(
        code="open-question",
        severity=Severity.WARNING,
        path=page.path,
        line=line_of(page, ("open", item)),
        message=f"{item} is open: two bakers changed it in two ways.",
        fix="Settle it between you, and say so with ovenleaf save.",
    )


def _kept(shelf: Shelf, kept: Kept, pantry: Pantry) -> tuple[Finding, ...]:
    try:
        page = kept.page()
        if findings := schema.faults("formula", page, kept=True):
            return findings
        checked = check_page(page, shelf.name, pantry, kept.path, new=_all_items(page))
    except Refusal as refusal:
        return refused(kept.path, refusal)
    formula = checked.formula
    found = []
    if (formula.revision, formula.by, formula.name) != (kept.name.number, kept.name.handles, shelf.name):
        found.append(
            Finding(
                code="misnamed",
                severity=Severity.ERROR,
                path=kept.path,
                line=line_of(page, ("revision",)),
                message=f"This page is kept as {kept.name} of {shelf.name}, but says it is another revision.",
                fix="A kept revision is never edited; put its file back as it was.",
            )
        )
    unknown = [base for base in formula.made_from if base not in map(str, shelf.names)]
    found += [_unknown_base(page, shelf, base) for base in unknown]
    return tuple(found)


def _unknown_base(page: Page, shelf: Shelf, base: str) -> Finding:
    return Finding(
        code="unknown-revision",
        severity=Severity.WARNING,
        path=page.path,
        line=line_of(page, ("made_from",)),
        message=f"This was made from {base}, which is not among the revisions of {shelf.name}.",
    )


def _all_items(page: Page) -> frozenset[str]:
    """A kept page was looked over for slips when it was kept; spelling is not asked about again."""
    return frozenset(line.item for _, line in all_lines(read_formula(page)))


def check_trials(
    root: Path, shelves: Mapping[str, Shelf], pantry: Pantry, today: date
) -> tuple[int, tuple[Finding, ...]]:
    """Every trial: its form, what it refers to, and that its code is its own."""
    findings: list[Finding] = []
    codes: dict[str, str] = {}
    pages = trial_pages(root)
    for path in pages:
        form = check_page_form(root, path, "trial")
        findings += form
        if form:
            continue
        page = working_page(root, path)
        trial = read_trial(page)
        findings += _references(page, trial, shelves, today)
        if trial.code in codes:
            findings.append(
                _trial_finding(page, "code", "same-code", f"{codes[trial.code]} has code {trial.code} too.")
            )
        codes[trial.code] = path
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
        return _all_items(kept.page()) if kept else frozenset()
    except Refusal:
        return frozenset()


def _trial_finding(page: Page, key: str, code: str, message: str) -> Finding:
    return Finding(code=code, severity=Severity.ERROR, path=page.path, line=line_of(page, (key,)), message=message)


def check_strays(root: Path) -> tuple[Finding, ...]:
    """Files in a formula's or a trial's folder that the book does not know what to do with."""
    known = set(layout.working_pages(root))
    found = []
    for folder in ("formulas", "trials"):
        for path in sorted((root / folder).rglob("*")) if (root / folder).is_dir() else ():
            name = path.relative_to(root).as_posix()
            if path.is_dir() or name in known or path.name.startswith("."):
                continue
            found.append(_stray(name))
    found += [_stray(page) for page in sorted(known) if _is_stray_page(page)]
    return tuple(found)


def _is_stray_page(page: str) -> bool:
    parts = page.split("/")
    if parts[0] == "formulas" and len(parts) == 3:
        return parts[2] != "marks.yaml" and revision_name(parts[2].removesuffix(".yaml")) is None
    return len(parts) > 3 or (parts[0] == "trials" and len(parts) != 3)


def _stray(name: str) -> Finding:
    return Finding(
        code="stray",
        severity=Severity.WARNING,
        path=name,
        message=f"{name} is not a page of this book.",
        fix="Move it somewhere else if it is not meant to be here.",
    )


def check_history(root: Path) -> tuple[Finding, ...]:
    """What lies beside the pages: settings, an entry that was cut off, kept pages that were edited."""
    if not layout.git_folder(root).exists():
        return (_no_history(),)
    try:
        settings.check(root)
        git.require()
        pending = journal.load(root)
    except Refusal as refusal:
        return refused(refusal.where.path if refusal.where else ".git", refusal)
    found = [] if pending is None else [_cut_off(pending.what)]
    for page in git.changed(root):
        parts = page.split("/")
        if parts[0] == "formulas" and len(parts) == 3 and revision_name(parts[2].removesuffix(".yaml")):
            found.append(_kept_edited(page))
    return tuple(found)


def _no_history() -> Finding:
    return Finding(
        code="no-history",
        severity=Severity.NOTE,
        path="book.yaml",
        message="This copy of the book has no history (no .git beside book.yaml): it can be read, not written.",
    )


def _cut_off(what: str) -> Finding:
    return Finding(
        code="cut-off",
        severity=Severity.NOTE,
        path=".git/ovenleaf/pending",
        message=f"An entry was cut off: {what}.",
        fix="The next command that writes puts it in order and says how.",
    )


def _kept_edited(page: str) -> Finding:
    return Finding(
        code="kept-edited",
        severity=Severity.ERROR,
        path=page,
        message=f"{page} is a kept revision and is no longer as it was saved.",
        fix="A kept revision is never edited; put its file back as it was.",
    )
