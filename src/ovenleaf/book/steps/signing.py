"""Write pages with a signed entry that reads well to those who look at a book's history with git."""

from __future__ import annotations

import contextlib
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf import __version__
from ovenleaf.book import git, store
from ovenleaf.book.entries import UNDOES, VERB
from ovenleaf.book.steps.opening import baker_of, remember_baker

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import datetime
    from pathlib import Path


PREVIEW = "A preview: nothing was written. Without --preview it would be this."


@dataclass(frozen=True, slots=True, kw_only=True)
class Stamp:
    """Who writes, when (with its offset), and with which command; with `preview` nothing is written."""

    by: str
    at: datetime
    verb: str
    preview: bool = False

    @property
    def saved(self) -> str:
        """The time as it stands on a page: `2026-11-11T19:10:00+01:00`."""
        return self.at.isoformat(timespec="seconds")


def put(
    root: Path,
    pages: Mapping[str, str | bytes | None],
    stamp: Stamp,
    subject: str,
    body: str = "",
    *,
    expect: Mapping[str, bytes | None] | None = None,
    undoes: str = "",
) -> str:
    """Write pages and their entry, unless it is a preview.

    Returns what is to be said ahead of everything else: that this is a preview, or what became of
    an earlier entry that was cut off; otherwise "".

    `expect` holds the pages as they were read; `undoes` is the entry that this one takes back. Raises the
    refusals of `book.store.write`.
    """
    if stamp.preview:
        return PREVIEW
    entry = store.Entry(
        subject=" ".join(subject.split()),
        body=body,
        trailers=((VERB, stamp.verb), ("Ovenleaf-Version", __version__), *([(UNDOES, undoes)] if undoes else [])),
        by=stamp.by,
        at=stamp.at,
    )
    changes = {page: text.encode() if isinstance(text, str) else text for page, text in pages.items()}
    written = store.write(root, changes, entry, expect=expect)
    _settle_down(root, stamp)
    return written.recovered or ""


def _settle_down(root: Path, stamp: Stamp) -> None:
    """What may follow an entry; it is saved, so all of this can wait for the next."""
    with contextlib.suppress(OSError):
        if not baker_of(root):
            remember_baker(root, stamp.by)
    with contextlib.suppress(git.GitFault):
        git.tidy(root)
