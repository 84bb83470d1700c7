"""What a line says beside steps and readings: weights, flours, the room, bread on the scale; else a note."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from ovenleaf.domain.batch import flour_in_batch
from ovenleaf.domain.bench_bread import Scale, weighed_bread
from ovenleaf.domain.bench_echo import Echo, Kept, Note, Stands, Weighed
from ovenleaf.domain.bench_readings import READINGS
from ovenleaf.domain.bench_sizes import sizes
from ovenleaf.domain.bench_weights import added, back_in, item_meant, none_went_in, told_weight
from ovenleaf.domain.benchvalues import Added, show
from ovenleaf.domain.figures import grams as in_words
from ovenleaf.domain.ingredients import Kind
from ovenleaf.domain.quantity import AmountFault, temperature
from ovenleaf.domain.said import Said

if TYPE_CHECKING:
    from collections.abc import Iterator

    from ovenleaf.domain.bench_clauses import Clause
    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.sheet import Sheet
    from ovenleaf.domain.trial import Trial

_OF_KITCHEN = re.compile(
    r"(?P<what>water|flour|milk|preferment) (?:is |was |at |of |temp(?:erature)? )*(?P<heat>[\d.,]+ ?°? ?[cf])",
    re.IGNORECASE,
)


def rest_of(clause: Clause, scale: Scale, pantry: Pantry) -> Iterator[tuple[Echo, Said]]:
    """What of one clause is no step and no reading; a clause of which nothing is understood is a note."""
    trial, sheet = scale.trial, scale.sheet
    bread = weighed_bread(clause, scale)
    if clause.event is not None and not (bread and clause.is_of_bake):
        return
    if bread is not None:
        echoes, measured = bread
        yield from ((echo, Said(measured=measured if place == 0 else ())) for place, echo in enumerate(echoes))
        return
    names = {field.name for field in clause.fields}
    if "added" in names:
        yield from _added(clause, trial, sheet, pantry)
    elif "lot" in names:
        yield _lot(clause, trial, sheet)
    elif names & {"crumb", "crust"}:
        yield Note(text=clause.typed, hint=f"Marks go in with finish, or with ovenleaf score {trial.code}."), Said()
    elif "room" in names:
        yield _kitchen("room", next(show(f) for f in clause.fields if f.name == "room").replace("°", ""), trial)
    elif not names or clause.words:
        yield _words(clause, trial, sheet, pantry)
    elif not names <= set(READINGS):
        yield Note(text=clause.typed), Said()


def _added(clause: Clause, trial: Trial, sheet: Sheet, pantry: Pantry) -> Iterator[tuple[Echo, Said]]:
    for field in clause.fields:
        if isinstance(field.value, Added):
            yield _went_in(field.value, clause, trial, sheet, pantry)
    if clause.words:
        yield Note(text=clause.words), Said()


def _went_in(change: Added, clause: Clause, trial: Trial, sheet: Sheet, pantry: Pantry) -> tuple[Echo, Said]:
    echo, text = added(change, clause.typed, trial, sheet, pantry)
    return echo, Said(weighed=((echo.item, text),)) if isinstance(echo, Weighed) else Said()


def _lot(clause: Clause, trial: Trial, sheet: Sheet) -> tuple[Echo, Said]:
    """Which flour it was; `flour Mill Lane lot B-114`, or a lot alone where there is one flour."""
    lot = next(show(field) for field in clause.fields if field.name == "lot")
    said = next((str(field.value) for field in clause.fields if field.name == "flour"), clause.words)
    flours = [item for item, kind in sheet.kinds if kind is Kind.FLOUR]
    named = [item for item in flours if item in said.lower()]
    if not named:
        meant = item_meant(said, sheet)
        named = [meant] if meant in flours else flours if len(flours) == 1 else []
    if len(named) != 1:
        return Note(text=clause.typed, hint=f"Which flour: {' or '.join(flours)}?"), Said()
    mill = re.sub(rf"(?i){re.escape(named[0])}|^flour\b|\bflour$", "", said).strip(" ,:")
    mill = "" if item_meant(mill, sheet) == named[0] else mill
    text = f"{mill}, {lot}" if mill else lot
    stands = dict(trial.flours).get(named[0])
    if stands is not None:
        return (
            Kept(name=named[0], text=text) if stands == text else Stands(name=named[0], said=text, stands=stands)
        ), Said()
    return Kept(name=named[0], text=text), Said(flours=((named[0], text),))


def _kitchen(what: str, text: str, trial: Trial) -> tuple[Echo, Said]:
    stands = dict(trial.kitchen).get(what)
    if stands is not None:
        return (Kept(name=what, text=text) if stands == text else Stands(name=what, said=text, stands=stands)), Said()
    return Kept(name=what, text=text), Said(kitchen=((what, text),))


def _size(name: str, text: str, trial: Trial) -> tuple[Echo, Said]:
    stands = dict(trial.measured).get(name)
    if stands is not None:
        return (Kept(name=name, text=text) if stands == text else Stands(name=name, said=text, stands=stands)), Said()
    return Kept(name=name, text=text), Said(measured=((name, text),))


def _words(clause: Clause, trial: Trial, sheet: Sheet, pantry: Pantry) -> tuple[Echo, Said]:
    if (size := sizes(clause.typed)) is not None:
        return _size(*size, trial)
    if (back := back_in(clause.typed, trial)) is not None:
        return _went_in(back, clause, trial, sheet, pantry)
    if not trial.batch and (flour := flour_in_batch(clause.typed, sheet.worked)) is not None:
        return Kept(name="batch", text=f"{clause.typed}, {in_words(flour)} of flour"), Said(batch=clause.typed)
    weight = told_weight(clause.typed, trial, sheet, pantry) or none_went_in(clause.typed, trial, sheet, pantry)
    if weight is not None:
        echo, item, text = weight
        return echo, Said(weighed=((item, text),)) if item else Said()
    found = _OF_KITCHEN.fullmatch(clause.typed)
    if found is not None:
        try:
            return _kitchen(found["what"].lower(), str(temperature(found["heat"])), trial)
        except AmountFault:
            return Note(text=clause.typed), Said()
    return Note(text=clause.typed), Said()
