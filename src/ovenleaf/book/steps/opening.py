"""Find a book, open it, and know who bakes in this copy of it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from ovenleaf.book import git, layout, settings
from ovenleaf.book.steps.bakes import refused
from ovenleaf.book.steps.once import once
from ovenleaf.domain.book import BookPage
from ovenleaf.domain.ingredients import Pantry
from ovenleaf.domain.revision import RESERVED, is_slug, slug_of
from ovenleaf.errors import Next, NoBaker, Refusal, SayWhich
from ovenleaf.records.assets import ingredients_text
from ovenleaf.records.codec.books import read_book
from ovenleaf.records.codec.ingredients import list_ingredients, read_ingredients
from ovenleaf.records.page_bytes import decode, page_id
from ovenleaf.records.yaml_text import read

if TYPE_CHECKING:
    from pathlib import Path

    from ovenleaf.domain.ingredients import Ingredient, Listed
    from ovenleaf.findings import Finding
    from ovenleaf.records.nodes import Page

BOOK_PAGE = "book.yaml"
INGREDIENTS_PAGE = "ingredients.yaml"


class NotABook(Refusal):
    """No book where one was looked for. Fact: `folder`."""

    def __init__(self, folder: Path, *, named: bool) -> None:
        where = f"{folder} is not a book" if named else "This folder is not a book, nor is any folder above it"
        super().__init__(
            f"{where}: there is no book.yaml.",
            next=(
                Next("ovenleaf start ferry-lane", "begin a book in a folder of that name"),
                Next("ovenleaf --book ferry-lane list", "if there is one: name its folder"),
            ),
        )
        self.folder = folder


class BadHandle(SayWhich):
    """A baker's name that cannot be used in names of pages. Fact: `handle`."""

    def __init__(self, handle: str) -> None:
        near = slug_of(handle)
        how = (
            f"Some computers keep that word for themselves. Add something to it, as in {handle}-baker."
            if handle in RESERVED
            else "Use small letters, figures and hyphens, two or more, beginning with a letter."
        )
        super().__init__(
            f"{handle} cannot be a baker's name in a book.",
            handle,
            (near,) if is_slug(near) else (),
            detail=(how,),
        )
        self.handle = handle


class OtherBaker(Refusal):
    """This copy of the book already writes under another name. Facts: `handle`, `given`."""

    def __init__(self, handle: str, given: str) -> None:
        super().__init__(
            f"This copy of the book writes as {handle}, not as {given}.",
            detail=(f"Leave --baker out. A taster's marks are entered with --taster {given}.",),
        )
        self.handle = handle
        self.given = given


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenBook:
    """A book that was found: its folder and what it says of itself; `findings` tell why it could not say it."""

    root: Path
    page: BookPage
    findings: tuple[Finding, ...] = ()


def find_root(given: Path | None, start: Path) -> Path:
    """The folder of the book: the one given, or the nearest at or above `start`."""
    if given is not None:
        if not (given / BOOK_PAGE).is_file():
            raise NotABook(given, named=True)
        return given.resolve()
    for folder in (start, *start.parents):
        if (folder / BOOK_PAGE).is_file():
            return folder.resolve()
    raise NotABook(start, named=False)


def open_book(given: Path | None, start: Path) -> OpenBook:
    """Open the book at or above a folder. Raises NotABook, or PageRefused for its own page."""
    root = find_root(given, start)
    return OpenBook(root=root, page=read_book(working_page(root, BOOK_PAGE)))


@once
def open_to_read(given: Path | None, start: Path) -> OpenBook:
    """Open the book for looking at it: where its own page cannot be read, what is usual stands in, and it is told."""
    root = find_root(given, start)
    try:
        return open_book(given, start)
    except NotABook:
        raise
    except Refusal as refusal:
        page = BookPage(title=root.name.replace("-", " ").capitalize())
        stands_in = f"Until it is put right, scores are read as from {page.scale}, crumb and crust in equal shares."
        findings = tuple(
            replace(one, fix="\n".join(filter(None, (one.fix, stands_in)))) for one in refused(BOOK_PAGE, refusal)
        )
        return OpenBook(root=root, page=page, findings=findings)


def working_page(root: Path, page: str) -> Page:
    """A page as it lies in the book's folder now."""
    return read(decode(layout.read_page(root, page), page), path=page)


def saved_page(root: Path, page: str) -> Page | None:
    """A page as the last entry has it, or None if it has no such page."""
    settings.check(root)
    found = git.ids_at(root, git.head(root), (page,)).get(page)
    return None if found is None else read(decode(git.read_blobs(root, (found,))[found], page), path=page)


def pantry_digest(root: Path) -> str:
    """Names what the ingredient lists say, for those who remember what was found by them."""
    own = layout.read_file(root, INGREDIENTS_PAGE) or b""
    return page_id(ingredients_text().encode() + own)


@once
def open_pantry(root: Path) -> Pantry:
    """The built-in ingredient list with the book's own laid over it."""
    own: tuple[Ingredient, ...] = ()
    if (root / INGREDIENTS_PAGE).is_file():
        own = read_ingredients(working_page(root, INGREDIENTS_PAGE))
    return Pantry((*built_in(), *own))


def built_in() -> tuple[Listed, ...]:
    """The ingredients that ovenleaf itself knows."""
    return list_ingredients(ingredients_text())


def _baker_file(root: Path) -> Path:
    return layout.state_folder(root) / "baker"


def baker_of(root: Path) -> str:
    """The handle this copy of the book writes under, or ""."""
    path = _baker_file(root)
    try:
        handle = path.read_text(encoding="utf-8").strip() if path.is_file() else ""
    except (OSError, ValueError):
        return ""
    return handle if is_slug(handle) else ""


def settle_baker(root: Path, given: str) -> str:
    """Who writes: the handle of this copy, or the one given, which the first entry makes this copy remember.

    Raises NoBaker, BadHandle, OtherBaker; and NoHistory, sooner than ask in vain.
    """
    known = baker_of(root)
    if given and not is_slug(given):
        raise BadHandle(given)
    if known and given and known != given:
        raise OtherBaker(known, given)
    if not known and not given:
        settings.check(root)
        raise NoBaker
    return known or given


def remember_baker(root: Path, handle: str) -> None:
    """Write the handle of this copy down; it stays in this copy and is not shared."""
    if layout.git_folder(root).is_dir():
        folder = layout.state_folder(root)
        folder.mkdir(exist_ok=True)
        layout.replace_file(_baker_file(root), f"{handle}\n".encode(), temporary=folder / "baker.new")
