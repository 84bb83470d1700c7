"""A trial as it was before an entry: values go back and are named among its corrections; a new one is withdrawn."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from ovenleaf.book import git
from ovenleaf.book.steps.opening import working_page
from ovenleaf.book.steps.taking_back import line_taken_back
from ovenleaf.domain.log import log_line
from ovenleaf.domain.taken_back import Kind, TakenBack
from ovenleaf.domain.trial import Correction, State, Trial
from ovenleaf.domain.trial_facts import undone
from ovenleaf.errors import Place, Refusal
from ovenleaf.records.codec.trial_edits import with_correction, with_field
from ovenleaf.records.codec.trials import read_trial
from ovenleaf.records.page_bytes import decode
from ovenleaf.records.yaml_text import read

if TYPE_CHECKING:
    from pathlib import Path

    from ovenleaf.book.entries import PageChange
    from ovenleaf.book.steps.signing import Stamp
    from ovenleaf.records.nodes import Page


class ChangedSince(Refusal):
    """A page is no longer what the entry made of it. Fact: `page`."""

    def __init__(self, page: str) -> None:
        super().__init__(
            f"{page} has been changed in another way since, so that entry cannot be taken back by itself.",
            where=Place(page),
            detail=("Put the page right by hand, and save it with the reason.",),
        )
        self.page = page


def former_bytes(root: Path, change: PageChange) -> bytes | None:
    """A page's bytes before an entry, None where there was none. Raises ChangedSince unless it is as it left it."""
    if git.ids_at(root, git.head(root), (change.path,))[change.path] != change.new:
        raise ChangedSince(change.path)
    return None if change.old is None else git.read_blobs(root, (change.old,))[change.old]


def trial_back(
    root: Path, change: PageChange, stamp: Stamp, why: str
) -> tuple[dict[str, str | bytes | None], tuple[TakenBack, ...]]:
    """A trial's page without what an entry put there, and what is to be said of it. Raises ChangedSince."""
    now = working_page(root, change.path)
    trial = read_trial(now)
    left = _read(root, change.new, change.path)
    if left is None or _plain(trial) != _plain(read_trial(left)):
        raise ChangedSince(change.path)
    before = _read(root, change.old, change.path)
    if before is None:
        made = _state(trial, State.WITHDRAWN, stamp, why)
        page = with_correction(with_field(now, ("state",), State.WITHDRAWN.value), made)
        return {change.path: page.text}, (TakenBack(kind=Kind.WITHDRAWN, name=trial.code, what=(trial.state.value,)),)
    was = read_trial(before)
    going = undone(was, trial, by=stamp.by, at=stamp.saved, why=why)
    if was.state is not trial.state:
        going = (*going, _state(trial, was.state, stamp, why))
    words = _logged(was, read_trial(left))
    page = line_taken_back(before, now, words, going, by=stamp.by, at=stamp.at)
    told = TakenBack(kind=Kind.VALUES, name=trial.code, what=tuple(made.field for made in going), lines=words)
    return {change.path: page.text}, (told,)


def _read(root: Path, found: str | None, page: str) -> Page | None:
    if found is None:
        return None
    return read(decode(git.read_blobs(root, (found,))[found], page), path=page)


def _plain(trial: Trial) -> Trial:
    """A trial without what only ever grows."""
    return replace(trial, log=(), corrections=())


def _state(trial: Trial, now: State, stamp: Stamp, why: str) -> Correction:
    return Correction(field="state", was=trial.state.value, now=now.value, by=stamp.by, at=stamp.saved, why=why)


def _logged(before: Trial, after: Trial) -> tuple[str, ...]:
    """The words of the lines that an entry put in the log."""
    lines = (log_line(text) for text in after.log[len(before.log) :])
    return tuple(line.words for line in lines if line is not None)
