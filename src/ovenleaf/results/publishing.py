"""What goes out into the world: a recipe for readers, and what stands behind it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.results.common import Written

if TYPE_CHECKING:
    from decimal import Decimal

    from ovenleaf.compare.figures import Figure
    from ovenleaf.domain.allergens import Allergens
    from ovenleaf.domain.behind import Behind, Credits
    from ovenleaf.domain.home_kitchen import Moved
    from ovenleaf.domain.label import Listed
    from ovenleaf.domain.length_of_bake import Lengths
    from ovenleaf.domain.losses import Loss
    from ovenleaf.domain.nutrition import Nutrition
    from ovenleaf.domain.scaling import Bowl
    from ovenleaf.domain.sheet import Sheet
    from ovenleaf.domain.trial import Trial
    from ovenleaf.evidence.ranking import Outcome
    from ovenleaf.findings import Finding


@dataclass(frozen=True, slots=True, kw_only=True)
class Recipe:
    """A revision in round weights for a home kitchen. `pieces` of `each` g of dough, None where it makes no pieces;
    `measures` are cups and spoons by `bowl:item`; `outside` is item, amount and note;
    `cultures` is what items are made of, in shares of their own flour; `chosen` says why this
    revision: `keeper`, `newest` or `named`; and why this size: `baked`, `page` or `told`."""

    sheet: Sheet
    book: str
    made: str
    chosen: str
    size: str
    flour: Decimal
    dough: Decimal
    pieces: int | None
    each: Decimal | None
    bowls: tuple[Bowl, ...]
    measures: tuple[tuple[str, str], ...]
    moved: tuple[Moved, ...]
    tolerance: Decimal
    cultures: tuple[tuple[str, tuple[tuple[str, Decimal], ...]], ...]
    outside: tuple[tuple[str, str, str], ...]
    lengths: Lengths
    behind: Behind
    bake: Loss
    credits: Credits
    allergens: Allergens
    nutrition: Nutrition | None = None  # None where no bake has measured what the oven takes
    newer_draft: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """The figures for a label of one revision; `piece` is what a piece weighs when baked, in g, None where the page
    does not say what a piece is."""

    sheet: Sheet
    book: str
    made: str
    chosen: str
    loss: Loss
    nutrition: Nutrition
    listed: tuple[Listed, ...]
    allergens: Allergens
    piece: Decimal | None


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialRow:
    """One trial in a table: its flour in g, how it came out, its figures by name, and what was planned of each item
    in percent of all the flour; nothing of these where its revision cannot be read."""

    trial: Trial
    flour: Decimal | None
    outcome: Outcome
    figures: tuple[tuple[str, Figure], ...]
    planned: tuple[tuple[str, Decimal], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialTable:
    """Trials, oldest first, and what is wrong with those that cannot be read; `made` is the day of the table."""

    made: str
    rows: tuple[TrialRow, ...]
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PutOut(Written):
    """What was written and where: `shown` is the file or folder as it was typed, `files` how many."""

    shown: str
    files: int
    noted: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class TakenDown(Written):
    """A page that is not out any more, as the book notes it."""

    formula: str
    kind: str
    file: str
