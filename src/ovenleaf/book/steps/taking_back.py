"""A line at the bench taken back, visibly: the page's fields are as before it, the log keeps it and says so."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain.log import TAKEN_BACK, LogLine
from ovenleaf.records.codec.trial_edits import with_correction, with_lines
from ovenleaf.records.codec.trials import read_trial

if TYPE_CHECKING:
    from collections.abc import Iterable
    from datetime import datetime

    from ovenleaf.domain.trial import Correction
    from ovenleaf.records.nodes import Page


def line_taken_back(
    before: Page, now: Page, words: Iterable[str], undone: Iterable[Correction], *, by: str, at: datetime
) -> Page:
    """The page as it was `before` the line, with all lines and corrections it has gained since, and a word on this.

    `words` are those of the log's lines that are taken back; `undone` names each field that goes back.
    """
    old, new = read_trial(before), read_trial(now)
    speaker = "" if by == new.baker else by
    marks = (str(LogLine(at=at, words=f"{TAKEN_BACK}{line}", by=speaker)) for line in words)
    page = with_lines(before, ("log",), (*new.log[len(old.log) :], *marks))
    for made in (*new.corrections[len(old.corrections) :], *undone):
        page = with_correction(page, made)
    return page
