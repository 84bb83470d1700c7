"""Two lists that only gain, united: what stands in either stands in both, by time where time counts."""

from __future__ import annotations

from collections import Counter
from datetime import UTC, datetime
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from ovenleaf.compare.three_ways import Tree


def united(one: list[Tree], other: list[Tree], *, timed: bool) -> list[Tree]:
    """Everything that stands in either, as often as it stands in the one that has it more often."""
    counts = Counter(map(_written, one))
    extra = []
    for value in other:
        if counts[_written(value)]:
            counts[_written(value)] -= 1
        else:
            extra.append(value)
    if not timed:
        return [*one, *extra]
    rows = [*_with_times(one), *(row for row in _with_times(other) if any(row[2] is value for value in extra))]
    return [value for _, _, value in sorted(rows, key=lambda row: row[:2])]


def _written(value: Tree) -> str:
    return repr(sorted((key, repr(item)) for key, item in value.items())) if isinstance(value, dict) else repr(value)


def _with_times(values: list[Tree]) -> Iterator[tuple[datetime, str, Tree]]:
    """Each value with its time; one that tells none stands with the one before it."""
    last = datetime.min.replace(tzinfo=UTC)
    at = ""
    for place, value in enumerate(values):
        said = value.get("at") if isinstance(value, dict) else str(value).partition(" ")[0]
        told = _moment(str(said))
        last, at = (told, _written(value)) if told is not None else (last, f"{at} {place:06}")
        yield last, at, value


def _moment(text: str) -> datetime | None:
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        return None
    return moment if moment.tzinfo else moment.replace(tzinfo=UTC)
