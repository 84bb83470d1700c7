"""Combine one page for somebody who brings two histories together with git itself: the same rules as `share`."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book.names import FORMULAS, kept_names
from ovenleaf.book.steps.combining_pages import combine_formulas, combine_pages
from ovenleaf.book.steps.opening import open_pantry
from ovenleaf.book.steps.sides import kind_of
from ovenleaf.errors import Refusal
from ovenleaf.records.meant import SpliceFault
from ovenleaf.records.nodes import find, plain
from ovenleaf.records.page_bytes import decode
from ovenleaf.records.upgrade import refuse_newer
from ovenleaf.records.yaml_text import read

if TYPE_CHECKING:
    from pathlib import Path

    from ovenleaf.records.nodes import Page

TWO_BAKES = "trial"  # where both put one in, they are two bakes, and no single page can hold them


def combine_page(root: Path, before: Path, one: Path, other: Path, path: str) -> bool:
    """Put the outcome into the file `one`, the book's page `path` on this side; `before` is empty where both put it in.

    False, with nothing written, where the rules have no outcome: a page that cannot be read, or is by a newer ovenleaf.
    """
    kind = kind_of(path)
    if kind in ("", "kept") or (kind == TWO_BAKES and not before.stat().st_size):
        return False
    try:
        pages = [_page(file, path) if file.stat().st_size else None for file in (before, one, other)]
        if pages[1] is None or pages[2] is None:
            return False
        text = _combined(root, kind, path, pages[0], pages[1], pages[2])
    except (Refusal, SpliceFault):
        return False
    one.write_bytes(text.encode())
    return True


def _page(file: Path, path: str) -> Page:
    page = read(decode(file.read_bytes(), path), path=path)
    refuse_newer(page)
    return page


def _combined(root: Path, kind: str, path: str, before: Page | None, one: Page, other: Page) -> str:
    if kind != "formula":
        return combine_pages(kind, before, one, other).text
    name = path.removeprefix(f"{FORMULAS}/").removesuffix(".yaml")
    numbers = [kept.number for kept in kept_names(root, name)] + [_number(page) for page in (one, other)]
    return combine_formulas(before, one, other, pantry=open_pantry(root), top=max(numbers)).text


def _number(page: Page) -> int:
    node = find(page.root, ("revision",))
    value = None if node is None else plain(node)
    return value if isinstance(value, int) else 0
