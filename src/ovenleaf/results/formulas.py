"""Formulas and ingredients: kept, changed, marked, looked at."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.results.common import Written

if TYPE_CHECKING:
    from decimal import Decimal

    from ovenleaf.compare.formula_diff import FormulaDiff
    from ovenleaf.domain.formula import OpenQuestion
    from ovenleaf.domain.ingredients import Ingredient
    from ovenleaf.domain.more import Numbers
    from ovenleaf.domain.revision import RevisionName
    from ovenleaf.domain.sheet import Sheet
    from ovenleaf.domain.slip import Slip
    from ovenleaf.evidence.against import Against, Point
    from ovenleaf.evidence.ranking import Outcome, RankedRevision
    from ovenleaf.findings import Finding


@dataclass(frozen=True, slots=True, kw_only=True)
class Entered(Written):
    """A formula page that was kept."""

    sheet: Sheet
    diff: FormulaDiff | None = None
    before: str = ""  # the revision it was made from, as a screen says it
    slips: tuple[Slip, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Poured:
    """What went into a bowl last time instead of what was planned, in percent of all the flour."""

    code: str
    item: str
    planned: Decimal
    actual: Decimal
    step: Decimal  # from the bake to the new revision, in points


@dataclass(frozen=True, slots=True, kw_only=True)
class Tweaked(Written):
    """A new revision made from another."""

    sheet: Sheet
    diff: FormulaDiff
    before: str  # the revision it was made from, as a screen says it
    poured: tuple[Poured, ...] = ()
    slips: tuple[Slip, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Saved(Written):
    """What `save` kept: new revisions, touch-ups, other pages edited by hand; and what it could not.

    `corrected` holds trials of which values had changed: code, and the fields that became corrections; `combined`
    formulas whose page git had brought together: the formula, and the number of the revision of both.
    """

    revisions: tuple[Entered, ...]
    touched: tuple[str, ...]
    pages: tuple[str, ...]
    corrected: tuple[tuple[str, tuple[str, ...]], ...] = ()
    combined: tuple[tuple[str, int], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Marked(Written):
    """A revision that was marked. `higher` is another revision that stands first although this is the keeper."""

    formula: str
    title: str
    spoken: str
    mark: str
    by: str
    at: str
    why: str
    was_keeper: str
    higher: RankedRevision | None
    higher_spoken: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Retired(Written):
    """A formula put away, or taken out again."""

    formula: str
    title: str
    back: bool
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Copied(Written):
    """A new formula begun from another one's revision."""

    sheet: Sheet
    source: str  # in words


@dataclass(frozen=True, slots=True, kw_only=True)
class HistoryRow:
    """One revision, what it changed, and how its doughs came out."""

    revision: RevisionName
    spoken: str
    by: tuple[str, ...]
    saved: str
    why: str
    made_from: tuple[str, ...]
    mark: str
    pin: str
    trials: int
    doughs: int
    outcome: Outcome
    differing: tuple[str, ...]
    open: tuple[OpenQuestion, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class History:
    """All revisions of a formula, oldest first."""

    name: str
    title: str
    rows: tuple[HistoryRow, ...]
    draft: bool
    findings: tuple[Finding, ...]
    against: Against | None = None  # scores against something weighed, where it was asked for
    chart: tuple[tuple[str, tuple[Point, ...]], ...] | None = None  # doughs by revision, likewise


@dataclass(frozen=True, slots=True, kw_only=True)
class More:
    """A formula's numbers for the sceptic."""

    sheet: Sheet
    numbers: Numbers


@dataclass(frozen=True, slots=True, kw_only=True)
class IngredientView:
    """What a book knows of one ingredient."""

    ingredient: Ingredient
    near: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class AddedIngredient(Written):
    """An ingredient put into the book's own list. `instead` is what the name stood for so far, or None;
    allergens that were not told are those of that. `weighed` are measures of a known one that alone are new."""

    ingredient: Ingredient
    allergens_told: bool = True
    instead: Ingredient | None = None
    weighed: tuple[str, ...] = ()
