"""What a book holds, told by the names of its files alone; no page is read for it.

Knows where pages lie. Must not know what a page says, so that it costs nothing to load.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from ovenleaf.book import layout
from ovenleaf.domain.revision import RevisionName, is_slug, revision_name

if TYPE_CHECKING:
    from pathlib import Path

FORMULAS = "formulas"
TRIALS = "trials"
CODE_LINE = re.compile(rb"^code:[ \t]*[\"']?([A-Z][1-9][0-9]*)", re.MULTILINE)


def formula_names(root: Path) -> tuple[str, ...]:
    """The formulas of a book, by name: those with a current page or a kept revision."""
    names = set()
    for page in layout.pages_in(root, FORMULAS):
        parts = page.split("/")
        if len(parts) in (2, 3):
            names.add(parts[1].removesuffix(".yaml"))
    return tuple(sorted(name for name in names if is_slug(name)))


def kept_page_of(name: str, revision: RevisionName) -> str:
    """Where a saved revision lies."""
    return f"{FORMULAS}/{name}/{revision}.yaml"


def is_kept_page(page: str) -> bool:
    """True for the path of a saved revision."""
    parts = page.split("/")
    name = parts[-1].removesuffix(".yaml")
    return parts[0] == FORMULAS and len(parts) == 3 and parts[2] != name and revision_name(name) is not None


def kept_names(root: Path, formula: str) -> tuple[RevisionName, ...]:
    """The saved revisions of a formula, by number."""
    folder = root / FORMULAS / formula
    if not folder.is_dir() or folder.is_symlink():
        return ()
    found = []
    for path in folder.iterdir():
        revision = revision_name(path.name.removesuffix(".yaml"))
        if revision is not None and path.suffix == ".yaml" and path.is_file() and not path.is_symlink():
            found.append(revision)
    return tuple(sorted(found))


def trial_pages(root: Path, formula: str | None = None) -> tuple[str, ...]:
    """Where the trials lie, of one formula or of all."""
    return layout.pages_in(root, f"{TRIALS}/{formula}" if formula else TRIALS)


def newest_first(pages: tuple[str, ...]) -> tuple[str, ...]:
    """Trial pages in the order of the days in their names, the newest first."""
    return tuple(sorted(pages, key=lambda page: page.rsplit("/", 1)[-1], reverse=True))


def code_on(root: Path, page: str) -> str:
    """The code that a trial page holds, or "": found by its line, whatever else the page says. The page was listed."""
    found = CODE_LINE.search(layout.read_listed(root, page))
    return found[1].decode() if found else ""
