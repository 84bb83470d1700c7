"""A line at the bench in its clauses, each read against the plan: what it says of a step, its figures, its words."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from ovenleaf.domain import benchline
from ovenleaf.domain.bench_plan import Kind
from ovenleaf.domain.bench_words import Event, Says, event
from ovenleaf.domain.benchvalues import Field, Heat, Pieces
from ovenleaf.domain.durations import Duration

if TYPE_CHECKING:
    from ovenleaf.domain.bench_plan import PlanStep
    from ovenleaf.domain.benchline import BenchLine

_JOINED = re.compile(r"(?<=[^\W\d])\s*[&+/]\s*(?=[^\W\d])|\s+and\s+", re.IGNORECASE)
_BARE_SHARE = re.compile(r"\d+(?:[.,]\d+)? ?%")


@dataclass(frozen=True, slots=True, kw_only=True)
class Clause:
    """One clause of a line: what it says of a step, its figures, its words where it says nothing of one."""

    typed: str
    event: Event | None
    fields: tuple[Field, ...]
    words: str
    doubts: tuple[str, ...]

    @property
    def time(self) -> Duration | None:
        """How long the step took, as told."""
        return next((field.value for field in self.fields if isinstance(field.value, Duration)), None)

    @property
    def is_of_bake(self) -> bool:
        """True where it says something of the step in the oven."""
        return _is_of(self, Kind.BAKE)


def clauses_of(text: str, plan: tuple[PlanStep, ...]) -> tuple[Clause, ...]:
    """A line's clauses, each read against the plan. Times of the clock are not among the fields."""
    clauses = tuple(clause for typed in benchline.clauses(text) for clause in _parted(typed, plan))
    return tuple(_in_its_line(clause, clauses, plan) for clause in clauses)


def _parted(typed: str, plan: tuple[PlanStep, ...]) -> tuple[Clause, ...]:
    """`shaped & covered` is two clauses where the first of them says something of a step; a remark is one."""
    whole = _clause(typed, plan)
    if whole.event is not None or not whole.words:
        return (whole,)
    first, *others = (_clause(part.strip(), plan) for part in _JOINED.split(typed) if part.strip())
    return (first, *others) if first.event is not None else (whole,)


def _in_its_line(clause: Clause, line: tuple[Clause, ...], plan: tuple[PlanStep, ...]) -> Clause:
    """Beside the end of bulk `60%` alone is its rise; beside the end of mixing `25.5 C` alone is the dough's heat."""
    if _BARE_SHARE.fullmatch(clause.typed) and any(_is_of(one, Kind.WAIT) for one in line):
        return _clause(f"rise {clause.typed}", plan)
    heat = next((field for field in clause.fields if field.name == "temperature"), None)
    if heat is None or clause.words or not any(_ends_mixing(one, plan) for one in line):
        return clause
    if not isinstance(heat.value, Heat) or len(heat.value.temperatures) > 1:
        return clause
    dough = replace(heat, name="dough temperature", value=heat.value.temperatures[0])
    return replace(clause, fields=tuple(dough if field is heat else field for field in clause.fields))


def _is_of(clause: Clause, kind: Kind) -> bool:
    return clause.event is not None and clause.event.step is not None and clause.event.step.kind is kind


def _ends_mixing(clause: Clause, plan: tuple[PlanStep, ...]) -> bool:
    """True for a clause that says that the last of the mixing is over."""
    if not _is_of(clause, Kind.MIX):
        return False
    assert clause.event is not None
    last = [step for step in plan if step.kind is Kind.MIX][-1]
    return clause.event.step == last and (clause.event.says is Says.ENDS or clause.time is not None)


def _clause(typed: str, plan: tuple[PlanStep, ...]) -> Clause:
    read = benchline.read(typed)
    found = event(read.words.replace(",", " "), plan) if read.words else _divided(read, plan)
    if found and read.get("weight") is not None and read.words.lower() == "baked":
        found = None  # `1480 g baked` is what the bread weighs, whenever it came out
    fields = tuple(field for field in read.fields if field.name not in ("ago", "clock"))
    return Clause(
        typed=typed,
        event=found[0] if found else None,
        fields=fields,
        words=read.words if found is None else found[1],
        doubts=read.doubts,
    )


def _divided(read: BenchLine, plan: tuple[PlanStep, ...]) -> tuple[Event, str] | None:
    """`12 rolls of 85 g`, and no word beside it: the dough is divided."""
    pieces = read.get("pieces")
    return event("divided", plan) if isinstance(pieces, Pieces) and pieces.each else None
