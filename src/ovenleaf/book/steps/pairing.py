"""Which two revisions are to be compared, and what to type where there are no two."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book.steps.shelf import newest, revision_of
from ovenleaf.errors import Next, Refusal

if TYPE_CHECKING:
    from ovenleaf.book.steps.shelf import Kept, Shelf


class OneRevision(Refusal):
    """There is only one revision, so nothing to compare. Fact: `formula`."""

    def __init__(self, formula: str) -> None:
        super().__init__(
            f"{formula} has one revision so far, so there is nothing to compare it with.",
            next=(Next(f'ovenleaf tweak {formula} water=+3points --why "softer crumb"', "make a second one"),),
        )
        self.formula = formula


class TooMany(Refusal):
    """More than two things to compare. Fact: `formula`. `names` are those of the book."""

    def __init__(self, formula: str, names: tuple[str, ...]) -> None:
        other = next((name for name in names if name != formula), "")
        super().__init__(
            "Two things can be compared at a time.",
            next=(
                Next(f"ovenleaf diff {formula} r1 r2", "two revisions"),
                *([Next(f"ovenleaf diff {formula} {other}", "two formulas")] if other else []),
            ),
        )
        self.formula = formula


class NothingBetween(Refusal):
    """The newest revision was named against itself. Facts: `formula`, `typed`."""

    def __init__(self, formula: str, typed: str) -> None:
        super().__init__(
            f"{typed} is the newest revision of {formula} itself; name another to compare it with.",
            next=(Next(f"ovenleaf diff {formula}", "the last two"),),
        )
        self.formula = formula
        self.typed = typed


def which_two(shelf: Shelf, one: str, other: str, *, draft: bool) -> tuple[Kept, Kept | None]:
    """The two to compare, older on the left; None on the right is the page as it stands."""
    if draft:
        return revision_of(shelf, one) if one else newest(shelf), None
    if one and other:
        return revision_of(shelf, one), revision_of(shelf, other)
    last = newest(shelf)
    if one:
        named = revision_of(shelf, one)
        if named.name == last.name:
            raise OneRevision(shelf.name) if len(shelf.in_force) < 2 else NothingBetween(shelf.name, one)
        return named, last
    if len(shelf.in_force) < 2:
        raise OneRevision(shelf.name)
    return [kept for kept in shelf.in_force if kept.name != last.name][-1], last
