"""What of a line at the bench cannot be so: a time days away, an end before its start, a figure that cannot be.

Such words are kept as words; each function says why, in a clause, or "" where all is well.
"""

from __future__ import annotations

import re
from datetime import timedelta
from typing import TYPE_CHECKING

from ovenleaf.domain.bench_limits import impossible
from ovenleaf.domain.bench_plan import Kind
from ovenleaf.domain.bench_words import Says
from ovenleaf.domain.log import log_lines

if TYPE_CHECKING:
    from collections.abc import Iterable
    from datetime import datetime
    from decimal import Decimal

    from ovenleaf.domain.bench_clauses import Clause
    from ovenleaf.domain.bench_clock import Seen
    from ovenleaf.domain.hearing import Bench

_BEFORE_BEGIN = timedelta(days=2)  # a culture may have been fed before the dough was begun in the book
_EARLY = (Kind.AHEAD, Kind.WAIT, Kind.MIX)  # what may be told of a dough that came into the book later
_BELOW_ZERO = re.compile(r"\bloss\W+(?:of\s+)?[-\u2212]\s*\d", re.IGNORECASE)
_CUT_OFF = "did the shell take the rest"


def too_far(part: Seen, clauses: tuple[Clause, ...], bench: Bench) -> str:
    """Why a line cannot be of that time: long before the bake was begun, or the day before where none was said."""
    begun = log_lines((f"{bench.trial.started} begun",))
    if not begun or part.at >= begun[0].at:
        return ""
    code = bench.trial.code
    if part.at < begun[0].at - _BEFORE_BEGIN:
        return f"that is days before {code} was begun"
    early = any(c.event and c.event.step and c.event.step.kind in _EARLY for c in clauses)
    if part.day_before and not early:
        clock = f"{part.at:%H:%M}"
        return f"{clock} is still to come, and the day before {code} was not begun; else say yesterday {clock}"
    return ""


def before_its_start(clauses: Iterable[Clause], at: datetime, bench: Bench) -> str:
    """Why a step cannot have ended then: it began after that; "" where it can."""
    for event in (clause.event for clause in clauses if clause.event is not None):
        if event.step is None or event.says is not Says.ENDS or event.step.kind is Kind.HAND:
            continue
        runs = [run for run in bench.runs if run.step == event.step]
        going = [run.began for run in runs if run.running and run.began is not None]
        began = going[-1:] or sorted(run.began for run in runs if run.began is not None)[:1]
        if began and began[0] > at:
            return f"{event.step.said} began at {began[0]:%H:%M} and cannot have ended at {at:%H:%M}"
    return ""


def why_not(clause: Clause, boiling: Decimal) -> str:
    """Why a clause is kept as words: a figure that cannot be, or one that can be read in two ways."""
    below = "a loss cannot be below zero" if _BELOW_ZERO.search(clause.typed) else ""
    whys = (below, *(impossible(one, boiling) for one in clause.fields), *clause.doubts)
    return next((why for why in whys if why and _CUT_OFF not in why), "")
