"""The block `open:` of a page, of whatever kind: values that two bakers changed in two ways."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain.formula import OpenQuestion
from ovenleaf.records.codec.reading import Reading

if TYPE_CHECKING:
    from ovenleaf.records.nodes import Page


def open_questions(page: Page) -> tuple[OpenQuestion, ...]:
    """The open questions of a page. Raises PageRefused where the block has another form."""
    reading = Reading(page)
    asked = read_open(reading)
    reading.finish(f"{page.path} cannot be read.")
    return asked


def read_open(reading: Reading) -> tuple[OpenQuestion, ...]:
    """The open questions of a page that is being read."""
    return tuple(
        OpenQuestion(
            item=item,
            was=reading.text("open", item, "was"),
            proposals=tuple(pair for pair in reading.pairs("open", item) if pair[0] != "was"),
        )
        for item in reading.keys("open")
    )


def code_on(page: Page) -> str:
    """The code of a trial's page, or ""."""
    return Reading(page).text("code")
