"""What an opened tasting can tell: each bread's marks, the panel's ranks, the tasters who tasted one bread twice."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from ovenleaf.domain.tasting import Design, Tasting, odd_one
from ovenleaf.domain.trial import ATTRIBUTES, Marks, marked
from ovenleaf.evidence.panel import PanelResult, panel, triangle_chance, triangle_least
from ovenleaf.evidence.ranking import Outcome, Weights, outcome
from ovenleaf.evidence.units import mean

if TYPE_CHECKING:
    from collections.abc import Sequence
    from decimal import Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Tasted:
    """One plate of an opened tasting: its code, the trial it was, and how it came out over the tasters."""

    code: str
    bread: str
    name: str  # the trial's code; `D2 again` for a second plate of one bread
    outcome: Outcome


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """What a tasting comes to. `panel` is None where fewer than two tasters marked all breads; `complete` names
    those who did; `repeats` (taster, how far apart the two marks for one bread lie) of those who got one twice."""

    plates: tuple[Tasted, ...]
    panel: PanelResult | None
    complete: tuple[str, ...]
    repeats: tuple[tuple[str, Decimal], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class TriangleVerdict:
    """How many found the odd one: `right` of `tasters`, the chance of that by guessing, how many it takes."""

    right: int
    tasters: int
    chance: float
    least: int | None


def plate_names(tasting: Tasting) -> dict[str, str]:
    """What each code stood for; a bread that came twice is `D2` and `D2 again`."""
    seen: Counter[str] = Counter()
    names = {}
    for code, bread in tasting.key:
        seen[bread] += 1
        names[code] = bread if seen[bread] == 1 else f"{bread} again"
    return names


def verdict(tasting: Tasting, weights: Weights) -> Verdict:
    """The marks by bread, best first, and what the ranks of the scores say. For an opened tasting by marks."""
    assert tasting.design is Design.MARKS
    names = plate_names(tasting)
    by_plate = {code: [m for _, of, m in tasting.marks if of == code] for code in names}
    plates = [
        Tasted(code=code, bread=dict(tasting.key)[code], name=names[code], outcome=outcome(by_plate[code], weights))
        for code in names
    ]
    plates.sort(key=lambda one: (one.outcome.score is None, -(one.outcome.score or 0), one.name))
    scores = _scores(tasting, weights)
    complete = tuple(t for t in tasting.tasters if all((t, code) in scores for code in names))
    rows = [[scores[taster, code] for code in names] for taster in complete]
    return Verdict(
        plates=tuple(plates),
        panel=panel(tuple(names.values()), rows),
        complete=complete,
        repeats=tuple(_repeats(tasting, scores)),
    )


def _scores(tasting: Tasting, weights: Weights) -> dict[tuple[str, str], Decimal]:
    found = {(taster, code): outcome([marks], weights).score for taster, code, marks in tasting.marks}
    return {where: score for where, score in found.items() if score is not None}


def _repeats(tasting: Tasting, scores: dict[tuple[str, str], Decimal]) -> list[tuple[str, Decimal]]:
    plates: dict[str, list[str]] = {}
    for code, bread in tasting.key:
        plates.setdefault(bread, []).append(code)
    twice = [codes for codes in plates.values() if len(codes) > 1]
    found = []
    for taster in tasting.tasters:
        for codes in twice:
            given = [scores[taster, code] for code in codes if (taster, code) in scores]
            if len(given) > 1:
                found.append((taster, max(given) - min(given)))
    return found


def triangle(tasting: Tasting) -> TriangleVerdict:
    """How many found the odd one. For an opened triangle tasting."""
    orders = dict(tasting.orders)
    right = sum(code == odd_one(orders[taster], tasting.key) for taster, code in tasting.odd)
    tried = len(tasting.odd)
    return TriangleVerdict(
        right=right, tasters=tried, chance=triangle_chance(right, tried), least=triangle_least(tried)
    )


def come_out(tasting: Tasting, weights: Weights) -> tuple[Verdict | None, TriangleVerdict | None]:
    """What a tasting comes to, by its design; nothing at all until it is opened."""
    if not tasting.is_open:
        return None, None
    if tasting.design is Design.TRIANGLE:
        return None, triangle(tasting)
    return verdict(tasting, weights), None


def marks_by_bread(tasting: Tasting) -> dict[str, tuple[Marks, ...]]:
    """The marks that go to each trial's page: one a taster, blind; of a bread that came twice the mean of both."""
    key = dict(tasting.key)
    given: dict[tuple[str, str], list[Marks]] = {}
    for taster, code, marks in tasting.marks:
        given.setdefault((key[code], taster), []).append(marks)
    found: dict[str, list[Marks]] = {}
    for (bread, _), several in given.items():
        found.setdefault(bread, []).append(replace(_joined(several), blind=True))
    return {bread: tuple(marks) for bread, marks in found.items()}


def _joined(several: Sequence[Marks]) -> Marks:
    if len(several) == 1:
        return several[0]
    faults = tuple(dict.fromkeys(fault for marks in several for fault in marks.faults))
    note = "; ".join(dict.fromkeys(marks.note for marks in several if marks.note))
    joined = Marks(taster=several[0].taster, faults=faults, note=note)
    for name in ATTRIBUTES:
        values = [value for marks in several if (value := getattr(marks, name)) is not None]
        joined = marked(joined, name, mean(values)) if values else joined
    return joined
