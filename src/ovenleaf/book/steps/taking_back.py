"""A line at the bench taken back, visibly: the page's fields are as before it, the log keeps it and says so."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.compare.trials import trial_facts
from ovenleaf.domain.log import TAKEN_BACK, LogLine
from ovenleaf.domain.trial import Correction
from ovenleaf.records.codec.trial_edits import with_correction, with_lines
from ovenleaf.records.codec.trials import read_trial

if TYPE_CHECKING:
    from collections.abc import Iterator
    from datetime import datetime

    from ovenleaf.domain.trial import Trial
    from ovenleaf.records.nodes import Page


@dataclass(frozen=True, slots=True, kw_only=True)
class Taker:
    """Who takes a line back, when, and why."""

    by: str
    at: datetime
    why: str


def line_taken_back(before: Page, now: Page, words: tuple[str, ...], taker: Taker) -> Page:
    """The page as it was `before` the line, with all lines and corrections it has gained since, and a word on this.

    `words` are those of the log's lines that are taken back.

    Each field that goes back is named as a correction.
    """
    old, new = read_trial(before), read_trial(now)
    by = "" if taker.by == new.baker else taker.by
    marks = (str(LogLine(at=taker.at, words=f"{TAKEN_BACK}{line}", by=by)) for line in words)
    page = with_lines(before, ("log",), (*new.log[len(old.log) :], *marks))
    for made in (*new.corrections[len(old.corrections) :], *_undone(old, new, taker)):
        page = with_correction(page, made)
    return page


def _undone(old: Trial, new: Trial, taker: Taker) -> Iterator[Correction]:
    before, after = trial_facts(old), trial_facts(new)
    when = taker.at.isoformat(timespec="seconds")
    for field in dict.fromkeys((*before, *after)):
        was, now = after.get(field, ""), before.get(field, "")
        if was != now and not field.startswith(("log.", "corrections.")):
            yield Correction(field=field, was=was, now=now, by=taker.by, at=when, why=taker.why)
