"""The water for a dough of the wished temperature: what is told, what the formula plans, what bakes taught."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.book.steps.weighing import CannotWeigh, learned_warming
from ovenleaf.domain.ingredients import Kind
from ovenleaf.domain.numbers import ZERO, share_of
from ovenleaf.domain.quantity import Temperature
from ovenleaf.domain.temperature import (
    KILLS,
    LARGE_PREFERMENT,
    STANDS,
    Warming,
    WaterAnswer,
    ice,
    water_temperature,
)

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.percent import WorkedPart
    from ovenleaf.domain.scaling import Bowl
    from ovenleaf.domain.sheet import Sheet
    from ovenleaf.domain.trial import Trial

COLDEST, HOTTEST = Decimal(0), Decimal(100)


def water_answer(
    told: Mapping[str, Decimal], sheet: Sheet, bowls: tuple[Bowl, ...], trials: Sequence[Trial], pantry: Pantry
) -> WaterAnswer:
    """The water's temperature and what comes with it. Raises CannotWeigh where something is wanting."""
    target = told.get("target", planned_dough(sheet))
    wanting = [name for name in ("room", "flour") if name not in told]
    if target is None:
        raise CannotWeigh("target", "how warm should the dough be?", "Say it as --target 25C.")
    if wanting:
        options = " ".join(_OPTION[name] for name in wanting)
        raise CannotWeigh(wanting[0], f"how warm are {' and '.join(wanting)}?", f"Say it as {options}.")
    part, left_out = _preferment(told, sheet)
    others = [("room", told["room"]), ("flour", told["flour"])]
    if part is not None:
        others.append((part.name, told["preferment"]))
    warm = Warming(degrees=told["warming"], source="given") if "warming" in told else learned_warming(trials)
    answer = water_temperature(target, tuple(others), warm.degrees)
    water = _poured(bowls, pantry)
    tap = told.get("tap")
    if answer.water > HOTTEST:
        raise CannotWeigh("water", f"the water would have to be {answer.water:.0f} °C, which is past boiling.")
    yeast, stands = _too_warm(answer.water, sheet)
    return WaterAnswer(
        answer=answer,
        warming=warm,
        left_out=left_out,
        tap=tap,
        water_g=water,
        ice_g=ice(water, tap, answer.water) if tap is not None else None,
        yeast=yeast,
        stands=stands,
    )


_OPTION = {"room": "--room 20C", "flour": "--flour-temp 19C"}


def planned_dough(sheet: Sheet) -> Decimal | None:
    """The dough temperature that the steps plan, in degrees Celsius; the last one where there are several."""
    found = None
    for step in sheet.formula.process:
        said = step.line.get("dough temperature")
        found = said.celsius if isinstance(said, Temperature) else found
    return found


def _preferment(told: Mapping[str, Decimal], sheet: Sheet) -> tuple[WorkedPart | None, str]:
    """The preferment whose temperature counts: one that is large enough; else its name, left out."""
    parts = [part for part in sheet.worked.parts if part.leavened and not part.into]
    if "preferment" not in told or not parts:
        return None, ""
    largest = max(parts, key=lambda part: part.pct)
    large = share_of(largest.pct, sheet.worked.total) >= LARGE_PREFERMENT
    return (largest, "") if large else (None, largest.name)


def _poured(bowls: tuple[Bowl, ...], pantry: Pantry) -> Decimal:
    """The water of the final dough, in g."""
    return sum((line.grams for line in bowls[-1].lines if pantry.get(line.item).kind is Kind.WATER), ZERO)


def _too_warm(water: Decimal, sheet: Sheet) -> tuple[str, Decimal | None]:
    """The yeast that does not stand the water, and how warm it may be."""
    for item, kind in sheet.kinds:
        if kind is Kind.YEAST:
            stands = next((limit for name, limit in STANDS.items() if name in item), STANDS["instant"])
            if water > min(stands, KILLS):
                return item, stands
    return "", None
