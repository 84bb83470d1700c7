"""A comparison as data: what changed from what to what, with laws. Knows nothing of bread.

For any facts a, b:  apply(a, changes(a, b)) == b,  changes(a, a) == (),
invert(changes(a, b)) == changes(b, a).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping
    from decimal import Decimal

Key = tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One fact that differs. `before` is None for one that is new, `after` for one that is gone."""

    key: Key
    before: Decimal | str | None
    after: Decimal | str | None


class NotApplicable(ValueError):
    """The facts are not those that the changes were made from. Fact: `change`."""

    def __init__(self, change: Change) -> None:
        super().__init__(f"{change.key}: not {change.before!r} before")
        self.change = change


def changes(before: Mapping[Key, Decimal | str], after: Mapping[Key, Decimal | str]) -> tuple[Change, ...]:
    """What leads from `before` to `after`, sorted by key."""
    keys = sorted({*before, *after})
    return tuple(
        Change(key=key, before=before.get(key), after=after.get(key))
        for key in keys
        if before.get(key) != after.get(key)
    )


def apply(facts: Mapping[Key, Decimal | str], made: tuple[Change, ...]) -> dict[Key, Decimal | str]:
    """The facts after the changes. Raises NotApplicable when a change does not start from them."""
    result = dict(facts)
    for change in made:
        if result.get(change.key) != change.before:
            raise NotApplicable(change)
        if change.after is None:
            del result[change.key]
        else:
            result[change.key] = change.after
    return result


def invert(made: tuple[Change, ...]) -> tuple[Change, ...]:
    """The changes that lead back."""
    return tuple(Change(key=change.key, before=change.after, after=change.before) for change in made)
