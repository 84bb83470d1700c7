"""One trial beside its plan: what a screen of a trial is made from."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.compare.bakes import BakeRow, against_plan, done, planned, worded
from ovenleaf.domain.bench_bread import loss_by_pieces
from ovenleaf.domain.bench_plan import plan_of
from ovenleaf.domain.completeness import gaps
from ovenleaf.domain.ingredients import Kind
from ovenleaf.domain.losses import bake_loss
from ovenleaf.domain.shared_dough import with_shared

if TYPE_CHECKING:
    from decimal import Decimal

    from ovenleaf.compare.bakes import Condition
    from ovenleaf.domain.completeness import Gap
    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.sheet import Sheet
    from ovenleaf.domain.trial import Trial


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialView:
    """A trial, the sheet of the revision it was baked from, and the two side by side.

    `loss` is the bake loss in percent of the dough, None where that is not known; `loss_of` says what dough, "" where
    it was weighed; `gaps` what the page lacks for repeating the bake and for comparing it.
    """

    trial: Trial
    sheet: Sheet
    rows: tuple[BakeRow, ...]
    loss: Decimal | None
    gaps: tuple[Gap, ...]
    loss_of: str = ""

    @property
    def missing(self) -> tuple[str, ...]:
        """What is missing for repeating the bake, in words."""
        return tuple(gap.words for gap in self.gaps if gap.repeat)

    @property
    def missing_to_compare(self) -> tuple[str, ...]:
        """What is missing for comparing it with others, in words."""
        return tuple(gap.words for gap in self.gaps if gap.compare)


def trial_view(trial: Trial, sheet: Sheet, pantry: Pantry, mixed: Trial | None = None) -> TrialView:
    """Set a trial beside its plan; `mixed` is the bake whose dough it is a part of."""
    flours = tuple(item for item, kind in sheet.kinds if kind is Kind.FLOUR)
    weighed = bake_loss(trial)
    loss, of = (weighed, "") if weighed is not None else loss_by_pieces(trial, sheet) or (None, "")
    return TrialView(
        trial=trial,
        sheet=sheet,
        rows=against_plan(_planned(trial, sheet), conditions(trial, mixed, sheet, pantry)),
        loss=loss,
        loss_of=of,
        gaps=gaps(trial, sheet.formula, flours),
    )


def _planned(trial: Trial, sheet: Sheet) -> tuple[Condition, ...]:
    """What the revision plans, and in its place what this bake was to do otherwise; shares are the revision's own."""
    own = {name: worded(name, text) for name, text in trial.plan if not text.endswith("%")}
    page = {condition.name: condition for condition in planned(sheet)}
    return tuple({**page, **own}.values())


def conditions(trial: Trial, mixed: Trial | None, sheet: Sheet, pantry: Pantry) -> tuple[Condition, ...]:
    """What a trial records as done, with what it shares where its dough was mixed for another bake."""
    whole = trial if mixed is None else with_shared(trial, mixed, plan_of(sheet))
    return done(whole, sheet.worked, pantry)
