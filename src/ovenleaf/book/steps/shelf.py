"""A formula's pages in a book: the current page, the kept revisions, and which one a baker means."""

from __future__ import annotations

from contextlib import contextmanager
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.book import layout
from ovenleaf.book.names import FORMULAS, kept_names
from ovenleaf.book.names import formula_names as formula_names
from ovenleaf.book.names import kept_page_of as kept_page_of
from ovenleaf.book.steps.marking import marks_of
from ovenleaf.book.steps.once import once
from ovenleaf.book.steps.shelf_faults import (
    AllTakenBack,
    AmbiguousRevision,
    DraftInTheWay,
    NoKeeper,
    OnlyADraft,
    UnknownFormula,
    UnknownRevision,
)
from ovenleaf.domain.book import KEEPER
from ovenleaf.domain.formula import Formula, same_content
from ovenleaf.domain.revision import RevisionName, matching, revision_name, slug_of
from ovenleaf.domain.revision import as_typed as as_typed
from ovenleaf.domain.revision import spoken as spoken
from ovenleaf.errors import Next, Refusal
from ovenleaf.records.codec.formulas import read_formula
from ovenleaf.records.page_bytes import decode, page_id
from ovenleaf.records.yaml_text import read

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from ovenleaf.domain.trial import Trial
    from ovenleaf.records.nodes import Page


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """A saved revision: its name, where its page lies, the page's bytes and their id (the pin)."""

    name: RevisionName
    path: str
    data: bytes

    @property
    def pin(self) -> str:
        """The id of the page, over its normalised bytes."""
        return page_id(self.data)

    def page(self) -> Page:
        """The page, read. Raises PageFault."""
        return read(decode(self.data, self.path), path=self.path)

    def formula(self) -> Formula:
        """The formula on the page. Raises PageFault or PageRefused."""
        return read_formula(self.page(), name=self.path.split("/")[1])


@dataclass(frozen=True, slots=True, kw_only=True)
class Shelf:
    """All of one formula. `data` is the current page, None if there is none; `keeper` is the full name of the
    revision marked so, or ""; `taken_back` are those that were; `marks_fault` says why the marks cannot be read."""

    name: str
    path: str
    data: bytes | None
    kept: tuple[Kept, ...]
    keeper: str = ""
    marks_fault: Refusal | None = None
    taken_back: frozenset[str] = frozenset()

    @property
    def in_force(self) -> tuple[Kept, ...]:
        """The kept revisions that were not taken back."""
        return tuple(kept for kept in self.kept if str(kept.name) not in self.taken_back)

    @property
    def names(self) -> tuple[RevisionName, ...]:
        """The names of the kept revisions, by number."""
        return tuple(kept.name for kept in self.kept)

    def page(self) -> Page:
        """The current page, read; the newest kept one where there is no current page."""
        if self.data is None:
            return (self.in_force or self.kept)[-1].page()
        with self._saved_ones_offered():
            return read(decode(self.data, self.path), path=self.path)

    def formula(self) -> Formula:
        """The formula on the current page. Raises PageFault or PageRefused."""
        page = self.page()
        with self._saved_ones_offered():
            return read_formula(page, name=self.name)

    @contextmanager
    def _saved_ones_offered(self) -> Iterator[None]:
        """Whoever meets a current page that cannot be read is offered what was last saved."""
        try:
            yield
        except Refusal as refusal:
            refusal.next = self.last_saved or refusal.next
            raise

    @property
    def last_saved(self) -> tuple[Next, ...]:
        """How to look at what was last saved; () where nothing was."""
        if not self.kept:
            return ()
        return (Next(f"ovenleaf show {self.name} {as_typed(self.names, self.kept[-1].name)}", "as it was last saved"),)


def page_of(name: str) -> str:
    """Where a formula's current page lies."""
    return f"{FORMULAS}/{name}.yaml"


def take(root: Path, typed: str) -> Shelf:
    """All pages of a formula. Raises UnknownFormula."""
    name = slug_of(typed)
    names = formula_names(root)
    if name not in names:
        raise UnknownFormula(typed, names)
    return shelf_of(root, name)


