"""A formula as plain facts, so that two can be compared whichever way their pages are written.

Percentages are of all the flour, to a hundredth of a point (to a thousandth below one percent):
finer than any scale at the bench, so that grams and percents of one dough compare equal.
"""

from __future__ import annotations

from collections import Counter
from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain.benchvalues import show
from ovenleaf.domain.numbers import rounded, share_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from ovenleaf.compare.changes import Key
    from ovenleaf.domain.benchline import BenchLine
    from ovenleaf.domain.formula import Formula, Step
    from ovenleaf.domain.percent import Worked, WorkedPart

Facts = dict["Key", Decimal | str]

WHOLE, NOTE, OUTSIDE, SAID = "whole", "note", "outside", "said"
PART, TAKES, HYDRATION, OWN, REST = "part", "takes", "hydration", "own", "rest"
PROCESS, ORDER, WORDS = "process", "order", "words"


def grained(value: Decimal) -> Decimal:
    """A percentage to a hundredth of a point, to a thousandth below one percent."""
    return rounded(value, 2 if abs(value) >= 1 else 3).normalize()


def formula_facts(formula: Formula, worked: Worked) -> Facts:
    """All that a formula says, as facts with a key each."""
    facts: Facts = {}
    for share in worked.whole:
        facts[WHOLE, share.item] = grained(share.pct)
        if share.note:
            facts[NOTE, share.item] = share.note
    for part in worked.parts:
        facts |= _part_facts(part)
    for line in formula.outside:
        facts[OUTSIDE, line.item] = ", ".join(filter(None, (str(line.amount or line.word), line.note)))
    for key, text in (*formula.aims, *formula.losses, ("makes", formula.makes), ("score after", formula.score_after)):
        if text:
            facts[SAID, key] = text
    return facts | process_facts(formula.process)


def _part_facts(part: WorkedPart) -> Facts:
    facts: Facts = {(PART, part.name, TAKES): grained(part.flour)}
    if part.flour:
        facts[PART, part.name, HYDRATION] = grained(share_of(part.water, part.flour))
    for line in part.lines:
        own = line.pct if line.own is None else line.own
        facts[PART, part.name, OWN, line.item] = grained(own)
    if part.rest:
        facts[PART, part.name, REST] = part.rest
    return facts


def process_facts(process: tuple[Step, ...]) -> Facts:
    """What each step says, field by field, and the order of the steps."""
    facts: Facts = {}
    names = tuple(_numbered(process))
    for name, step in zip(names, process, strict=True):
        facts[PROCESS, name] = "yes"
        for field, text in line_fields(step.line):
            facts[PROCESS, name, field] = text
    if names:
        facts[(ORDER,)] = ", ".join(names)
    return facts


def _numbered(process: tuple[Step, ...]) -> Iterator[str]:
    """Step names, told apart where one comes twice: `fold`, `fold 2`."""
    seen: Counter[str] = Counter()
    for step in process:
        seen[step.name] += 1
        yield step.name if seen[step.name] == 1 else f"{step.name} {seen[step.name]}"


def line_fields(line: BenchLine) -> Iterator[tuple[str, str]]:
    """The fields of a line as words, those of one name together, and the rest of its words."""
    names = dict.fromkeys(field.name for field in line.fields)
    for name in names:
        yield name, ", ".join(show(field) for field in line.fields if field.name == name)
    if line.words:
        yield WORDS, line.words
