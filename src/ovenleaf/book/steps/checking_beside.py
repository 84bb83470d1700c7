"""What `check` looks at beside the pages: files that are none, settings, an entry cut off, kept pages edited."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book import combiner, git, journal, layout, settings
from ovenleaf.book.names import is_kept_page
from ovenleaf.book.steps.bakes import refused, trial_pages
from ovenleaf.book.steps.card_pages import CARD
from ovenleaf.book.steps.damage import damaged_history
from ovenleaf.book.steps.hand_edits import changes_by_all, changes_by_others, unexplained
from ovenleaf.book.steps.tampering import tampered
from ovenleaf.domain.revision import is_slug, revision_name
from ovenleaf.domain.trial_facts import value_of
from ovenleaf.errors import Refusal
from ovenleaf.findings import Finding, Severity

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from ovenleaf.book.entries import PageChange
    from ovenleaf.book.steps.hand_edits import Unexplained
    from ovenleaf.book.steps.tampering import Tampered


def check_strays(root: Path) -> tuple[Finding, ...]:
    """Files in the folders of pages that the book does not know what to do with."""
    known = set(layout.working_pages(root))
    found = []
    for folder in layout.PAGE_FOLDERS:
        for path in sorted((root / folder).rglob("*")) if (root / folder).is_dir() else ():
            name = path.relative_to(root).as_posix()
            if path.is_dir() or name in known or path.name.startswith("."):
                continue
            found.append(_stray(name))
    found += [_stray(page) for page in sorted(known) if _is_stray_page(page)]
    return tuple(found)


def _is_stray_page(page: str) -> bool:
    parts = page.split("/")
    if parts[0] in ("formulas", "trials") and len(parts) > 1 and not is_slug(parts[1].removesuffix(".yaml")):
        return True  # it may look like one that is
    if parts[0] == "formulas" and len(parts) == 3:
        return parts[2] not in ("marks.yaml", CARD) and revision_name(parts[2].removesuffix(".yaml")) is None
    deep = {"trials": 3, "tastings": 2}
    return len(parts) > 3 or len(parts) != deep.get(parts[0], len(parts))


def _stray(name: str) -> Finding:
    return Finding(
        code="stray",
        severity=Severity.WARNING,
        path=name,
        message=f"{name} is not a page of this book.",
        fix="Move it somewhere else if it is not meant to be here.",
    )


def check_history(root: Path, *, whole: bool = False) -> tuple[Finding, ...]:
    """What lies beside the pages: settings, an entry cut off, kept pages and trials that were edited."""
    if not layout.git_folder(root).exists():
        return (_no_history(),)
    try:
        settings.check(root)
        git.require()
        pending = journal.load(root)
    except Refusal as refusal:
        return refused(refusal.where.path if refusal.where else ".git", refusal)
    found = [] if pending is None else [_cut_off(pending.what)]
    if not combiner.is_set_up(root):
        found.append(_no_combiner())
    try:
        changed, others = git.changed(root), changes_by_others(root)
        of_all = changes_by_all(root) if whole else others
        found += [_tampered(one) for one in tampered(root, changed, of_all)]
        if whole and not git.is_sound(root):
            found.append(_unsound())
        return (*found, *_edited_trials(root, changed, others))
    except git.HistoryDamaged as damage:
        return (*found, damaged_history(damage))


def _unsound() -> Finding:
    return Finding(
        code="damaged-history",
        severity=Severity.ERROR,
        path=".git",
        message="The history was looked through file by file, and some of it is missing or spoiled.",
        fix="Make a copy of the whole folder first. Then: ovenleaf check --repair",
    )


def _no_combiner() -> Finding:
    return Finding(
        code="no-combiner",
        severity=Severity.NOTE,
        path=".git/config",
        message="This copy does not tell the program git how two bakers' pages are combined: whoever brings histories"
        " together with git itself gets both versions in the page, between marks.",
        fix="ovenleaf share sets it; who shares with ovenleaf alone can pass this over.",
    )


def _no_history() -> Finding:
    return Finding(
        code="no-history",
        severity=Severity.NOTE,
        path="book.yaml",
        message="This copy of the book has no history (no .git beside book.yaml): it can be read, not written.",
    )


def _edited_trials(root: Path, changed: tuple[str, ...], others: dict[str, list[PageChange]]) -> tuple[Finding, ...]:
    """Trials that no longer say what was written down, though no correction names it."""
    return tuple(
        Finding(
            code="changed-trial",
            severity=Severity.WARNING,
            path=found.page,
            message=f"Trial {found.after.code} no longer says what was written down: {'; '.join(_was(found))}.",
            fix='If it is right now: ovenleaf save --why "..." keeps it as a correction, with what stood there before.',
        )
        for found in unexplained(root, trial_pages(root), others=others, changed=changed)
    )


def _was(found: Unexplained) -> Iterator[str]:
    for field in found.fields:
        now = value_of(found.after, field)
        yield f"{field} was {value_of(found.before, field)}, {f'is {now}' if now else 'is gone'}"


def _cut_off(what: str) -> Finding:
    return Finding(
        code="cut-off",
        severity=Severity.NOTE,
        path=".git/ovenleaf/pending",
        message=f"An entry was cut off: {what}.",
        fix="The next command that writes puts it in order and says how.",
    )


def _tampered(one: Tampered) -> Finding:
    what = "a kept revision" if is_kept_page(one.page) else "a trial"
    gone = one.now is None
    return Finding(
        code="kept-gone" if gone else "kept-edited",
        severity=Severity.ERROR,
        path=one.page,
        message=f"{one.page} is {what} and {'is gone' if gone else 'is no longer as it was saved'}.",
        fix="ovenleaf check --repair puts it back as it was saved"
        + (", and keeps the other beside." if one.now else "."),
    )
