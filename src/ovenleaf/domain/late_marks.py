"""Marks that came after the day of baking: a line of the trial's log says when, and who typed them in."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from ovenleaf.domain.figures import mark_as_given
from ovenleaf.domain.log import LogLine, standing_lines
from ovenleaf.domain.trial import ATTRIBUTES

if TYPE_CHECKING:
    from datetime import datetime

    from ovenleaf.domain.trial import Marks, Trial

_MARK = rf"(?:{'|'.join(ATTRIBUTES)}) [^\s,]+"
_WORDS = re.compile(rf"(?P<marks>{_MARK}(?:, {_MARK})*) from (?P<taster>[a-z][a-z0-9-]*), added by [a-z][a-z0-9-]*")


def late_line(at: datetime, marks: tuple[tuple[str, str], ...], taster: str, by: str) -> str:
    """The line of the log for marks that a taster gave, each as (what was marked, the mark)."""
    told = ", ".join(f"{name} {value}" for name, value in marks)
    return str(LogLine(at=at, words=f"{told} from {taster}, added by {by}"))


def late_lines(trial: Trial, marks: Marks, by: str, at: datetime) -> tuple[str, ...]:
    """The line for marks that a taster gives now and that the trial has not; none on the day of baking itself."""
    if not trial.bake_date or at.date().isoformat() <= trial.bake_date:
        return ()
    known = next((one for one in trial.scores if one.taster == marks.taster), None)
    new = tuple(
        (name, mark_as_given(value))
        for name in ATTRIBUTES
        if (value := getattr(marks, name)) is not None and (known is None or getattr(known, name) is None)
    )
    return (late_line(at, new, marks.taster, by),) if new else ()


def told_late(trial: Trial) -> dict[tuple[str, str], datetime]:
    """When each late mark was added, by its taster and what was marked."""
    read = ((line.at, _WORDS.fullmatch(line.words)) for line in standing_lines(trial.log))
    return {(said["taster"], mark.split()[0]): at for at, said in read if said for mark in said["marks"].split(", ")}
