"""What publishing leans on: which revision goes out, where its formula is from, and the note that it is out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.book import layout
from ovenleaf.book.names import formula_names
from ovenleaf.book.steps.marking import marks_of, marks_page_of
from ovenleaf.book.steps.opening import working_page
from ovenleaf.book.steps.shelf import newest, revision_of, shelf_of
from ovenleaf.book.steps.signing import put
from ovenleaf.domain.book import KEEPER, Published
from ovenleaf.domain.numbers import plain, rounded
from ovenleaf.domain.revision import names_revision, revision_name
from ovenleaf.errors import ExitCode, Next, Refusal
from ovenleaf.records.codec.books import with_entry

if TYPE_CHECKING:
    from decimal import Decimal
    from pathlib import Path

    from ovenleaf.book.steps.shelf import Kept, Shelf
    from ovenleaf.book.steps.signing import Stamp
    from ovenleaf.domain.formula import Formula
    from ovenleaf.domain.revision import RevisionName
    from ovenleaf.domain.sheet import Sheet
    from ovenleaf.records.nodes import Plain


class NotSettled(Refusal):
    """A revision with open questions is not published. Facts: `formula`, `items`."""

    exit_code = ExitCode.OPEN

    def __init__(self, formula: str, items: tuple[str, ...]) -> None:
        super().__init__(
            f"Not published: this revision of {formula} has open questions: {', '.join(items)}.",
            next=(Next(f"ovenleaf history {formula}", "its revisions"),),
        )
        self.formula = formula
        self.items = items


def chosen(shelf: Shelf, revision: str) -> tuple[Kept, str]:
    """The revision that goes out: the one named, else the keeper, else the newest; and which of these.

    Raises what `revision_of` and `newest` raise, and NotSettled.
    """
    if revision:
        kept, why = revision_of(shelf, revision), "named"
    elif shelf.keeper or shelf.marks_fault:
        kept, why = revision_of(shelf, KEEPER), "keeper"
    else:
        kept, why = newest(shelf), "newest"
    if items := tuple(question.item for question in kept.formula().open):
        raise NotSettled(shelf.name, items)
    return kept, "keeper" if str(kept.name) == shelf.keeper else why


def makers(shelf: Shelf, name: RevisionName, called: dict[str, str]) -> tuple[str, ...]:
    """Who saved the revisions up to this one, by what the book calls them."""
    handles = dict.fromkeys(handle for kept in shelf.names if kept <= name for handle in kept.handles)
    return tuple(dict.fromkeys(called.get(handle, handle) for handle in handles))


def sources(root: Path, formula: Formula, passed: tuple[str, ...] = ()) -> tuple[str, ...]:
    """Where the formula is from, in words; a formula of this book that it was begun from is followed to its own."""
    if not formula.source:
        return ()
    name, _, typed = formula.source.partition(" ")
    revision = revision_name(typed)
    if revision is None or name not in formula_names(root) or name in passed:
        return (formula.source,)
    older = next((kept for kept in shelf_of(root, name).kept if kept.name == revision), None)
    if older is None:
        return (formula.source,)
    before = older.formula()
    return (f"{before.label}, revision {revision.number}", *sources(root, before, (*passed, name)))


def formula_and_revision(words: tuple[str, ...]) -> tuple[str, str]:
    """A formula's name, and a revision behind it where one is typed; "" for what is not."""
    if len(words) > 1 and not names_revision(words[1]):
        raise Refusal(
            f"{words[1]} is not a revision. One formula is published at a time.",
            next=(Next(f"ovenleaf history {words[0]}", "its revisions"),),
        )
    return (words[0] if words else ""), (words[1] if len(words) > 1 else "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """What the book keeps of a page that goes out."""

    formula: str
    revision: RevisionName
    kind: str
    contains: tuple[str, ...]
    leans_on: tuple[str, ...] = ()
    flour: str = ""

    @classmethod
    def of(cls, sheet: Sheet, kind: str, leans_on: tuple[str, ...] = (), flour: Decimal | None = None) -> Note:
        """The note of a page of this revision, with the allergens that it names and what it says of bakes."""
        assert sheet.revision is not None, "what is published is saved"
        return cls(
            formula=sheet.formula.name,
            revision=sheet.revision,
            kind=kind,
            contains=sheet.allergens,
            leans_on=leans_on,
            flour="" if flour is None else f"{plain(rounded(flour, 1))} g",
        )


def note_down(root: Path, note: Note, file: str, stamp: Stamp) -> str:
    """Add the note to the formula's marks; returns what is to be said ahead of everything else."""
    page = Published(
        revision=str(note.revision),
        kind=note.kind,
        file=file,
        contains=note.contains,
        leans_on=note.leans_on,
        flour=note.flour,
        keeper=marks_of(root, note.formula).keeper,
        by="",
        at="",
    )
    entry = what_is_out(page)
    subject = f"{note.formula} {note.revision}: published as {note.kind}"
    return _add(root, note.formula, entry, stamp, subject, f"In {file}.")


def what_is_out(page: Published) -> dict[str, Plain]:
    """The entry of a page that is out, without who noted it and when."""
    known: dict[str, Plain] = {
        "contains": list(page.contains),
        "leans_on": list(page.leans_on),
        "flour": page.flour,
        "keeper": page.keeper,
    }
    said = {key: value for key, value in known.items() if value}
    return {"revision": page.revision, "as": page.kind, "file": page.file, **said}


def note_taken_down(root: Path, formula: str, page: Published, stamp: Stamp) -> str:
    """Note that a page is not out any more; returns what is to be said ahead of everything else."""
    entry: dict[str, Plain] = {"revision": page.revision, "as": page.kind, "file": page.file, "taken_back": True}
    subject = f"{formula} {page.revision}: {page.kind} taken down"
    return _add(root, formula, entry, stamp, subject, f"{page.file} is not out any more.")


def _add(root: Path, formula: str, entry: dict[str, Plain], stamp: Stamp, subject: str, body: str) -> str:
    page = marks_page_of(formula)
    before = layout.read_file(root, page)
    signed: dict[str, Plain] = {**entry, "by": stamp.by, "at": stamp.saved}
    text = with_entry(None if before is None else working_page(root, page), formula, "published", signed)
    return put(root, {page: text}, stamp, subject, body, expect={page: before})
