"""Older pages read as if written today: one step from each version of a kind to the next.

The page itself is never rewritten by this. It knows versions; it knows no files and no schema.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, TypeAlias

from ovenleaf.errors import Refusal

if TYPE_CHECKING:
    from collections.abc import Callable

    from ovenleaf.records.nodes import Plain

    Data: TypeAlias = dict[str, Plain]

LATEST: Final[dict[str, int]] = {"book": 1, "ingredients": 1, "formula": 1, "trial": 1, "marks": 1}

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
