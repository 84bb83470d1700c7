"""What 100 g of a bread hold, from what its ingredients hold and what the oven took; and how two laws round it.

Energy and salt: Regulation (EU) 1169/2011, Annexes I and XIV (carbohydrate 17 kJ / 4 kcal, fibre 8 / 2, protein
17 / 4, fat 37 / 9; salt = sodium x 2.5). Rounding: EU guidance of December 2012 (from memory); 21 CFR 101.9(c), halves
up. What the oven takes is taken to be water; sugars that the yeast eats are not taken off.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain.ingredients import Ingredient, Kind
from ovenleaf.domain.numbers import CONTEXT, HUNDRED, ZERO, plain, portion, share_of

if TYPE_CHECKING:
    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.percent import Worked

NUTRIENTS = ("fat", "saturates", "carbohydrate", "sugars", "fibre", "protein", "salt")  # carbohydrate without fibre
SODIUM = Decimal("2.5")  # g of salt to the g of sodium
# Dried yeasts that no table has stand in their nearest row; there is too little of them to matter.
_STAND_IN = {"instant yeast": "active dry yeast", "osmotolerant yeast": "active dry yeast"}
# A nutrient that is not known of this little of the dough is left out of the sum, and that is said.
_TRACE = Decimal(1)  # percent of the dough


@dataclass(frozen=True, slots=True, kw_only=True)
class Nutrition:
    """g in 100 g of bread, by the names of NUTRIENTS; None where something that is not known would count.

    `not_known` names the items behind each None, `passed_over` those of which so little goes in that they are left out.
    """

    grams: tuple[tuple[str, Decimal | None], ...]
    not_known: tuple[tuple[str, tuple[str, ...]], ...] = ()
    passed_over: tuple[str, ...] = ()

    def of(self, name: str) -> Decimal | None:
        """One nutrient in g, or None."""
        return dict(self.grams)[name]

    @property
    def kilojoules(self) -> Decimal | None:
        """Energy by the EU's factors."""
        return self._energy((37, 17, 8, 17))

    @property
    def kilocalories(self) -> Decimal | None:
        """Energy by the EU's factors."""
        return self._energy((9, 4, 2, 4))

    @property
    def calories(self) -> Decimal | None:
        """Energy by the general factors 4, 4 and 9 of 21 CFR 101.9(c)(1), fibre counted as carbohydrate."""
        return self._energy((9, 4, 4, 4))

    def _energy(self, factors: tuple[int, int, int, int]) -> Decimal | None:
        parts = [self.of(name) for name in ("fat", "carbohydrate", "fibre", "protein")]
        if any(part is None for part in parts):
            return None
        return sum(((part or ZERO) * factor for part, factor in zip(parts, factors, strict=True)), ZERO)


def nutrition(worked: Worked, loss: Decimal, pantry: Pantry) -> Nutrition:
    """Add up what is in the dough; `loss` is what of it the oven takes, in percent.

    In 100 g of bread: 100 x nutrient / (dough x (1 - loss)).
    """
    bread = portion(HUNDRED - loss, worked.total)
    grams: list[tuple[str, Decimal | None]] = []
    missing: list[tuple[str, tuple[str, ...]]] = []
    passed: list[str] = []
    for name in NUTRIENTS:
        known = [(share, within(pantry.get(share.item), name, pantry)) for share in worked.whole]
        lacking = [share for share, part in known if part is None]
        serious = tuple(share.item for share in lacking if share_of(share.pct, worked.total) > _TRACE)
        total = sum((portion(part, share.pct) for share, part in known if part is not None), ZERO)
        grams.append((name, None if serious else share_of(total, bread)))
        missing += [(name, serious)] if serious else []
        passed += [share.item for share in lacking if share.item not in serious]
    return Nutrition(grams=tuple(grams), not_known=tuple(missing), passed_over=tuple(dict.fromkeys(passed)))


def within(one: Ingredient, name: str, pantry: Pantry, above: tuple[str, ...] = ()) -> Decimal | None:
    """What 100 g of an ingredient hold of a nutrient, in g; None where the list does not know.

    Water and salt hold nothing else. A culture holds what it is made of. Carbohydrate is told without fibre.
    """
    if one.made_of and one.name not in above:
        parts = [(within(pantry.get(item), name, pantry, (*above, one.name)), share) for item, share in one.made_of]
        if any(part is None for part, _ in parts):
            return None
        whole = sum((share for _, share in parts), ZERO)
        return CONTEXT.divide(sum(((part or ZERO) * share for part, share in parts), ZERO), whole)
    if one.name in _STAND_IN:
        one = pantry.get(_STAND_IN[one.name])
    if one.kind is Kind.SALT:
        return HUNDRED if name == "salt" else ZERO
    if name == "salt":
        salt = one.salt if one.sodium is None else one.sodium * SODIUM
        return ZERO if salt is None and _is_water(one) else salt
    found: Decimal | None = one.carbohydrate if name == "carbohydrate" else getattr(one, name)
    if name == "carbohydrate" and found:
        return None if one.fibre is None else max(ZERO, found - one.fibre)
    return ZERO if found is None and _is_water(one) else found


def _is_water(one: Ingredient) -> bool:
    return one.kind is Kind.WATER and one.water_told == HUNDRED


def _to(value: Decimal, step: str) -> str:
    steps = CONTEXT.divide(value, Decimal(step)).quantize(Decimal(1), rounding=ROUND_HALF_UP)
    return str(steps * Decimal(step)) if "." in step else plain(steps * Decimal(step))


def eu_rounded(name: str, grams: Decimal) -> str:
    """A nutrient as an EU label has it, with its unit.

    >>> eu_rounded("fat", Decimal("3.33")), eu_rounded("salt", Decimal("1.225")), eu_rounded("fat", Decimal("0.4"))
    ('3.3 g', '1.2 g', 'under 0.5 g')
    """
    if name == "salt":
        if grams <= Decimal("0.0125"):
            return "under 0.01 g" if grams else "0 g"
        return f"{_to(grams, '0.1' if grams >= 1 else '0.01')} g"
    least = Decimal("0.1") if name == "saturates" else Decimal("0.5")
    if grams <= least:
        return f"under {least} g" if grams else "0 g"
    return f"{_to(grams, '1' if grams >= 10 else '0.1')} g"


def us_calories(kilocalories: Decimal) -> str:
    """21 CFR 101.9(c)(1): under 5 none, to 50 in fives, above in tens.

    >>> [us_calories(Decimal(n)) for n in (4, 47, 56)]
    ['0', '45', '60']
    """
    if kilocalories < 5:
        return "0"
    return _to(kilocalories, "5" if kilocalories <= 50 else "10")


def us_fat(grams: Decimal) -> str:
    """21 CFR 101.9(c)(2): under 0.5 g none, under 5 g in halves, then in grams."""
    if grams < Decimal("0.5"):
        return "0 g"
    return f"{plain(Decimal(_to(grams, '0.5' if grams < 5 else '1')))} g"


def us_sodium(milligrams: Decimal) -> str:
    """21 CFR 101.9(c)(4): under 5 mg none, to 140 mg in fives, above in tens."""
    if milligrams < 5:
        return "0 mg"
    return f"{_to(milligrams, '5' if milligrams <= 140 else '10')} mg"


def us_grams(grams: Decimal) -> str:
    """21 CFR 101.9(c)(6) and (7), carbohydrate, fibre, sugars, protein: under 0.5 g none, under 1 g said so."""
    if grams < Decimal("0.5"):
        return "0 g"
    return "less than 1 g" if grams < 1 else f"{_to(grams, '1')} g"
