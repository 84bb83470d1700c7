"""What a job returns: frozen facts for a screen, for JSON, for a test. No words of a screen in here."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.findings import Severity

if TYPE_CHECKING:
    from datetime import datetime
    from decimal import Decimal
    from pathlib import Path

    from ovenleaf.compare.bakes import BakeRow
    from ovenleaf.compare.formula_diff import FormulaDiff
    from ovenleaf.compare.trial_view import TrialView
    from ovenleaf.domain.book import BookPage
    from ovenleaf.domain.ingredients import Ingredient
    from ovenleaf.domain.losses import Loss
    from ovenleaf.domain.more import Numbers
    from ovenleaf.domain.revision import RevisionName
    from ovenleaf.domain.scaling import Batch, Bowl, Dilution, Scale, Wanted
    from ovenleaf.domain.schedule import Slot
    from ovenleaf.domain.sheet import Sheet
    from ovenleaf.domain.slips import Slip
    from ovenleaf.domain.temperature import WaterAnswer
    from ovenleaf.domain.trial import Marks, Trial
    from ovenleaf.domain.yeast import Swap
    from ovenleaf.evidence.ranking import Outcome, RankedRevision, Ranking
    from ovenleaf.findings import Finding


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """What every writing job tells ahead of all else: that it is a preview, or what became of an earlier
    entry that was cut off; "" otherwise."""

    ahead: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Started(Written):
    """A new book."""

    folder: Path
    page: BookPage
    baker: str
    formulas: tuple[str, ...] = ()
    trials: int = 0


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
    """What `save` kept: new revisions, touch-ups, other pages edited by hand; and what it could not."""

    revisions: tuple[Entered, ...]
    touched: tuple[str, ...]
    pages: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Recorded(Written):
    """A trial that was written down."""

    view: TrialView
    book: BookPage
    today: bool
    newest: bool  # False where a revision that is not the newest was named
    keeper: str = ""  # as a screen says it, where none was named and the keeper is another than the newest


@dataclass(frozen=True, slots=True, kw_only=True)
class Scored(Written):
    """Marks that were added to a trial."""

    view: TrialView
    book: BookPage
    marks: Marks
    corrected: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownTrial:
    """One trial beside its plan, to look at."""

    view: TrialView
    book: BookPage


@dataclass(frozen=True, slots=True, kw_only=True)
class ListedFormula:
    """A formula in a list."""

    name: str
    title: str
    revision: RevisionName | None
    spoken: str  # the revision as a screen says it, "" where none is saved
    revisions: int
    trials: int
    draft: bool
    keeper: str = ""
    away: bool = False
    broken: bool = False
    newer: bool = False  # broken only in that a newer ovenleaf wrote it


@dataclass(frozen=True, slots=True, kw_only=True)
class Listing:
    """What is in the book."""

    book: BookPage
    formulas: tuple[ListedFormula, ...]
    trials: tuple[tuple[Trial, Outcome], ...]
    trial_count: int
    findings: tuple[Finding, ...]
    spoken: tuple[tuple[tuple[str, str], str], ...]  # each trial's formula and revision, as a screen says the latter


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


@dataclass(frozen=True, slots=True, kw_only=True)
class History:
    """All revisions of a formula, oldest first."""

    name: str
    title: str
    rows: tuple[HistoryRow, ...]
    draft: bool
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """One side of a comparison: a revision, and how its doughs came out; or one bake, `last_bake`, alone."""

    sheet: Sheet
    spoken: str
    doughs: int
    outcome: Outcome
    last_bake: Trial | None
    one_bake: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Diff:
    """Two revisions compared, older on the left."""

    before: Side
    after: Side
    diff: FormulaDiff
    bakes: tuple[BakeRow, ...]
    repeats: tuple[tuple[str, RankedRevision], ...]  # each with its revision as a screen says it
    scale_top: Decimal
    top: str
    findings: tuple[Finding, ...]

    @property
    def other_scales(self) -> bool:
        """True for two bakes that were scored on two scales, so that their marks cannot be compared."""
        scales = [side.last_bake.scale for side in (self.before, self.after) if side.one_bake and side.last_bake]
        return len(set(filter(None, scales))) > 1

    @property
    def differing_bakes(self) -> tuple[str, ...]:
        """Recorded conditions that differ although both sides know them."""
        return tuple(row.name for row in self.bakes if row.differs)


@dataclass(frozen=True, slots=True, kw_only=True)
class RankedTrials:
    """Trials ranked, and by revision where it was asked for. `formulas` () is all of them."""

    formulas: tuple[str, ...]
    ranking: Ranking
    revisions: tuple[RankedRevision, ...] | None
    book: BookPage
    weights: tuple[tuple[str, Decimal], ...]
    top: int | None
    findings: tuple[Finding, ...]
    spoken: tuple[tuple[tuple[str, str], str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckReport:
    """The whole book looked over."""

    findings: tuple[Finding, ...]
    formulas: int
    revisions: int
    trials: int
    pages: int

    @property
    def trouble(self) -> bool:
        """True if there is an error or a warning; notes are no trouble."""
        return any(finding.severity is not Severity.NOTE for finding in self.findings)


@dataclass(frozen=True, slots=True, kw_only=True)
class Answered(Written):
    """Slips that the baker called meant."""

    formula: str
    slips: tuple[Slip, ...]
    meant: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Now:
    """What is going on in a book."""

    book: BookPage
    now: str
    in_hand: tuple[Trial, ...]
    drafts: tuple[str, ...]
    unsaved: tuple[str, ...]
    last: Trial | None
    cut_off: str
    findings: tuple[Finding, ...]
    formulas: int
    trials: int


@dataclass(frozen=True, slots=True, kw_only=True)
class IngredientView:
    """What a book knows of one ingredient."""

    ingredient: Ingredient
    near: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class More:
    """A formula's numbers for the sceptic."""

    sheet: Sheet
    numbers: Numbers


@dataclass(frozen=True, slots=True, kw_only=True)
class AddedIngredient(Written):
    """An ingredient put into the book's own list. `instead` is what the name stood for so far, or None;
    allergens that were not told are those of that."""

    ingredient: Ingredient
    allergens_told: bool
    instead: Ingredient | None = None


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
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class WeighUp:
    """One formula weighed up."""

    sheet: Sheet
    wanted: Wanted
    batch: Batch
    bench: Loss
    bake: Loss
    scale: Scale
    bowls: tuple[Bowl, ...]
    dilutions: tuple[Dilution, ...]
    weighed: tuple[tuple[str, Decimal], ...]
    keeper: bool
    newer_draft: bool = False  # the page has been edited since this revision and is not saved
    swaps: tuple[Swap, ...] = ()
    other_swaps: tuple[str, ...] = ()
    household: tuple[tuple[str, str], ...] = ()
    water: WaterAnswer | None = None
    slots: tuple[Slot, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Weighed:
    """What `weigh` worked out: one formula or several; `flours` adds up what all of them need, in g, and
    `builds` are the preferments that can be made once for all. `now` is on the kitchen's clock."""

    ups: tuple[WeighUp, ...]
    flours: tuple[tuple[str, Decimal], ...]
    now: datetime
    builds: tuple[Bowl, ...] = ()
    unit: str = "g"
    water_alone: bool = False  # nothing but the water's temperature was asked for
    calendar: str = ""
    sheet_path: str = ""
