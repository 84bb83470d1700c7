"""A weigh-up in cups and spoons: each line of each bowl, and what its measure is taken to weigh."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain.household import Taken, in_measures, taken, unnamed_salt

if TYPE_CHECKING:
    from collections.abc import Iterator

    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.scaling import Bowl, Weight


def by_spoon(bowls: tuple[Bowl, ...], pantry: Pantry) -> tuple[tuple[str, str], ...]:
    """Cups and spoons for each line, by bowl and item; "" where no list knows, or no kind of salt is named."""
    return tuple(
        (
            f"{bowl.name}:{line.item}",
            "" if unnamed_salt(line.item) else in_measures(line.grams, pantry.get(line.item)),
        )
        for bowl, line in _lines(bowls)
    )


def measures(bowls: tuple[Bowl, ...], pantry: Pantry) -> tuple[Taken, ...]:
    """What each measure that is told there is taken to weigh, once, under the name the line has."""
    found = (
        taken(line.grams, pantry.get(line.item), line.item) for _, line in _lines(bowls) if not unnamed_salt(line.item)
    )
    return tuple(dict.fromkeys(one for one in found if one is not None))


def _lines(bowls: tuple[Bowl, ...]) -> Iterator[tuple[Bowl, Weight]]:
    """The lines that are no bowls themselves; a levain is seeded with what has its name."""
    names = {bowl.name for bowl in bowls}
    yield from ((bowl, line) for bowl in bowls for line in bowl.lines if line.item not in names - {bowl.name})
