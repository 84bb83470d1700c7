"""A trial only gains: what a page may not lose or change unless its corrections name it."""

from __future__ import annotations

import re
from collections import Counter
from typing import TYPE_CHECKING

from ovenleaf.domain import benchline
from ovenleaf.domain.trial import Correction

if TYPE_CHECKING:
    from collections.abc import Iterator

    from ovenleaf.domain.formula import Step
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
# What a page is called by, and what its revision brings with it; never put right by themselves.
FIXED = ("name", "formula", "code", "pin")
_LEAD = re.compile(r"(?:at|dough|core|until|ph)\s+", re.IGNORECASE)  # what a bench line says before a field
_PAIRS = ("weighed", "flours", "kitchen", "measured", "plan")
_MARKS = ("crumb", "crust", "flavour", "bake_again", "hours_after", "blind", "note")


def trial_facts(trial: Trial) -> dict[str, str]:
    """Each recorded value by the name that a correction gives it: `weighed.water`, `scores.noor.crumb`.

    The second step of a name is `steps.fold 2`; the lines of the log are told by their place, from 1.
    """
    return dict(_facts(trial))


def _facts(trial: Trial) -> Iterator[tuple[str, str]]:
    yield from ((field, text) for field in _PLAIN if (text := getattr(trial, field)))
    if trial.scale is not None:
        yield "scale", str(trial.scale)
    for block in _PAIRS:
        yield from ((f"{block}.{key}", text) for key, text in getattr(trial, block))
    yield from ((f"steps.{name}", step.line.typed or step.name) for name, step in numbered(trial.steps))
    for marks in trial.scores:
        yield from _mark_facts(marks)
    yield from ((f"photos.{place}", photo) for place, photo in enumerate(trial.photos, start=1))
    yield from ((f"log.{place}", line) for place, line in enumerate(trial.log, start=1))
    for place, made in enumerate(trial.corrections, start=1):
        yield f"corrections.{place}", "; ".join((made.field, made.was, made.now, made.by, made.at, made.why))


def value_of(trial: Trial, field: str) -> str:
    """What a trial says under a correction's name, "" for nothing; `steps.bulk.time` is found in the step's line."""
    if field == "state":
        return trial.state.value
    facts = trial_facts(trial)
    if field in facts:
        return facts[field]
    step, _, name = field.removeprefix("steps.").rpartition(".")
    line = next((one.line for known, one in numbered(trial.steps) if known == step), None)
    said = next((found for found in (line.fields if line else ()) if found.name == name), None)
    return _LEAD.sub("", said.typed) if said else ""


def numbered(steps: tuple[Step, ...]) -> Iterator[tuple[str, Step]]:
    """Each step under the name that tells it from the others: `fold`, and the second of them `fold 2`."""
    seen: Counter[str] = Counter()
    for step in steps:
        seen[step.name] += 1
        yield step.name if seen[step.name] == 1 else f"{step.name} {seen[step.name]}", step


def _mark_facts(marks: Marks) -> Iterator[tuple[str, str]]:
    start = f"scores.{marks.taster}"
    for field in _MARKS:
        value = getattr(marks, field)
        if value not in (None, ""):
            yield f"{start}.{field}", str(value).lower() if isinstance(value, bool) else str(value)
    yield from ((f"{start}.faults.{fault}", fault) for fault in marks.faults)


def lost(before: Trial, after: Trial) -> tuple[str, ...]:
    """The names of values that `after` changed or dropped without a correction that names them.

    A step or a line of the log may be added anywhere; what stood there before stays what it was. The
    pin goes with the revision, and a step with any of its fields (`steps.bulk.time`).
    """
    old, new = trial_facts(before), trial_facts(after)
    named = {made.field for made in after.corrections[len(before.corrections) :]}
    listed = Counter((_list_of(key), value) for key, value in new.items())
    gone = []
    for key, value in old.items():
        in_list = _list_of(key), value
        listed[in_list] -= 1
        kept = listed[in_list] >= 0 if in_list[0] else new.get(key) == value
        if not kept and not _is_named(key, named) and not _more_is_told(key, before, after):
            gone.append(key)
    return tuple(gone)


def _more_is_told(key: str, before: Trial, after: Trial) -> bool:
    """True for a step whose line says what it said before, and more."""
    if not key.startswith("steps."):
        return False
    lines = [dict(numbered(trial.steps)).get(key.removeprefix("steps.")) for trial in (before, after)]
    old, new = (Counter(benchline.clauses(step.line.typed)) if step else Counter() for step in lines)
    return bool(old) and old <= new


def still_unnamed(before: Trial, after: Trial, fields: tuple[str, ...]) -> tuple[str, ...]:
    """Those of the fields that no correction since `before` names, and that are not again what they were."""
    named = {made.field for made in after.corrections[len(before.corrections) :]}
    return tuple(f for f in fields if not _is_named(f, named) and value_of(before, f) != value_of(after, f))


def _is_named(key: str, named: set[str]) -> bool:
    if key == "pin":
        return "revision" in named
    return key in named or (key.startswith("steps.") and any(field.startswith(f"{key}.") for field in named))


def _list_of(key: str) -> str:
    """The list a value stands in by its place, or ""; a step belongs to those of its name."""
    block, _, name = key.partition(".")
    if block == "steps":
        return f"steps.{name.rstrip('0123456789').rstrip()}"
    return block if block in ("log", "photos", "corrections") else ""


def corrections_of(
    before: Trial, after: Trial, fields: tuple[str, ...], *, by: str, at: str, why: str
) -> tuple[Correction, ...]:
    """The corrections that name what became of `fields`: each with what it was and what it is, "" for not there."""
    old, new = trial_facts(before), trial_facts(after)
    return tuple(
        Correction(field=field, was=old.get(field, ""), now=new.get(field, ""), by=by, at=at, why=why)
        for field in fields
    )


def undone(before: Trial, now: Trial, *, by: str, at: str, why: str) -> tuple[Correction, ...]:
    """The corrections that name each value as it goes back from what it is `now` to what it was `before`.

    The log and the corrections themselves never go back.
    """
    old, new = trial_facts(before), trial_facts(now)
    back = tuple(
        field
        for field in dict.fromkeys((*old, *new))
        if old.get(field) != new.get(field) and _list_of(field) not in ("log", "corrections")
    )
    return corrections_of(now, before, back, by=by, at=at, why=why)
