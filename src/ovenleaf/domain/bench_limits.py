"""Readings that cannot be, and those that bakers seldom find: the first are not counted, the second only told."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain.benchvalues import Heat, show
from ovenleaf.domain.quantity import Amount, Temperature

if TYPE_CHECKING:
    from ovenleaf.domain.benchvalues import Field

# Usual figures: a lean crusty loaf is done at 93 to 98 °C in the centre, a soft one at 85 to 91 °C (A. Cohn, bakers'
# mailing list, 2008); dough at pH 3.3 to 6.5 and 15 to 35 °C, a rise of up to 400 % (common practice, no source).
_LOW_CORE = Decimal(85)
_DOUGH = (Decimal(15), Decimal(35))
_PH = (Decimal("3.3"), Decimal("6.5"))
_RISE = Decimal(400)
_FREEZES, _KILLS_YEAST = Decimal(-5), Decimal(60)  # yeast is dead at 60 °C inside (W. Gisslen, Professional Baking)
_HOTTEST_OVEN = Decimal(600)
_ROOM = (Decimal(-30), Decimal(60))
_LOSS = (Decimal(5), Decimal(28))


def impossible(field: Field, boiling: Decimal) -> str:
    """Why a reading cannot be, as a clause, or ""; `boiling` is that of water where the oven stands, in °C."""
    value = field.value
    if isinstance(value, Temperature):
        degrees = value.celsius
        if field.name == "core" and degrees > boiling:
            return f"a loaf gets no hotter inside than water boils, {boiling.normalize():f} °C here"
        if field.name == "core" and degrees < 0:
            return "no loaf is baked frozen"
        if field.name == "dough temperature" and not _FREEZES <= degrees <= _KILLS_YEAST:
            return "no dough is so warm or so cold" if degrees < 0 else "yeast is dead at 60 °C"
        if field.name == "room" and not _ROOM[0] <= degrees <= _ROOM[1]:
            return "no kitchen is so warm or so cold"
    if isinstance(value, Heat) and any(one.celsius > _HOTTEST_OVEN for one in value.temperatures):
        return f"no oven is as hot as {show(field)}"
    return ""


def unusual(field: Field) -> str:
    """What is usual, where a reading is far from it, or ""."""
    value = field.value
    if isinstance(value, Temperature):
        if field.name == "core" and value.celsius < _LOW_CORE:
            return "Low for baked bread; 93 to 98 °C is usual for a lean loaf, 85 to 91 °C for a soft one."
        if field.name == "dough temperature" and not _DOUGH[0] <= value.celsius <= _DOUGH[1]:
            return "Out of the ordinary for a dough; 20 to 30 °C is usual."
    if isinstance(value, Decimal) and field.name == "ph" and not _PH[0] <= value <= _PH[1]:
        return "Out of the ordinary for a dough; pH 3.3 to 6.5 is usual."
    if isinstance(value, Amount) and field.name == "rise" and value.value > _RISE:
        return "That is more than five times as big."
    return ""


def unusual_loss(loss: Decimal) -> str:
    """What is usual, where a bake loss is far from it, or "" (common practice, no source)."""
    return "" if _LOSS[0] <= loss <= _LOSS[1] else "Out of the ordinary; 10 to 25 % is usual."
