"""Which national flour type a flour is by its ash, in g per 100 g of dry flour. Only the ash decides here.

Sources: Germany DIN 10355; France decree 63-720 and order of 13 July 1963; Italy DPR 187/2001; Austria
Codex B 20. Bounds are included; ash is taken to two decimals, as the tables print it. A gap between two
types of a table is a gap, and no type is made up for it.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain.ingredients import Kind
from ovenleaf.domain.numbers import HUNDRED, rounded, share_of

if TYPE_CHECKING:
    from ovenleaf.domain.ingredients import Ingredient

GERMANY, FRANCE, ITALY, AUSTRIA = "DIN 10355", "French order of 1963", "Italian DPR 187/2001", "Austrian Codex B 20"

# Grain: table: (type, least, most); None where the table has no bound.
_TABLES: dict[str, dict[str, tuple[tuple[str, str | None, str | None], ...]]] = {
    "wheat": {
        GERMANY: (
            ("405", None, "0.50"),
            ("550", "0.51", "0.63"),
            ("812", "0.64", "0.90"),
            ("1050", "0.91", "1.20"),
            ("1600", "1.21", "1.80"),
            ("1700 (meal)", "1.81", "2.10"),
        ),
        FRANCE: (
            ("T45", None, "0.49"),
            ("T55", "0.50", "0.60"),
            ("T65", "0.62", "0.75"),
            ("T80", "0.75", "0.90"),
            ("T110", "1.00", "1.20"),
            ("T150", "1.41", None),
        ),
        ITALY: (
            ("00", None, "0.55"),
            ("0", "0.56", "0.65"),
            ("1", "0.66", "0.80"),
            ("2", "0.81", "0.95"),
            ("wholemeal", "1.30", "1.70"),
        ),
        AUSTRIA: (("W480", "0.33", "0.58"), ("W700", "0.63", "0.79"), ("W1600", "1.50", "1.75")),
    },
    "rye": {
        FRANCE: (
            ("T70", "0.60", "1.00"),
            ("T85", "0.75", "1.25"),
            ("T130", "1.20", "1.50"),
            ("T170", "1.51", None),
        ),
        AUSTRIA: (("R500", "0.43", "0.57"), ("R960", "0.88", "1.12"), ("R2500", "2.00", "3.00")),
    },
    "spelt": {AUSTRIA: (("spelt 700", "0.63", "0.84"),)},
}


@dataclass(frozen=True, slots=True, kw_only=True)
class FlourTypes:
    """A flour's ash in g per 100 g dry (None where the list does not know it), and its types by each table: ()
    where it falls in a gap of it."""

    item: str
    dry_ash: Decimal | None
    types: tuple[tuple[str, tuple[str, ...]], ...] = ()


def dry_ash(flour: Ingredient) -> Decimal | None:
    """Ash in g per 100 g of dry flour: ash / (100 - water). None where ash or water is not known.

    0.47 g as it is at 13.36 % water is 0.542 g dry.
    """
    if flour.ash is None or flour.water is None or flour.water >= HUNDRED:
        return None
    return share_of(flour.ash, HUNDRED - flour.water)


def types_by_ash(ash: Decimal, grain: str = "wheat") -> tuple[tuple[str, tuple[str, ...]], ...]:
    """The types of each table that hold this much ash, for wheat, rye or spelt; tables may overlap."""
    shown = rounded(ash, 2)
    return tuple(
        (table, tuple(name for name, least, most in rows if _within(shown, least, most)))
        for table, rows in _TABLES.get(grain, {}).items()
    )


def _within(ash: Decimal, least: str | None, most: str | None) -> bool:
    return (least is None or ash >= Decimal(least)) and (most is None or ash <= Decimal(most))


def flour_types(item: str, flour: Ingredient) -> FlourTypes | None:
    """A flour by its ash; None for what is no flour or of no grain that a table is for."""
    grain = next((word for word in ("rye", "spelt") if word in flour.name), _wheat(flour))
    if flour.kind is not Kind.FLOUR or not grain:
        return None
    ash = dry_ash(flour)
    return FlourTypes(item=item, dry_ash=ash, types=() if ash is None else types_by_ash(ash, grain))


def _wheat(flour: Ingredient) -> str:
    return "wheat" if "wheat" in flour.allergens else ""
