"""A trial only gains: what a page may not lose or change unless its corrections name it."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from ovenleaf.domain.trial import Marks, Trial

_PLAIN = (
    "name",
    "formula",
    "revision",
    "code",
    "baker",
    "question",
    "bake_date",
    "started",
    "entered",
    "batch",
    "as_planned",
    "shares_dough_with",
    "left_out",
    "pin",
)
_PAIRS = ("weighed", "flours", "kitchen", "measured", "plan")
_MARKS = ("crumb", "crust", "flavour", "bake_again", "hours_after", "blind", "note")


def trial_facts(trial: Trial) -> dict[str, str]:
    """Each recorded value by the name that a correction gives it: `weighed.water`, `scores.noor.crumb`."""
    return dict(_facts(trial))


def _facts(trial: Trial) -> Iterator[tuple[str, str]]:
    yield from ((field, text) for field in _PLAIN if (text := getattr(trial, field)))
    if trial.scale is not None:
        yield "scale", str(trial.scale)
    for block in _PAIRS:
        yield from ((f"{block}.{key}", text) for key, text in getattr(trial, block))
    for place, step in enumerate(trial.steps, start=1):
        yield f"steps.{place}", f"{step.name}: {step.line.typed}"
    for marks in trial.scores:
        yield from _mark_facts(marks)
    yield from ((f"photos.{place}", file) for place, file in enumerate(trial.photos, start=1))
    yield from ((f"log.{place}", line) for place, line in enumerate(trial.log, start=1))
    for place, made in enumerate(trial.corrections, start=1):
        yield f"corrections.{place}", "; ".join((made.field, made.was, made.now, made.by, made.at, made.why))


def _mark_facts(marks: Marks) -> Iterator[tuple[str, str]]:
    start = f"scores.{marks.taster}"
    for field in _MARKS:
        value = getattr(marks, field)
        if value not in (None, ""):
            yield f"{start}.{field}", str(value)
    yield from ((f"{start}.faults.{fault}", fault) for fault in marks.faults)


def lost(before: Trial, after: Trial) -> tuple[str, ...]:
    """The names of values that `after` changed or dropped without a correction that names them.

    A step, a picture or a line of the log may be added anywhere; what stood there before stays what it was.
    """
    old, new = trial_facts(before), trial_facts(after)
    named = {made.field for made in after.corrections[len(before.corrections) :]}
    listed = Counter((_list_of(key), value) for key, value in new.items())
    gone = []
    for key, value in old.items():
        in_list = _list_of(key), value
        listed[in_list] -= 1
        kept = listed[in_list] >= 0 if in_list[0] else new.get(key) == value
        if not kept and key not in named:
            gone.append(key)
    return tuple(gone)


def _list_of(key: str) -> str:
    """The list a value stands in by its place, or ""."""
    block = key.partition(".")[0]
    return block if block in ("steps", "photos", "log", "corrections") else ""