@once
def shelf_of(root: Path, name: str) -> Shelf:
    """The pages of a formula that is known to be there, or an empty shelf."""
    fault: Refusal | None = None
    keeper, taken_back = "", frozenset[str]()
    try:
        marks = marks_of(root, name)
        keeper, taken_back = marks.keeper, marks.taken_back
    except Refusal as refusal:
        fault = refusal
    return Shelf(
        name=name,
        path=page_of(name),
        data=_current(root, page_of(name)),
        kept=_kept(root, name),
        keeper=keeper,
        marks_fault=fault,
        taken_back=taken_back,
    )


def _current(root: Path, page: str) -> bytes | None:
    """The bytes of a current page. A folder or a link in its place is no page; writing there is refused."""
    try:
        return layout.read_file(root, page)
    except layout.NotAPage:
        return None


def _kept(root: Path, name: str) -> tuple[Kept, ...]:
    pages = ((revision, kept_page_of(name, revision)) for revision in kept_names(root, name))
    return tuple(Kept(name=revision, path=page, data=layout.read_file(root, page) or b"") for revision, page in pages)


def newest(shelf: Shelf) -> Kept:
    """The newest saved revision that was not taken back: the one the current page stands on where two share the number.

    Raises UnknownRevision, AllTakenBack.
    """
    if not shelf.kept and shelf.data is not None:
        raise OnlyADraft(shelf.name)
    if not shelf.kept:
        raise UnknownRevision(shelf.name, "saved yet", ())
    if not shelf.in_force:
        raise AllTakenBack(shelf.name, as_typed(shelf.names, shelf.kept[-1].name))
    top = [kept for kept in shelf.in_force if kept.name.number == shelf.in_force[-1].name.number]
    if len(top) > 1 and shelf.data is not None:
        on_page = shelf.formula()
        standing = [kept for kept in top if kept.name.handles == on_page.by and kept.name.number == on_page.revision]
        return standing[0] if standing else top[-1]
    return top[-1]


def revision_of(shelf: Shelf, typed: str | None) -> Kept:
    """The revision that `typed` means, or the newest. Raises UnknownRevision, AmbiguousRevision."""
    if not typed:
        return newest(shelf)
    if typed.lower() == KEEPER:
        if shelf.marks_fault is not None:
            raise shelf.marks_fault
        if not shelf.keeper:
            raise NoKeeper(shelf.name, newest(shelf).name)
        typed = shelf.keeper
    names = matching(typed, shelf.names)
    if not names:
        raise UnknownRevision(shelf.name, typed, shelf.names)
    if len(names) > 1:
        raise AmbiguousRevision(shelf.name, typed, names)
    return next(kept for kept in shelf.kept if kept.name == names[0])


def standing_on(shelf: Shelf) -> Kept | None:
    """The saved revision that the current page says it is, or None."""
    formula = shelf.formula()
    if formula.revision is None:
        return None
    name = RevisionName(formula.revision, formula.by)
    return next((kept for kept in shelf.kept if kept.name == name), None)


def is_draft(shelf: Shelf) -> bool:
    """True if the current page says something else than the revision it stands on."""
    if shelf.data is None:
        return False
    kept = standing_on(shelf)
    if kept is None:
        return True
    return kept.pin != page_id(shelf.data) and not same_content(kept.formula(), shelf.formula())


def reads_as_draft(shelf: Shelf) -> bool:
    """Like `is_draft`, for those who do not need the current page: one that cannot be read is no draft."""
    try:
        return is_draft(shelf)
    except Refusal:
        return False


def refuse_draft(shelf: Shelf) -> None:
    """Raise DraftInTheWay if the current page holds edits that no revision has."""
    if shelf.data is not None and is_draft(shelf):
        raise DraftInTheWay(shelf.name) if shelf.kept else OnlyADraft(shelf.name)


def spoken_of(root: Path, trials: tuple[Trial, ...]) -> tuple[tuple[tuple[str, str], str], ...]:
    """How a screen says the revision of each trial, by formula and revision."""
    found = {}
    for formula in {trial.formula for trial in trials}:
        names = kept_names(root, formula)
        for trial in trials:
            if trial.formula == formula and (name := revision_name(trial.revision)) is not None:
                found[formula, trial.revision] = spoken(names, name)
    return tuple(sorted(found.items()))
