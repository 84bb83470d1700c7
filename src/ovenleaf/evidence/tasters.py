"""Tasters set alike: doughs that not the same people tasted are compared as if they had.

Where enough people tasted every dough, theirs are the marks that are compared. Otherwise each taster's
leaning, how far above or below the others the same doughs are marked, is taken out: the additive model
mark = dough + taster, fitted by least squares, each leaning drawn towards none as if by one more dough without
any (a taster of one dough is believed by half). Leanings are estimates: floats, to a millionth of a mark.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal
from enum import StrEnum
from typing import TYPE_CHECKING

from ovenleaf.domain.numbers import ZERO, rounded
from ovenleaf.domain.trial import remarked

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ovenleaf.domain.trial import Marks, Trial
    from ovenleaf.evidence.ranking import Weights

_DRAWN = 1.0  # doughs without any leaning that each taster is given beside the real ones
_PLACES = 6
_HALF = 0.5  # the share of all marks that shared tasters must have given for theirs to be enough
TELLING = 3  # doughs that two people both tasted before anything is said of how they mark


class How(StrEnum):
    """How doughs that several people tasted are set beside each other."""

    ALL = "all"  # the same people tasted all of them
    SHARED = "shared"  # by the marks of those who tasted all of them
    ADJUSTED = "adjusted"  # each taster's leaning taken out


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaning:
    """How far above (or below) the others a taster marks the same doughs, and on how many of them that rests."""

    taster: str
    attribute: str
    above: Decimal
    doughs: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Alike:
    """Trials with marks that can be compared; `shared` are those who tasted all, `tasters` all who tasted."""

    how: How
    trials: tuple[Trial, ...]
    tasters: tuple[str, ...]
    shared: tuple[str, ...]
    leanings: tuple[Leaning, ...]


def alike(trials: Sequence[Trial], weights: Weights) -> Alike:
    """Trials of one formula with their marks set alike. Only attributes that have weight decide who tasted a dough."""
    names = tuple(name for name, weight in weights if weight)
    tasted = [{marks.taster for marks in trial.scores if _whole(marks, names)} for trial in trials]
    some = {marks.taster for trial in trials for marks in trial.scores if _any(marks, names)}
    shared = set.intersection(*tasted) if tasted else set()
    leanings = tuple(leaning for name in names for leaning in leaning_of(trials, name))
    how = How.ALL if shared == some else How.SHARED if _enough(trials, names, shared) else How.ADJUSTED
    if how is How.SHARED:
        made = tuple(replace(t, scores=tuple(m for m in t.scores if m.taster in shared)) for t in trials)
    elif how is How.ADJUSTED:
        made = tuple(_without(trial, leanings) for trial in trials)
    else:
        made = tuple(trials)
    return Alike(how=how, trials=made, tasters=tuple(sorted(some)), shared=tuple(sorted(shared)), leanings=leanings)


def _whole(marks: Marks, names: tuple[str, ...]) -> bool:
    return all(getattr(marks, name) is not None for name in names)


def _any(marks: Marks, names: tuple[str, ...]) -> bool:
    return any(getattr(marks, name) is not None for name in names)


def _enough(trials: Sequence[Trial], names: tuple[str, ...], shared: set[str]) -> bool:
    given = [marks.taster for trial in trials for marks in trial.scores if _any(marks, names)]
    return bool(given) and sum(taster in shared for taster in given) >= _HALF * len(given)


def _without(trial: Trial, leanings: tuple[Leaning, ...]) -> Trial:
    above = {(leaning.taster, leaning.attribute): leaning.above for leaning in leanings}

    def taken(marks: Marks) -> Marks:
        return remarked(
            marks, lambda name, value: None if value is None else value - above.get((marks.taster, name), ZERO)
        )

    return replace(trial, scores=tuple(taken(marks) for marks in trial.scores))


def leaning_of(trials: Sequence[Trial], name: str) -> tuple[Leaning, ...]:
    """Each taster's leaning in one attribute; they come to nothing together, over the tasters."""
    given = [
        {marks.taster: float(value) for marks in trial.scores if (value := getattr(marks, name)) is not None}
        for trial in trials
    ]
    given = [marks for marks in given if marks]
    counts = {taster: sum(taster in marks for marks in given) for taster in sorted({t for m in given for t in m})}
    fitted = _fit(given, counts)
    middle = sum(fitted.values()) / len(fitted) if fitted else 0.0
    return tuple(
        Leaning(taster=t, attribute=name, above=_decimal(above - middle), doughs=counts[t])
        for t, above in fitted.items()
    )


def _fit(given: list[dict[str, float]], counts: dict[str, int]) -> dict[str, float]:
    """The least squares of mark = dough + taster, and of the drawn doughs: the doughs are put out of the equations,
    so that there is one for each taster."""
    place = {taster: number for number, taster in enumerate(counts)}
    rows = [[0.0] * len(place) for _ in place]
    misses = [0.0] * len(place)
    for number in place.values():
        rows[number][number] = _DRAWN
    for marks in given:
        middle = sum(marks.values()) / len(marks)
        for taster, value in marks.items():
            row = rows[place[taster]]
            row[place[taster]] += 1
            misses[place[taster]] += value - middle
            for other in marks:
                row[place[other]] -= 1 / len(marks)
    return dict(zip(place, _solved(rows, misses), strict=True))


def _solved(rows: list[list[float]], right: list[float]) -> list[float]:
    """The solution of as many equations as unknowns, by elimination; their diagonal outweighs the rest, so the order
    need not change."""
    for pivot, head in enumerate(rows):
        for below in range(pivot + 1, len(rows)):
            share = rows[below][pivot] / head[pivot]
            if share:
                rows[below] = [value - share * over for value, over in zip(rows[below], head, strict=True)]
                right[below] -= share * right[pivot]
    found = [0.0] * len(rows)
    for place in reversed(range(len(rows))):
        known = sum(rows[place][other] * found[other] for other in range(place + 1, len(rows)))
        found[place] = (right[place] - known) / rows[place][place]
    return found


def _decimal(value: float) -> Decimal:
    return rounded(Decimal(repr(value)), _PLACES)
