"""The way back from the last entry: which entry that is, and what each of its pages is to be when it is taken back.

A formula's page returns to its former bytes, and what was added for good (kept revisions, marks, trials) stays and
says that it was taken back.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, TypeVar

from ovenleaf.book import git, layout, settings
from ovenleaf.book.entries import PageChange, PastEntry, page_changes, past_entries
from ovenleaf.book.names import FORMULAS, TRIALS, formula_names
from ovenleaf.book.steps.card_pages import is_card
from ovenleaf.book.steps.marking import marks_page_of
from ovenleaf.book.steps.opening import INGREDIENTS_PAGE, working_page
from ovenleaf.book.steps.publishing import what_is_out
from ovenleaf.book.steps.shelf import shelf_of
from ovenleaf.book.steps.undoing_trials import ChangedSince, former_bytes, trial_back
from ovenleaf.domain.book import TAKEN_BACK, MarksPage, Published
from ovenleaf.domain.formula import all_lines
from ovenleaf.domain.revision import revision_name
from ovenleaf.domain.taken_back import Kind, TakenBack
from ovenleaf.errors import Next, Place, Refusal
from ovenleaf.records.codec.books import read_marks, with_entry
from ovenleaf.records.codec.ingredients import read_ingredients
from ovenleaf.records.page_bytes import decode
from ovenleaf.records.yaml_text import read

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from ovenleaf.book.steps.shelf import Kept
    from ovenleaf.book.steps.signing import Stamp
    from ovenleaf.records.nodes import Plain

BEGINNING = "start"
MENDED = "repair"  # what was put back as it was saved stays
TASTINGS = "tastings/"


class NothingToUndo(Refusal):
    """No entry is left that could be taken back. Fact: `shared`, True where all before was shared."""

    def __init__(self, *, shared: bool) -> None:
        why = (
            "What came before has been shared, so others hold it too: put it right by a new entry."
            if shared
            else "Everything that was written since the book was begun has been taken back already."
        )
        super().__init__("There is nothing to take back.", detail=(why,), next=(Next("ovenleaf list"),))
        self.shared = shared


class NotByOvenleaf(Refusal):
    """The last entry was made by another program. Facts: `subject`, `by`."""

    def __init__(self, entry: PastEntry) -> None:
        super().__init__(
            f"The last entry was not made by ovenleaf, so it is not taken back: {entry.subject}, by {entry.by}.",
            detail=("Put the pages right by hand instead.",),
            next=(Next('ovenleaf save --why "..."', "keep what was put right"),),
        )
        self.subject = entry.subject
        self.by = entry.by


class NotYours(Refusal):
    """The last entry is another baker's. Facts: `subject`, `by`."""

    def __init__(self, entry: PastEntry, who: str) -> None:
        super().__init__(
            f"The last entry is by {entry.by}, and you write as {who}: {entry.subject}.",
            detail=(f"What {entry.by} wrote is not taken back for {entry.by}. Put it right by an entry of your own.",),
        )
        self.subject = entry.subject
        self.by = entry.by


class EditedSince(Refusal):
    """A page that would go back was edited by hand and is not saved. Fact: `page`."""

    def __init__(self, page: str) -> None:
        super().__init__(
            f"{page} was edited by hand and is not saved, and taking back would write over that.",
            where=Place(page),
            next=(Next('ovenleaf save --why "..."', "keep it first; the next undo takes that back"),),
        )
        self.page = page


class InUse(Refusal):
    """An ingredient list cannot go back while a kept revision names what is on it. Facts: `items`, `formula`."""

    def __init__(self, items: tuple[str, ...], formula: str) -> None:
        super().__init__(
            f"{', '.join(items)} cannot be taken off the ingredient list: a saved revision of {formula} is made with"
            " it, and stays readable.",
            next=(Next(f"ovenleaf history {formula}", "its revisions"),),
        )
        self.items = items
        self.formula = formula


