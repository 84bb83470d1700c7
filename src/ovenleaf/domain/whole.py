"""A formula written as a whole: preferments and soakers taken out of it, the final dough what is left."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain import faults
from ovenleaf.domain.formula import ALL, Formula, Part, part_meant
from ovenleaf.domain.ingredients import LEAVENS, Kind, Pantry
from ovenleaf.domain.numbers import CONTEXT, HUNDRED, ZERO, portion, share_of
from ovenleaf.domain.percent import (
    NOTHING,
    Share,
    Worked,
    WorkedPart,
    check_flour,
    expanded,
    flour_of,
    is_in_shares,
    line_masses,
    main_flour,
    water_of,
    with_parts,
)

if TYPE_CHECKING:
    from collections.abc import Mapping

NEAR = Decimal("0.5")  # how far a part in weights may be from what it says it takes, in points


def work_out_whole(formula: Formula, pantry: Pantry) -> Worked:
    """Work out a page with `ingredients:`. Raises a FormulaFault."""
    _check_names(formula)
    if formula.kept_for_next_time:  # what is kept is taken from a bowl, and this page has none
        item = formula.kept_for_next_time[0].item
        raise faults.NoSuchPart(("kept_for_next_time", item), item=item, parts=())
    masses = line_masses(formula.ingredients, pantry, ("ingredients",))
    in_shares = is_in_shares(formula.ingredients)
    flour = flour_of(masses, pantry)
    if not flour:
        raise faults.NoFlour(("ingredients",))
    if in_shares:
        check_flour(masses, pantry, ("ingredients",), *_elsewhere(formula, pantry))
        flour = HUNDRED
    notes = {line.item: line.note for line in formula.ingredients}
    whole = tuple(Share(item=item, pct=share_of(mass, flour), note=notes[item]) for item, mass in masses.items())
    parts = _parts(formula, pantry, None if in_shares else flour, main_flour(whole, pantry))
    return Worked(
        flour_g=None if in_shares else flour,
        whole=whole,
        parts=parts,
        final=_final(formula, whole, parts, pantry),
    )


def _check_names(formula: Formula) -> None:
    """The ingredients count what is in the parts, so that a part has no line of its own among them."""
    parts = (*formula.preferments, *formula.soakers)
    names = tuple(part.name for part in parts)
    seeds = {line.item for part in parts for line in part.lines if line.amount}
    for line in formula.ingredients:
        path = ("ingredients", line.item)
        if line.item not in seeds and part_meant(line.item, names):
            raise faults.PartListed(path, item=line.item)
        if line.word == ALL:
            raise faults.NoSuchPart(path, item=line.item, parts=names)


def _elsewhere(
    formula: Formula, pantry: Pantry
) -> tuple[tuple[tuple[str, Decimal], ...], tuple[tuple[str, Decimal], ...]]:
    """What each part takes of the flour, and which flours those are, for a page that forgot to count them."""
    parts = [(part, part.takes) for part in (*formula.preferments, *formula.soakers) if part.takes is not None]
    inside = [line.item for part, _ in parts for line in part.lines if line.word == ALL]
    flours: dict[str, Decimal] = {}
    for part, takes in parts:
        own = [Share(item=line.item, pct=portion(line.amount.value, takes)) for line in part.lines if line.amount]
        for item, pct in expanded(own, pantry, frozenset(), main_flour(own, pantry)).items():
            if pantry.get(item).kind is Kind.FLOUR:
                flours[item] = flours.get(item, ZERO) + pct
    outer = tuple((part.name, takes) for part, takes in parts if not part_meant(part.name, inside))
    return outer, tuple(flours.items())


def _parts(formula: Formula, pantry: Pantry, flour_g: Decimal | None, main_flour: str) -> tuple[WorkedPart, ...]:
    """The preferments and soakers in the order of the page; one may take in another that stands before it."""
    blocks = [("preferments", part) for part in formula.preferments] + [("soakers", part) for part in formula.soakers]
    names = {part.name for _, part in blocks}
    into = _goes_into(blocks, names)
    worked: dict[str, WorkedPart] = {}
    for block, part in blocks:
        worked[part.name] = _work_part(block, part, pantry, flour_g, worked, into.get(part.name, ""), main_flour)
    return tuple(worked.values())


def _goes_into(blocks: list[tuple[str, Part]], names: set[str]) -> dict[str, str]:
    """Which part each part flows into: the one that says `all` of it."""
    into: dict[str, str] = {}
    for place, (block, part) in enumerate(blocks):
        before = [earlier.name for _, earlier in blocks[:place]]
        for line in part.lines:
            path, named = (block, part.name, line.item), part_meant(line.item, before)
            if line.word == ALL and (not named or named in into):
                raise faults.NoSuchPart(path, item=line.item, parts=tuple(sorted(names)))
            if line.amount and named:
                raise faults.PartListed(path, item=line.item)
            if line.word == ALL:
                into[named] = part.name
    return into


def _work_part(
    block: str,
    part: Part,
    pantry: Pantry,
    flour_g: Decimal | None,
    before: Mapping[str, WorkedPart],
    into: str,
    main_flour: str,
) -> WorkedPart:
    path = (block, part.name)
    inner = {line.item: before[part_meant(line.item, before)] for line in part.lines if line.word == ALL}
    taken_in = list(inner.values())
    masses = line_masses(part.lines, pantry, path)
    factor = _factor(part, masses, pantry, flour_g, taken_in, path)
    pcts = {item: CONTEXT.multiply(mass, factor) for item, mass in masses.items()}
    flour = sum((other.flour for other in taken_in), flour_of(pcts, pantry))
    if part.takes is not None and abs(flour - part.takes) > NEAR:
        raise faults.TakesOther((*path, "takes"), takes=part.takes, flour=flour)
    water = sum((other.water for other in taken_in), water_of(pcts, pantry))
    lines = tuple(
        Share(
            item=line.item if line.amount else inner[line.item].name,
            pct=(pct := pcts[line.item] if line.amount else inner[line.item].pct),
            own=share_of(pct, flour) if flour else None,
            note=line.note,
        )
        for line in part.lines
        if line.amount or line.word == ALL
    )
    leavened = any(pantry.get(item).kind in LEAVENS for item in masses) or any(p.leavened for p in taken_in)
    return WorkedPart(
        name=part.name,
        leavened=leavened or block == "preferments",
        flour=flour,
        water=water,
        lines=lines,
        into=into,
        rest=part.rest,
    )


def _factor(
    part: Part,
    masses: Mapping[str, Decimal],
    pantry: Pantry,
    flour_g: Decimal | None,
    taken_in: list[WorkedPart],
    path: tuple[str, ...],
) -> Decimal:
    """What turns the part's own amounts into percent of all the flour."""
    if not is_in_shares(part.lines):
        if flour_g is None:
            some = next(iter(masses))
            raise faults.MixedAmounts((*path, some), share="ingredients", measure=some)
        return CONTEXT.divide(HUNDRED, flour_g)
    if part.takes is None:
        return Decimal(1)
    inside = sum((other.flour for other in taken_in), ZERO)
    check_flour(masses, pantry, path, more=share_of(inside, part.takes))
    return CONTEXT.divide(part.takes, HUNDRED)


