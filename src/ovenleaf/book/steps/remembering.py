"""Read each page once: what it says is taken from the index while its bytes are the same, else read and kept there."""

from __future__ import annotations

from contextlib import suppress
from typing import TYPE_CHECKING, Any

from ovenleaf import __version__
from ovenleaf.book import layout
from ovenleaf.book.steps.meanwhile import meanwhile
from ovenleaf.book.steps.onlooker import counted
from ovenleaf.records.page_bytes import page_id

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence
    from pathlib import Path

FEW = 24  # pages; so few are read sooner than an index is opened


def remembered(
    root: Path, folder: str, pages: Sequence[str], kind: str, read: Callable[[str], Any], *, by: str = ""
) -> Iterator[tuple[str, Any]]:
    """Each of the pages, which are all of their kind below `folder`, and what `read` says of it.

    What `read` returns must be such as `records.facts` keeps, and must follow from the page's path and bytes and
    from `by` alone.
    """
    if len(pages) < FEW:
        yield from ((page, read(page)) for page in pages)
        return
    from ovenleaf.book import index
    from ovenleaf.records import facts

    reader = index.Reader(kind, f"{__version__} {facts.shape()} {by}")
    known = index.known_below(root, folder, reader)
    keys = [(page, page_id(layout.read_listed(root, page))) for page in pages]
    new = [key[0] for key in keys if key not in known]
    other = meanwhile(new, lambda page: facts.to_text(read(page)))
    found: dict[index.Key, str] = {}
    with counted("pages", len(new)) as one_more:
        for key in keys:
            text = known.get(key) or other(key[0])
            said = _said(text)
            if text is None or said is None:
                said = read(key[0])
                text = facts.to_text(said)
            if known.get(key) != text:
                found[key] = text
                one_more()
            yield key[0], said
    gone = known.keys() - keys
    if found or gone:
        index.learn(root, reader, found, gone)


def _said(text: str | None) -> Any:
    """What the index says of a page, or None where it says nothing that can be used."""
    from ovenleaf.records import facts

    with suppress(ValueError):
        return None if text is None else facts.from_text(text)
    return None
