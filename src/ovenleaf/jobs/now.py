"""What is going on in the book: what is in hand, what is not saved, what came last."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book import git, journal, layout, settings, sharing
from ovenleaf.book.names import FORMULAS
from ovenleaf.book.steps.bakes import read_trials, refused
from ovenleaf.book.steps.benching import held_of
from ovenleaf.book.steps.damage import damaged_history
from ovenleaf.book.steps.keeping import faults_of_draft
from ovenleaf.book.steps.open_pages import all_asked
from ovenleaf.book.steps.opening import open_to_read
from ovenleaf.book.steps.planned import planned_of
from ovenleaf.book.steps.shelf import formula_names, is_draft, shelf_of
from ovenleaf.domain.trial import State
from ovenleaf.errors import Refusal
from ovenleaf.results import Now

if TYPE_CHECKING:
    from datetime import datetime
    from pathlib import Path

    from ovenleaf.findings import Finding


def now(given: Path | None, start: Path, at: datetime) -> Now:
    """The first thing to see in the morning."""
    book = open_to_read(given, start)
    trials, findings = read_trials(book.root)
    names = formula_names(book.root)
    drafts, begun, broken = _drafts(book.root, names)
    held, unread = held_of(book, trials)
    baked = [trial for trial in trials if trial.state is State.DONE]
    unsaved, damaged = _unsaved(book.root)
    return Now(
        book=book.page,
        now=at.isoformat(timespec="seconds"),
        in_hand=held,
        planned=planned_of("", trials),
        drafts=drafts,
        unsaved=unsaved,
        last=baked[-1] if baked else None,
        cut_off=_cut_off(book.root),
        findings=(*book.findings, *findings, *broken, *unread, *damaged),
        formulas=len(names),
        trials=len(trials),
        open=_open(book.root, names),
        not_shared=_not_shared(book.root),
        likely=baked[-1].formula if baked else next(iter(names), ""),
        begun=begun,
    )


def _drafts(root: Path, names: tuple[str, ...]) -> tuple[tuple[str, ...], tuple[str, ...], tuple[Finding, ...]]:
    """The formulas whose page was edited by hand, those of them that were never saved, and what is wrong with pages
    that cannot be read."""
    drafts: list[str] = []
    begun: list[str] = []
    findings: list[Finding] = []
    for name in names:
        shelf = shelf_of(root, name)
        try:
            drafts += [name] if is_draft(shelf) else []
            begun += [name] if is_draft(shelf) and not shelf.kept else []
            findings += faults_of_draft(shelf)
        except Refusal as refusal:
            findings += refused(shelf.path, refusal)
    return tuple(drafts), tuple(begun), tuple(findings)


def _unsaved(root: Path) -> tuple[tuple[str, ...], tuple[Finding, ...]]:
    """Pages edited by hand since the last entry, and what keeps the history from telling; neither where the book
    has no history to compare with."""
    if not layout.git_folder(root).exists():
        return (), ()
    settings.check(root)
    git.require()
    pages = set(layout.working_pages(root))
    try:
        return tuple(page for page in git.changed(root) if page in pages), ()
    except git.HistoryDamaged as damage:
        return (), (damaged_history(damage),)


def _open(root: Path, names: tuple[str, ...]) -> tuple[tuple[str, str], ...]:
    """What is open in each formula; questions about bakes are found by `check`, which looks at every page."""
    asked = all_asked(root, (f"{FORMULAS}/{name}.yaml" for name in names))
    return tuple((one.page, one.item) for one in asked)


def _not_shared(root: Path) -> int | None:
    return sharing.waiting(root) if layout.git_folder(root).exists() else None


def _cut_off(root: Path) -> str:
    if not layout.git_folder(root).exists():
        return ""
    try:
        pending = journal.load(root)
    except Refusal as refusal:
        return refusal.what.rstrip(".")
    return "" if pending is None else pending.what
