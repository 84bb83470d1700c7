"""A formula written bowl by bowl: each bowl flows whole into the next that names it, or into the last."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal

from ovenleaf.domain import faults
from ovenleaf.domain.formula import ALL, Formula, Part, part_meant
from ovenleaf.domain.ingredients import LEAVENS, Kind, Pantry
from ovenleaf.domain.measures import grams
from ovenleaf.domain.numbers import CONTEXT, HUNDRED, ZERO, share_of
from ovenleaf.domain.percent import (
    Share,
    Worked,
    WorkedPart,
    check_alike,
    check_flour,
    expanded,
    flour_of,
    is_in_shares,
    line_masses,
    main_flour,
    water_of,
    with_parts,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Bowl:
    """One bowl in the unit of the page: its own raw masses, and the bowls that go into it."""

    part: Part
    masses: dict[str, Decimal]
    takes_in: tuple[_Bowl, ...]
    used: Decimal  # the share of it that is not kept for next time, 0 to 1

    @property
    def total(self) -> Decimal:
        return sum(self.masses.values(), sum((bowl.total * bowl.used for bowl in self.takes_in), ZERO))


def work_out_stages(formula: Formula, pantry: Pantry) -> Worked:
    """Work out a page with `stages:`. Raises a FormulaFault.

    All the flour is the flour that reaches the dough: what is kept for next time does not count.
    """
    in_shares = _in_shares(formula)
    bowls = _bowls(formula, pantry)
    last = bowls[-1]
    all_of_it = [Share(item=item, pct=mass) for bowl in bowls for item, mass in bowl.masses.items()]
    raw = _raw(last, Decimal(1), pantry, main_flour(all_of_it, pantry))
    flour = flour_of(raw, pantry)
    if not flour:
        raise faults.NoFlour(("stages",))
    if in_shares:
        check_flour(raw, pantry, ("stages",))
        flour = HUNDRED
    notes = {line.item: line.note for part in reversed(formula.stages) for line in part.lines if line.note}
    whole = tuple(Share(item=i, pct=share_of(mass, flour), note=notes.get(i, "")) for i, mass in raw.items() if mass)
    final = [_line(i, mass, last, ZERO, flour) for i, mass in last.masses.items()]
    flowing = [Share(item=b.part.name, pct=share_of(b.total * b.used, flour)) for b in last.takes_in]
    return Worked(
        flour_g=None if in_shares else flour,
        whole=_flour_first(whole, pantry),
        parts=tuple(_worked(bowl, bowls, flour, pantry) for bowl in bowls[:-1]),
        final=with_parts(final, flowing, pantry),
    )


def _in_shares(formula: Formula) -> bool:
    """True if the page is in shares: in every bowl, and what is kept for next time as well."""
    bowls = [(("stages", part.name, line.item), line) for part in formula.stages for line in part.lines]
    kept = [(("kept_for_next_time", line.item), line) for line in formula.kept_for_next_time]
    amounts = [(path, line) for path, line in (*bowls, *kept) if line.amount]
    for path, line in amounts:
        check_alike(amounts[0][1], line, path)
    return not amounts or is_in_shares([amounts[0][1]])


def _bowls(formula: Formula, pantry: Pantry) -> tuple[_Bowl, ...]:
    parts = formula.stages
    into = _goes_into(parts)
    names = tuple(part.name for part in parts)
    for line in formula.kept_for_next_time:
        if not part_meant(line.item, names[:-1]):
            raise faults.NoSuchPart(("kept_for_next_time", line.item), item=line.item, parts=names[:-1])
    built: dict[str, _Bowl] = {}
    for part in parts:
        path = ("stages", part.name)
        takes_in = tuple(bowl for name, bowl in built.items() if into[name] == part.name)
        masses = line_masses(part.lines, pantry, path) if any(line.amount for line in part.lines) else {}
        if not masses and not takes_in:
            raise faults.NoLines(path)
        bowl = _Bowl(part=part, masses=masses, takes_in=takes_in, used=Decimal(1))
        built[part.name] = replace(bowl, used=_used(formula, bowl, pantry))
    return tuple(built.values())


def _goes_into(parts: tuple[Part, ...]) -> dict[str, str]:
    """Where each bowl goes: the next that names it, or the last."""
    names = tuple(part.name for part in parts)
    into = dict.fromkeys(names[:-1], names[-1])
    named: set[str] = set()
    for place, part in enumerate(parts):
        for line in part.lines:
            path, bowl = ("stages", part.name, line.item), part_meant(line.item, names[:place])
            if line.word == ALL and (not bowl or bowl in named):
                raise faults.NoSuchPart(path, item=line.item, parts=names)
            if line.amount and bowl:
                raise faults.PartListed(path, item=line.item)
            if line.word == ALL:
                named.add(bowl)
                into[bowl] = part.name
    return into


def _used(formula: Formula, bowl: _Bowl, pantry: Pantry) -> Decimal:
    kept = next((line for line in formula.kept_for_next_time if part_meant(line.item, (bowl.part.name,))), None)
    if kept is None or kept.amount is None:
        return Decimal(1)
    mass = kept.amount.value if kept.amount.is_share else grams(kept.amount, pantry.get(kept.item))
    if mass is None:
        raise faults.NoWeight(("kept_for_next_time", kept.item), item=kept.item, unit=kept.amount.unit)
    if mass >= bowl.total:
        raise faults.KeptTooMuch(("kept_for_next_time", kept.item), item=kept.item, kept=mass, whole=bowl.total)
    return 1 - CONTEXT.divide(mass, bowl.total)


def _raw(bowl: _Bowl, factor: Decimal, pantry: Pantry, main: str) -> dict[str, Decimal]:
    """All that reaches the dough through this bowl, cultures as the flour and water they are made of.

    `main` is the flour there is most of on the page, for a bowl without flour.
    """
    raw: dict[str, Decimal] = {}
    for inner in bowl.takes_in:
        for item, mass in _raw(inner, factor * inner.used, pantry, main).items():
            raw[item] = raw.get(item, ZERO) + mass
    own = [Share(item=item, pct=mass * factor) for item, mass in bowl.masses.items()]
    stays = frozenset(bowl.masses)
    fed_with = main_flour(own, pantry) or main_flour([Share(item=i, pct=m) for i, m in raw.items()], pantry)
    for item, mass in expanded(own, pantry, stays - _cultures(bowl, pantry), fed_with or main).items():
        raw[item] = raw.get(item, ZERO) + mass
    return raw


def _cultures(bowl: _Bowl, pantry: Pantry) -> frozenset[str]:
    return frozenset(item for item in bowl.masses if pantry.get(item).kind is Kind.CULTURE)


def _worked(bowl: _Bowl, bowls: tuple[_Bowl, ...], flour: Decimal, pantry: Pantry) -> WorkedPart:
    """The bowl as it is made up; its flour and water are what reaches the dough."""
    made_flour, made_water = _flour(bowl, pantry), _water(bowl, pantry)
    into = next((other.part.name for other in bowls if bowl in other.takes_in), "")
    inner = [(b.part.name, b.total * b.used) for b in bowl.takes_in]
    return WorkedPart(
        name=bowl.part.name,
        leavened=_leavened(bowl, pantry),
        flour=share_of(made_flour * bowl.used, flour),
        water=share_of(made_water * bowl.used, flour),
        lines=tuple(_line(i, mass, bowl, made_flour, flour) for i, mass in (*inner, *bowl.masses.items())),
        into="" if into == bowls[-1].part.name else into,
        rest=bowl.part.rest,
        kept=share_of(bowl.total * (1 - bowl.used), flour),
    )


def _line(item: str, mass: Decimal, bowl: _Bowl, own_flour: Decimal, flour: Decimal) -> Share:
    own = share_of(mass, own_flour) if own_flour else None
    note = next((line.note for line in bowl.part.lines if line.item == item), "")
    return Share(item=item, pct=share_of(mass, flour), own=own, note=note)


def _flour(bowl: _Bowl, pantry: Pantry) -> Decimal:
    return sum((_flour(b, pantry) * b.used for b in bowl.takes_in), flour_of(bowl.masses, pantry))


def _water(bowl: _Bowl, pantry: Pantry) -> Decimal:
    return sum((_water(b, pantry) * b.used for b in bowl.takes_in), water_of(bowl.masses, pantry))


def _leavened(bowl: _Bowl, pantry: Pantry) -> bool:
    """True if it holds yeast or a culture, or is called by the name of one: a ripe `levain`."""
    own = any(pantry.get(item).kind in LEAVENS for item in (*bowl.masses, bowl.part.name))
    return own or any(_leavened(inner, pantry) for inner in bowl.takes_in)


def _flour_first(shares: tuple[Share, ...], pantry: Pantry) -> tuple[Share, ...]:
    """Flours, then water, then the rest, each in the order of the bowls: as a whole formula is read."""
    order = {Kind.FLOUR: 0, Kind.WATER: 1}
    return tuple(sorted(shares, key=lambda share: order.get(pantry.get(share.item).kind, 2)))