@dataclass(frozen=True, slots=True, kw_only=True)
class WayBack:
    """What taking an entry back comes to: the pages to write, None for one that goes; as they are now; what of each."""

    entry: PastEntry
    pages: dict[str, str | bytes | None]
    expect: dict[str, bytes | None]
    told: tuple[TakenBack, ...]


Part = tuple[dict[str, str | bytes | None], tuple[TakenBack, ...]]


def last_to_undo(root: Path, who: str, *, shared: str | None = None) -> PastEntry:
    """The last entry that has not been taken back; none at or before `shared`, the last that others hold too.

    Raises NothingToUndo, NotByOvenleaf, NotYours; NoHistory where the book has no history.
    """
    settings.check(root)
    undone: set[str] = set()
    for entry in past_entries(root, beyond=shared):
        if entry.undoes:
            undone.add(entry.undoes)
        elif entry.id not in undone and entry.verb != MENDED:
            if not entry.verb:
                raise NotByOvenleaf(entry)
            if entry.verb == BEGINNING:
                break
            if entry.by != who:
                raise NotYours(entry, who)
            return entry
    raise NothingToUndo(shared=shared is not None)


def way_back(root: Path, entry: PastEntry, stamp: Stamp, why: str) -> WayBack:
    """What each page of an entry is to be when it is taken back. Raises EditedSince, ChangedSince, InUse."""
    changes = page_changes(root, entry.id)
    parts = [*_formulas_back(root, changes, stamp, why)]
    for change in changes:
        if change.path.startswith(f"{TRIALS}/"):
            parts.append(trial_back(root, change, stamp, why))
        elif change.path in layout.TOP_PAGES or change.path.startswith(TASTINGS) or is_card(change.path):
            parts.append(_file_back(root, change))
    pages = {page: text for written, _ in parts for page, text in written.items()}
    if not pages:
        raise ChangedSince(changes[0].path if changes else entry.subject)
    edited = set(git.changed(root))
    for page in pages:
        if page in edited:
            raise EditedSince(page)
    return WayBack(
        entry=entry,
        pages=pages,
        expect={page: layout.read_file(root, page) for page in pages},
        told=tuple(thing for _, things in parts for thing in things),
    )


def _formulas_back(root: Path, changes: tuple[PageChange, ...], stamp: Stamp, why: str) -> Iterator[Part]:
    """For each formula: its page as it was, and its marks with what no longer stands."""
    names = dict.fromkeys(change.path.split("/")[1].removesuffix(".yaml") for change in changes if _of_formula(change))
    for name in names:
        own = [one for one in changes if one.path.startswith((f"{FORMULAS}/{name}.yaml", f"{FORMULAS}/{name}/"))]
        for change in own:
            if change.path == f"{FORMULAS}/{name}.yaml":
                kind = Kind.NO_PAGE if change.old is None else Kind.PAGE
                yield {change.path: former_bytes(root, change)}, (TakenBack(kind=kind, name=name),)
        yield from _marks_back(root, name, own, stamp, why)


def _of_formula(change: PageChange) -> bool:
    return change.path.startswith(f"{FORMULAS}/")


def _marks_back(root: Path, name: str, changes: list[PageChange], stamp: Stamp, why: str) -> Iterator[Part]:
    """The marks page with a line for each mark and each new revision of an entry that no longer stands."""
    page = marks_page_of(name)
    said: dict[str, Plain] = {"by": stamp.by, "at": stamp.saved, "why": why}
    lines: list[tuple[str, dict[str, Plain], TakenBack]] = []
    for change in changes:
        if change.path == page:
            lines += _counter_lines(_marks_in(root, change.old, page), _marks_in(root, change.new, page), name, said)
    for change in changes:
        revision = change.path.rsplit("/", 1)[-1].removesuffix(".yaml")
        if revision_name(revision) is not None and change.path.count("/") == 2 and change.old is None:
            line: dict[str, Plain] = {"revision": revision, "mark": TAKEN_BACK, **said}
            lines.append(("marks", line, TakenBack(kind=Kind.REVISION, name=name, what=(revision,))))
    if not lines:
        return
    data = layout.read_file(root, page)
    text = "" if data is None else decode(data, page)
    for block, line, _ in lines:
        text = with_entry(read(text, path=page) if text else None, name, block, line)
    yield {page: text}, tuple(thing for _, _, thing in lines)


