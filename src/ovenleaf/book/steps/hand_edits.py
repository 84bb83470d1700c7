"""Trials whose pages no longer say what was written down: edited by hand, or by another program behind the book's back.

A trial only gains. A value that was changed or dropped is named in a correction, or nothing more is written over it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.book import entries, git, layout, settings
from ovenleaf.book.names import TRIALS, is_kept_page
from ovenleaf.book.steps.bakes import read_one
from ovenleaf.book.steps.opening import saved_page, working_page
from ovenleaf.book.steps.shelf import revision_of, shelf_of
from ovenleaf.domain.trial_facts import FIXED, corrections_of, lost, still_unnamed
from ovenleaf.errors import Next, Place, Refusal
from ovenleaf.records.codec.trial_edits import with_correction, with_field
from ovenleaf.records.codec.trials import read_trial
from ovenleaf.records.page_bytes import decode
from ovenleaf.records.yaml_text import read

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from pathlib import Path

    from ovenleaf.book.entries import PageChange, PastEntry
    from ovenleaf.book.steps.signing import Stamp
    from ovenleaf.domain.trial import Trial


class TrialEdited(Refusal):
    """A trial's page lost or changed a value by hand, which wants a reason. Facts: `code`, `fields`."""

    def __init__(self, page: str, code: str, fields: tuple[str, ...], what: str, command: str, again: str = "") -> None:
        super().__init__(
            f"{what}: trial {code} no longer says what was written down: {', '.join(fields)}.",
            where=Place(page),
            detail=("A trial only gains. A value that is put right keeps its old one beside it, with the reason.",),
            next=(
                Next(f'{command} --why "misread the scale"', "keep it as a correction, in your own words"),
                *((Next(again, "then this again"),) if again else ()),
            ),
        )
        self.code = code
        self.fields = fields


class NameEdited(Refusal):
    """What a trial is called by, or a correction in it, was changed by hand. Facts: `code`, `fields`."""

    def __init__(self, page: str, code: str, fields: tuple[str, ...]) -> None:
        said = ", ".join("a correction" if field.startswith("corrections.") else _SAID[field] for field in fields)
        super().__init__(
            f"Not saved: of trial {code} this was changed by hand and stays for ever: {said}.",
            where=Place(page),
            detail=("Put it back as it was. To put a trial aside: state: withdrawn.",),
        )
        self.code = code
        self.fields = fields


_SAID = {"name": "its name", "formula": "its formula", "code": "its code", "pin": "its pin"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Unexplained:
    """A trial as it was written down and as its page says it now; `fields` changed without a correction."""

    page: str
    before: Trial
    after: Trial
    fields: tuple[str, ...]


def unexplained(
    root: Path,
    pages: Iterable[str],
    *,
    others: Mapping[str, Iterable[PageChange]] | None = None,
    changed: Iterable[str] | None = None,
) -> tuple[Unexplained, ...]:
    """Those of the trial pages that changed since they were written down, whoever changed them.

    `others` are the changes by other programs and `changed` the files that are not as saved, for a caller who has
    them. Pages that cannot be read are left out: they are told of as such.
    """
    settings.check(root)
    here = set(git.changed(root) if changed is None else changed)
    by_others = changes_by_others(root) if others is None else others
    pairs = {page: [(one.old, one.new) for one in by_others.get(page, ()) if one.old and one.new] for page in pages}
    kept = git.read_blobs(root, (found for each in pairs.values() for pair in each for found in pair))
    found = (
        _of_page(root, page, [(kept[old], kept[new]) for old, new in each], by_hand=page in here)
        for page, each in pairs.items()
    )
    return tuple(one for one in found if one is not None)


def _of_page(root: Path, page: str, others: list[tuple[bytes, bytes]], *, by_hand: bool) -> Unexplained | None:
    try:
        pairs = [(_kept(page, old), _kept(page, new)) for old, new in others]
        after = read_one(root, page) if pairs or by_hand else None
        saved = saved_page(root, page) if by_hand else None
    except Refusal:
        return None
    if after is None:
        return None
    pairs += [] if saved is None else [(read_trial(saved), after)]
    fields = tuple(dict.fromkeys(field for old, new in pairs for field in lost(old, new)))
    fields = still_unnamed(pairs[0][0], after, fields) if fields else ()
    return Unexplained(page=page, before=pairs[0][0], after=after, fields=fields) if fields else None


def _kept(page: str, data: bytes) -> Trial:
    return read_trial(read(decode(data, page), path=page))


def changes_by_others(root: Path) -> dict[str, list[PageChange]]:
    """What other programs did to the pages that stay as they are once saved, trials and kept revisions: for each
    page their changes, in order."""
    return _changes(root, entries.by_other_programs(entries.past_entries(root)))


def changes_by_all(root: Path) -> dict[str, list[PageChange]]:
    """The same of every entry, whoever wrote it; pages that moved to another name are left out."""
    return _changes(root, entries.past_entries(root))


def _changes(root: Path, of: Iterable[PastEntry]) -> dict[str, list[PageChange]]:
    found: dict[str, list[PageChange]] = {}
    ids = [entry.id for entry in of]
    for changes in entries.changes_of(root, reversed(ids)).values():
        came = {change.new for change in changes if change.old is None}
        for change in changes:
            if change.new is None and change.old in came:
                found.pop(change.path, None)
            elif change.path.startswith(f"{TRIALS}/") or is_kept_page(change.path):
                found.setdefault(change.path, []).append(change)
    return found


def refuse_edited(root: Path, page: str, what: str, again: str = "") -> None:
    """Raise TrialEdited where a page that is to be written was changed by hand and is not saved; gains are well.

    `again` is the command to type anew, so that no word that was typed is lost.
    """
    if not layout.git_folder(root).exists():
        return
    found = _of_page(root, page, [], by_hand=True)
    if found is not None:
        raise TrialEdited(page, found.after.code, found.fields, what, "ovenleaf save", again)


def explained(root: Path, found: Unexplained, stamp: Stamp, why: str) -> str:
    """The text of the page with a correction for each value that changed by hand; another revision brings its pin.

    Raises NameEdited, TrialEdited, UnknownRevision.
    """
    fields = tuple(field for field in found.fields if field != "pin" or "revision" not in found.fields)
    never = tuple(field for field in fields if field in FIXED or field.startswith("corrections."))
    if never:
        raise NameEdited(found.page, found.after.code, never)
    if not why:
        raise TrialEdited(found.page, found.after.code, fields, "Not saved", "ovenleaf save")
    page = working_page(root, found.page)
    if "revision" in fields:
        kept = revision_of(shelf_of(root, found.after.formula), found.after.revision)
        page = with_field(page, ("pin",), kept.pin)
    for made in corrections_of(found.before, found.after, fields, by=stamp.by, at=stamp.saved, why=why):
        page = with_correction(page, made)
    return page.text
