"""The water for a dough of the wished temperature: what is told, what the formula plans, what bakes taught."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.book.steps.weighing import CannotWeigh, learned_warming
from ovenleaf.domain.ingredients import LEAVENS, Kind
from ovenleaf.domain.numbers import ZERO, rounded, share_of
from ovenleaf.domain.quantity import Temperature
from ovenleaf.domain.temperature import (
    KILLS,
    LARGE_PREFERMENT,
    MELTING,
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

HOTTEST = Decimal(100)


def water_answer(
    told: Mapping[str, Decimal],
    sheet: Sheet,
    bowls: tuple[Bowl, ...],
    trials: Sequence[Trial],
    pantry: Pantry,
    *,
    fahrenheit: bool = False,
) -> WaterAnswer:
    """The water's temperature and what comes with it; `trials` are those of the book.

    Raises CannotWeigh where something is wanting, or where no water can be so cold or so hot.
    """
    target = told.get("target", planned_dough(sheet))
    if target is None:
        raise CannotWeigh("target", "how warm should the dough be?", "Say it as --target 25C.")
    part, left_out = _preferment(told, sheet)
    warm = _warming(told, sheet, trials)
    answer = water_temperature(target, _others(told, part), warm.degrees)
    liquid, grams = _poured(bowls, pantry)
    _check(answer.water)
    tap = told.get("tap")
    if tap is not None and tap < 0:
        raise CannotWeigh("tap", "the tap would give ice.", "Say how warm its water is, as in --tap 12C.")
    leaven, stands = _too_warm(answer.water, bowls, pantry)
    return WaterAnswer(
        answer=answer,
        warming=warm,
        liquid=liquid,
        liquid_g=grams,
        fahrenheit=fahrenheit,
        left_out=left_out,
        tap=tap,
        ice_g=ice(grams, tap, answer.water) if tap is not None and liquid == "water" else None,
        leaven=leaven,
        stands=stands,
    )


_OPTION = {"room": "--room 20C", "flour": "--flour-temp 19C"}


def _others(told: Mapping[str, Decimal], part: WorkedPart | None) -> tuple[tuple[str, Decimal], ...]:
    """What goes in beside the water, and how warm it is."""
    wanting = [name for name in _OPTION if name not in told]
    if wanting:
        options = " ".join(_OPTION[name] for name in wanting)
        raise CannotWeigh(
            wanting[0],
            f"how warm {'are' if len(wanting) > 1 else 'is'} {' and '.join(wanting)}?",
            f"Say it as {options}.",
        )
    others = (("room", told["room"]), ("flour", told["flour"]))
    return others if part is None else (*others, (part.name, told["preferment"]))


def _warming(told: Mapping[str, Decimal], sheet: Sheet, trials: Sequence[Trial]) -> Warming:
    if "warming" in told:
        return Warming(degrees=told["warming"], source="given")
    return learned_warming(sheet.formula.name, trials)


def _check(water: Decimal) -> None:
    """All of it as ice is as cold as water can be made: 80 degrees below freezing, by its heat."""
    if water > HOTTEST:
        raise CannotWeigh(
            "water",
            f"the water would have to be {rounded(water, 0)} °C, which is past boiling.",
            "Warm the flour or the room, or aim at a cooler dough.",
        )
    if water <= -MELTING:
        raise CannotWeigh(
            "water",
            "even all of the water as ice would leave this dough too warm.",
            "Cool the flour, mix where it is cooler or for a shorter time, or aim at a warmer dough.",
        )


def planned_dough(sheet: Sheet) -> Decimal | None:
    """The dough temperature that the steps plan, in degrees Celsius; the last one where there are several."""
    found = None
    for step in sheet.formula.process:
        said = step.line.get("dough temperature")
        found = said.celsius if isinstance(said, Temperature) else found
    return found


def _preferment(told: Mapping[str, Decimal], sheet: Sheet) -> tuple[WorkedPart | None, str]:
    """The preferment whose temperature counts: one that is large enough; else its name, left out."""
    if "preferment" not in told:
        return None, ""
    largest = largest_preferment(sheet)
    if largest is None:
        raise CannotWeigh("preferment", f"{sheet.formula.label} has no preferment.", "Leave --preferment-temp out.")
    return (largest, "") if _is_large(largest, sheet) else (None, largest.name)


def _is_large(part: WorkedPart, sheet: Sheet) -> bool:
    return share_of(part.pct - part.kept, sheet.worked.total) >= LARGE_PREFERMENT


def preferment_that_counts(sheet: Sheet) -> WorkedPart | None:
    """The preferment that is so much of the dough that its temperature counts; None where there is none."""
    largest = largest_preferment(sheet)
    return largest if largest and _is_large(largest, sheet) else None


def largest_preferment(sheet: Sheet) -> WorkedPart | None:
    """Of the preferments that go into the final dough the largest; None where there is none."""
    parts = (part for part in sheet.worked.parts if part.leavened and not part.into)
    return max(parts, key=lambda part: part.pct - part.kept, default=None)


def _poured(bowls: tuple[Bowl, ...], pantry: Pantry) -> tuple[str, Decimal]:
    """What is poured into the final dough, and how much, in g: its water, or else the milk there is most of."""
    lines = bowls[-1].lines
    water = sum((line.grams for line in lines if pantry.get(line.item).kind is Kind.WATER), ZERO)
    if water:
        return "water", water
    milk = [line for line in lines if pantry.get(line.item).kind is Kind.MILK]
    if not milk:
        raise CannotWeigh("water", "nothing is poured into the final dough that could warm or cool it.")
    most = max(milk, key=lambda line: line.grams)
    return most.item, most.grams


def _too_warm(water: Decimal, bowls: tuple[Bowl, ...], pantry: Pantry) -> tuple[str, Decimal | None]:
    """The yeast or culture of the final dough that does not stand the water, and how warm it may be."""
    for line in bowls[-1].lines:
        one = pantry.get(line.item)
        if one.kind in LEAVENS:
            stands = next((limit for name, limit in STANDS.items() if name in one.name), STANDS["instant"])
            limit = stands if one.kind is Kind.YEAST else KILLS
            if water > limit:
                return line.item, limit
    return "", None