def _counter_lines(
    old: MarksPage | None, new: MarksPage | None, name: str, said: dict[str, Plain]
) -> Iterator[tuple[str, dict[str, Plain], TakenBack]]:
    """A line against each that was added, the last first."""
    was = old or MarksPage(formula=name)
    now = new or was
    for put in reversed(_added(was.retired, now.retired)):
        kind = Kind.BACK if put.state == "away" else Kind.AWAY
        yield "retired", {"state": kind.value, **said}, TakenBack(kind=kind, name=name)
    for one in reversed(_added(was.meant, now.meant)):
        line: dict[str, Plain] = {"revision": one.revision, "about": one.about, **said, "taken_back": True}
        yield "meant", line, TakenBack(kind=Kind.ANSWER, name=name, what=(one.about,))
    for page in reversed(_added(was.published, now.published)):
        kind = Kind.OUT if page.taken_back else Kind.PUBLISHED
        yield "published", _other_way(page, was, said), TakenBack(kind=kind, name=name, what=(page.file,))
    for mark in reversed(_added(was.marks, now.marks)):
        line = {"revision": mark.revision, "mark": TAKEN_BACK, **said}
        yield "marks", line, TakenBack(kind=Kind.MARK, name=name, what=(mark.mark, mark.revision))


def _other_way(page: Published, was: MarksPage, said: dict[str, Plain]) -> dict[str, Plain]:
    """The line against one under `published`: a page that went out is taken back, one that was taken down is out."""
    line: dict[str, Plain] = {"revision": page.revision, "as": page.kind, "file": page.file}
    signed = {"by": said["by"], "at": said["at"]}
    if not page.taken_back:
        return {**line, **signed, "taken_back": True}
    before = next((one for one in was.out if (one.kind, one.file) == (page.kind, page.file)), page)
    return {**what_is_out(replace(before, revision=page.revision)), **signed}


T = TypeVar("T")


def _added(was: tuple[T, ...], now: tuple[T, ...]) -> tuple[T, ...]:
    """What `now` holds and `was` does not, in its order; lines that went away by hand meanwhile are no matter."""
    left = list(was)
    return tuple(one for one in now if not _struck(left, one))


def _struck(left: list[T], one: T) -> bool:
    found = one in left
    if found:
        left.remove(one)
    return found


def _marks_in(root: Path, found: str | None, page: str) -> MarksPage | None:
    if found is None:
        return None
    return read_marks(read(decode(git.read_blobs(root, (found,))[found], page), path=page))


def _file_back(root: Path, change: PageChange) -> Part:
    """The book's own page, its ingredient list or a tasting as it was before."""
    data = former_bytes(root, change)
    if change.path == INGREDIENTS_PAGE:
        _refuse_in_use(root, data)
    return {change.path: data}, (TakenBack(kind=Kind.FILE if data is not None else Kind.NO_FILE, name=change.path),)


def _refuse_in_use(root: Path, data: bytes | None) -> None:
    """What is taken off the list must not be what a kept revision is made with."""
    now = {one.name for one in read_ingredients(working_page(root, INGREDIENTS_PAGE))}
    kept = () if data is None else read_ingredients(read(decode(data, INGREDIENTS_PAGE), path=INGREDIENTS_PAGE))
    going = now - {one.name for one in kept}
    for name in formula_names(root):
        used = tuple(sorted(going & {item for kept in shelf_of(root, name).kept for item in _items(kept)}))
        if used:
            raise InUse(used, name)


def _items(kept: Kept) -> frozenset[str]:
    try:
        return frozenset(line.item for _, line in all_lines(kept.formula()))
    except Refusal:
        return frozenset()  # a page that cannot be read: `check` tells of it
