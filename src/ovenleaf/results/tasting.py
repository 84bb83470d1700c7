"""A blind tasting: set up, told, looked at, opened."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.results.common import Written

if TYPE_CHECKING:
    from ovenleaf.domain.book import BookPage
    from ovenleaf.domain.tasting import Bread, Tasting
    from ovenleaf.domain.trial import Marks
    from ovenleaf.evidence.tasting import TriangleVerdict, Verdict


@dataclass(frozen=True, slots=True, kw_only=True)
class TastingShown:
    """A tasting as it stands; `verdict` or `triangle` only once it is opened.

    `blanks` (taster, code, attributes) are marks with weight that are still blank on plates that were told.
    """

    tasting: Tasting
    book: BookPage
    breads: tuple[Bread, ...]
    blanks: tuple[tuple[str, str, tuple[str, ...]], ...] = ()
    verdict: Verdict | None = None
    triangle: TriangleVerdict | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TastingSetUp(Written):
    """A tasting that was set up. `key` is for the list of whoever cuts the bread, and for no screen.

    `aims` are those of the one formula that is tasted, () for several; `allergens` of all breads together;
    `marked_before` (taster, trial's code) whose marks stand in a trial already.
    """

    shown: TastingShown
    key: tuple[tuple[str, str], ...]
    aims: tuple[tuple[str, str], ...] = ()
    allergens: tuple[str, ...] = ()
    marked_before: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class TastingTold(Written):
    """What came in: marks, or the odd one's code, or (with `why_absent`) that nothing will come from a taster.

    `kept` (taster, trial's code): marks that stood in a trial before, and stay there, when the tasting was opened.
    """

    shown: TastingShown
    taster: str = ""
    code: str = ""
    marks: Marks | None = None
    why_absent: str = ""
    corrected: bool = False
    kept: tuple[tuple[str, str], ...] = ()
