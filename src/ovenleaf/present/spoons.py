"""What the cups and spoons of a weigh-up are taken to weigh, by whom, and how sure they are."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain.household import unnamed_salt
from ovenleaf.domain.numbers import plain, rounded
from ovenleaf.present.screen import rows, wrap

if TYPE_CHECKING:
    from decimal import Decimal

    from ovenleaf.domain.household import Taken
    from ovenleaf.results import WeighUp

_LOOSE = "Cups and spoons differ from hand to hand; where two figures stand, the tables differ too. Go by the weights."
_SALT = "Which salt is not said on the page, and a spoon of flakes weighs half of one of table salt, so weigh it."


def spoons_block(up: WeighUp) -> str:
    """Each measure with its weight, least to most, and the sources said once; "" where none was asked for."""
    if not up.household:
        return ""
    plain_salt = any(unnamed_salt(line.item) for bowl in up.bowls for line in bowl.lines)
    items = list(dict.fromkeys(one.item for one in up.measures))
    by_item = sorted(up.measures, key=lambda one: items.index(one.item))
    table = rows([(one.item, f"1 {one.measure}", _weight(one)) for one in by_item], "<<<")
    sources = list(dict.fromkeys(_source(source) for one in by_item for source in one.sources))
    return "\n".join(
        filter(
            None,
            (
                "What a measure is taken to weigh" if up.measures else "Cups and spoons",
                table,
                wrap(f"By {'; '.join(_shortened(sources))}.", 2) if sources else "",
                wrap(f"{_LOOSE} {_SALT}" if plain_salt else _LOOSE, 2),
            ),
        )
    )


def _weight(one: Taken) -> str:
    """`117 to 137 g`, or `244 g`."""
    low, high = _figure(one.low), _figure(one.high)
    return f"{high} g" if low == high else f"{low} to {high} g"


def _figure(grams: Decimal) -> str:
    return plain(rounded(grams, 0 if grams >= 20 else 1))


def _source(source: str) -> str:
    """The source alone, without what else its figures say."""
    return source.partition("; ")[0]


def _shortened(sources: list[str]) -> list[str]:
    """Rows of one table told together: `USDA SR28 20083`, `USDA SR28 01077` as `USDA SR28 20083, 01077`."""
    found: dict[str, list[str]] = {}
    for source in sources:
        table, _, row = source.rpartition(" ")
        head, number = (table, [row]) if row.isdigit() and len(row) == 5 else (source, [])
        found.setdefault(head, []).extend(number)
    return [f"{head} {', '.join(numbers)}".rstrip() for head, numbers in found.items()]