def _final(
    formula: Formula, whole: tuple[Share, ...], parts: tuple[WorkedPart, ...], pantry: Pantry
) -> tuple[Share, ...]:
    """The whole less the parts, and then the parts that flow into the final dough by their names."""
    left = {share.item: share.pct for share in whole}
    items = frozenset(left)
    taken: dict[str, list[tuple[str, Decimal]]] = {}
    for part in parts:
        inner = {other.name for other in parts if other.into == part.name}
        own = [line for line in part.lines if line.item not in inner]
        main = main_flour(own, pantry) or main_flour(whole, pantry)
        for item, pct in expanded(own, pantry, items, main).items():
            left[item] = left.get(item, ZERO) - pct
            taken.setdefault(item, []).append((part.name, pct))
    for item, pct in left.items():
        if pct < -NOTHING:
            whole_pct = next((share.pct for share in whole if share.item == item), ZERO)
            path = _where_taken(formula, taken[item][-1][0], item)
            raise faults.NegativeDough(path, item=item, whole=whole_pct, taken=tuple(taken[item]))
    rows = [replace(share, pct=left[share.item]) for share in whole if left[share.item] >= NOTHING]
    flowing = [Share(item=part.name, pct=part.pct) for part in parts if not part.into]
    return with_parts(rows, flowing, pantry)


def _where_taken(formula: Formula, part: str, item: str) -> tuple[str, ...]:
    block = "preferments" if any(p.name == part for p in formula.preferments) else "soakers"
    return (block, part, item)
