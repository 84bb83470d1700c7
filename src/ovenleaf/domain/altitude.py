"""How hot water can get where the oven stands: the most that a loaf's centre can reach.

Pressure by the international standard atmosphere, P = 101325 (1 - 2.25577e-5 h)^5.25588 Pa; boiling point
by the Antoine equation for water, T = 1730.63 / (8.07131 - log10 P) - 233.426 °C with P in mmHg (both
from memory). Checked against a published table: 5000 ft 203 °F, 8000 ft 197.4 °F.
"""

from __future__ import annotations

import re
from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain.numbers import CONTEXT, NUMBER, NumberFault, number, rounded

if TYPE_CHECKING:
    from collections.abc import Iterable

_METRES = re.compile(rf"(?P<figure>{NUMBER})\s*(?P<unit>m|metres?|meters?|ft|feet)\b.*", re.IGNORECASE)
_FOOT = Decimal("0.3048")
_HIGHEST = Decimal(6000)  # m; nobody bakes higher, and the formula ends soon after
SEA_LEVEL = Decimal(0)


def altitude(places: Iterable[tuple[str, str]]) -> Decimal:
    """What a book's `places` say of the altitude, in metres; sea level where they say nothing that can be read.

    >>> altitude([("oven", "stall oven"), ("altitude", "5000 ft")])
    Decimal('1524.0000')
    """
    found = _METRES.fullmatch(dict(places).get("altitude", "").strip())
    if not found:
        return SEA_LEVEL
    try:
        figure = number(found["figure"])
    except NumberFault:
        return SEA_LEVEL
    metres = CONTEXT.multiply(figure, _FOOT) if found["unit"].lower().startswith("f") else figure
    return min(max(metres, SEA_LEVEL), _HIGHEST)


def boiling(metres: Decimal) -> Decimal:
    """The boiling point of water at so many metres, in °C to a tenth.

    >>> boiling(Decimal(0)), boiling(Decimal(1524))
    (Decimal('100.0'), Decimal('95.0'))
    """
    share = CONTEXT.subtract(Decimal(1), CONTEXT.multiply(Decimal("2.25577E-5"), metres))
    pascals = CONTEXT.multiply(Decimal(101325), CONTEXT.power(share, Decimal("5.25588")))
    mercury = CONTEXT.log10(CONTEXT.divide(pascals, Decimal("133.322")))
    return rounded(CONTEXT.divide(Decimal("1730.63"), Decimal("8.07131") - mercury) - Decimal("233.426"), 1)
