"""What an undo takes back, thing by thing, as facts for a screen."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Kind(StrEnum):
    """What became of a thing."""

    PAGE = "page"  # a formula's page as it was before
    NO_PAGE = "no page"  # a formula that was new has no page in use any more
    REVISION = "revision"  # marked taken back; its page stays
    MARK = "mark"  # a mark of a revision that no longer stands
    ANSWER = "answer"  # a figure that was called meant, and is asked about again
    AWAY = "away"  # a formula that was taken out again, and is put away as before
    BACK = "back"  # a formula that was put away, and is in use as before
    PUBLISHED = "published"  # a page that went out, and is not looked after any more; its file stays
    OUT = "out"  # a page that was said to be out no more, and is looked after as before
    WITHDRAWN = "withdrawn"  # a trial that stays and counts no more
    VALUES = "values"  # values of a trial as they were before
    FILE = "file"  # any other page as it was before
    NO_FILE = "no file"  # any other page that was new, and is not there any more


@dataclass(frozen=True, slots=True, kw_only=True)
class TakenBack:
    """One thing: its `name` (formula, trial's code, file); what of it: a revision, a mark and its revision, what was
    answered about, the state before, names of values; and `lines` of a trial's log."""

    kind: Kind
    name: str
    what: tuple[str, ...] = ()
    lines: tuple[str, ...] = ()
