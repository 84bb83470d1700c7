"""What a baker tells of one bake, from options, words or a page: to be put on a trial's page."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain import benchline
from ovenleaf.domain.benchvalues import Field, Pieces
from ovenleaf.domain.trial import ATTRIBUTES, Marks

if TYPE_CHECKING:
    from collections.abc import Iterable

Pairs = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """Everything told of one bake. "" and () are not told. `steps` holds (step, line as typed)."""

    bake_date: str = ""
    started: str = ""
    baker: str = ""
    batch: str = ""
    question: str = ""
    weighed: Pairs = ()
    as_planned: str = ""
    flours: Pairs = ()
    kitchen: Pairs = ()
    steps: Pairs = ()
    measured: Pairs = ()
    marks: tuple[Marks, ...] = ()
    log: tuple[str, ...] = ()
    left_out: str = ""
    plan: Pairs = ()
    doubts: tuple[str, ...] = ()


def together(first: Said, second: Said) -> Said:
    """Both, the second after the first; a single thing told twice is as the second says."""
    return Said(
        bake_date=second.bake_date or first.bake_date,
        started=second.started or first.started,
        baker=second.baker or first.baker,
        batch=second.batch or first.batch,
        question=second.question or first.question,
        weighed=_pairs(first.weighed, second.weighed),
        as_planned=second.as_planned or first.as_planned,
        flours=_pairs(first.flours, second.flours),
        kitchen=_pairs(first.kitchen, second.kitchen),
        steps=first.steps + second.steps,
        measured=_pairs(first.measured, second.measured),
        marks=_marks(first.marks, second.marks),
        log=first.log + second.log,
        left_out=second.left_out or first.left_out,
        plan=_pairs(first.plan, second.plan),
        doubts=first.doubts + second.doubts,
    )


def _pairs(first: Pairs, second: Pairs) -> Pairs:
    return tuple((dict(first) | dict(second)).items())


def _marks(first: tuple[Marks, ...], second: tuple[Marks, ...]) -> tuple[Marks, ...]:
    found = {marks.taster: marks for marks in first}
    for marks in second:
        known = found.get(marks.taster)
        found[marks.taster] = marks if known is None else joined(known, marks)
    return tuple(found.values())


def joined(known: Marks, more: Marks) -> Marks:
    """One taster's marks with what was added; what `more` does not say stays."""
    return replace(
        known,
        crumb=known.crumb if more.crumb is None else more.crumb,
        crust=known.crust if more.crust is None else more.crust,
        flavour=known.flavour if more.flavour is None else more.flavour,
        bake_again=known.bake_again if more.bake_again is None else more.bake_again,
        faults=tuple(dict.fromkeys((*known.faults, *more.faults))),
        hours_after=known.hours_after if more.hours_after is None else more.hours_after,
        blind=known.blind if more.blind is None else more.blind,
        note="; ".join(filter(None, (known.note, more.note))),
        out_of=(*known.out_of, *more.out_of),
    )


_MEASURED = {"dough temperature", "core temperature", "core", "ph", "rise"}
_NAMED = {"core": "core temperature", "ph": "pH"}


def in_words(text: str, *, taster: str, steps: Iterable[str], flours: Iterable[str]) -> Said:
    """A bake in spoken order: `crumb 5, crust 7, dough 24C, bulk 55 min, tight`.

    A clause that begins with the name of a step is that step as done; what is not understood is
    the taster's note where there are marks, or else stands in the log, word for word.
    """
    names = sorted(steps, key=len, reverse=True)
    known = tuple(flours)
    said = Said()
    notes: list[str] = []
    before = ""
    for clause in benchline.clauses(text):
        said = together(said, Said(doubts=_half_told(before, clause)))
        before = clause
        step = next((name for name in names if _begins(clause, name)), None)
        if step is not None:
            said = together(said, _as_step(step, clause[len(step) :].lstrip(" :")))
        else:
            more, words = _clause(clause, taster, known)
            said = together(said, more)
            notes += [words] if words else []
    note = ", ".join(notes)
    if not note:
        return said
    told = Said(marks=(Marks(taster=taster, note=note),)) if said.marks else Said(log=(note,))
    return together(said, told)


def _half_told(before: str, clause: str) -> tuple[str, ...]:
    """What should be asked about a clause that says too little: `crumb` alone, or the 5 of `crumb 6, 5`.

    >>> _half_told("", "crumb")
    ('crumb has no mark; write crumb 7',)
    """
    if re.fullmatch(r"\d+", clause) and re.search(r"(?<![\d.,])\d+$", before):
        return (f"{before}, {clause} can be read in two ways; write {before},{clause} or say what the {clause} is",)
    if clause.lower() in ATTRIBUTES:
        return (f"{clause} has no mark; write {clause} 7",)
    return ()


def _begins(clause: str, name: str) -> bool:
    low = clause.lower()
    return low.startswith(name.lower()) and not low[len(name) : len(name) + 1].isalnum()


def _as_step(step: str, line: str) -> Said:
    return Said(steps=((step, line),), doubts=benchline.read(line).doubts)


def _clause(clause: str, taster: str, flours: tuple[str, ...]) -> tuple[Said, str]:
    line = benchline.read(clause)
    said = Said(doubts=line.doubts)
    words = line.words
    for field in line.fields:
        more = _field(field, words, taster, line, flours)
        if more is None:
            return said, clause
        said = together(said, more)
    if line.get("weight") is not None:
        words = ""
    if words and (line.get("crumb") is not None or line.get("crust") is not None):
        return together(said, Said(marks=(Marks(taster=taster, faults=(words,)),))), ""
    return said, words


def _field(field: Field, words: str, taster: str, line: benchline.BenchLine, flours: tuple[str, ...]) -> Said | None:
    """Where one understood field goes on a trial's page; None if the clause is better kept as words."""
    shown = benchline.show(field).replace("°", "")
    match field.name:
        case "crumb" | "crust":
            assert isinstance(field.value, Decimal)
            given = {field.name: field.value}
            return Said(marks=(Marks(taster=taster, crumb=given.get("crumb"), crust=given.get("crust")),))
        case name if name in _MEASURED:
            return Said(measured=((_NAMED.get(name, name), shown.removeprefix("pH ")),))
        case "room":
            return Said(kitchen=(("room", shown),))
        case "oven":
            return Said(steps=(("bake", shown),))
        case "pieces":
            assert isinstance(field.value, Pieces)
            return Said(measured=(("pieces", str(field.value.count)),))
        case "weight":
            return _weight(shown, words, line)
        case "out of":
            assert isinstance(field.value, Decimal)
            return Said(marks=(Marks(taster=taster, out_of=(field.value,)),))
        case "flour":
            return Said()
        case "lot":
            flour = line.get("flour") or (flours[0] if len(flours) == 1 else None)
            return None if flour is None else Said(flours=((str(flour), shown),))
        case "added":
            return Said(log=(field.typed or str(field.value),))
    return None


def _weight(shown: str, words: str, line: benchline.BenchLine) -> Said | None:
    """A weight by what is said beside it: cold or baked, or dough."""
    low = words.lower()
    if any(word in low for word in ("cold", "cool", "baked", "out")):
        return Said(measured=(("baked weight", shown),))
    if "dough" in low or "raw" in low:
        return Said(measured=(("dough weight", shown),))
    if isinstance(pieces := line.get("pieces"), Pieces) and pieces.each:
        return Said(batch=f"{pieces} of {shown}")
    return None
