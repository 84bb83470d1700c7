"""Older pages read as if written today: one step from each version of a kind to the next.

The page itself is never rewritten by this. It knows versions; it knows no files and no schema.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final, TypeAlias

from ovenleaf.errors import Refusal
from ovenleaf.records.nodes import find, line_of, plain
from ovenleaf.records.page_fault import PageFault, line_text

if TYPE_CHECKING:
    from collections.abc import Callable

    from ovenleaf.records.nodes import Page, Plain

    Data: TypeAlias = dict[str, Plain]

LATEST: Final[dict[str, int]] = {
    "book": 1,
    "ingredients": 1,
    "formula": 1,
    "trial": 1,
    "marks": 1,
    "tasting": 1,
    "card": 1,
}

NEWER: Final = "newer-page"  # the kind of its PageFault, and the code of its finding

_FORMAT: Final = re.compile(r"([a-z]{1,40})/([1-9][0-9]{0,5})")

# (kind, version) -> what makes of its content that of the next version, leaving the given one alone.
STEPS: Final[dict[tuple[str, int], Callable[[Data], Data]]] = {}


class NewerPage(Refusal):
    """A page was written by a newer ovenleaf. Facts: `kind`, `version`, `latest`."""

    def __init__(self, kind: str, version: int) -> None:
        latest = LATEST[kind]
        super().__init__(
            f"This page was written by a newer ovenleaf ({kind}/{version}; this one reads {kind}/{latest}).",
            detail=("It is kept as it is. A newer ovenleaf can read it.",),
        )
        self.kind = kind
        self.version = version
        self.latest = latest


def kind_of(page: Page) -> tuple[str, int] | None:
    """Read `format: KIND/VERSION`; None where there is no such line. The kind may be one we do not have."""
    named = plain(node) if (node := find(page.root, ("format",))) is not None else None
    found = _FORMAT.fullmatch(named) if isinstance(named, str) else None
    return (found[1], int(found[2])) if found else None


def refuse_newer(page: Page) -> None:
    """Raise PageFault for a page that this ovenleaf is too old for: half understood is not understood."""
    named = kind_of(page)
    if named is not None and named[0] in LATEST and is_newer(*named):
        newer = NewerPage(*named)
        line = line_of(page, ("format",)) or 1
        raise PageFault(
            NEWER, newer.what, path=page.path, line=line, text=line_text(page.text, line), detail=newer.detail
        )


def is_newer(kind: str, version: int) -> bool:
    """True for a page that this ovenleaf is too old for. KeyError for a kind there is not."""
    return version > LATEST[kind]


def upgrade(kind: str, version: int, data: Data) -> Data:
    """Give the content of a page of an older version as the latest has it; `data` is left alone.

    Raises NewerPage.
    """
    if is_newer(kind, version):
        raise NewerPage(kind, version)
    for passed in range(version, LATEST[kind]):
        data = {**STEPS[kind, passed](data), "format": f"{kind}/{passed + 1}"}
    return data
