"""The worked-out revisions of a formula, to compare the bakes behind them; each pair is compared once."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.compare.bakes import Condition
from ovenleaf.compare.formula_diff import compare
from ovenleaf.compare.trial_view import conditions

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from ovenleaf.compare.formula_diff import FormulaDiff
    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.sheet import Sheet
    from ovenleaf.domain.trial import Trial

BAKER = "baker"


class Revisions:
    """Sheets by formula and full name of the revision; `trials` are those among which a dough is looked for that a
    bake shares."""

    def __init__(self, sheets: Mapping[tuple[str, str], Sheet], pantry: Pantry, trials: Iterable[Trial] = ()) -> None:
        self._sheets, self._pantry = sheets, pantry
        self._mixed = {trial.code: trial for trial in trials}
        self._between: dict[tuple[tuple[str, str], tuple[str, str]], FormulaDiff] = {}

    def knows(self, trial: Trial) -> bool:
        """True if the revision that a trial is of is among them."""
        return (trial.formula, trial.revision) in self._sheets

    def conditions(self, trial: Trial) -> tuple[Condition, ...]:
        """What a trial records as done, what it shares with the bake its dough was mixed for, and who baked it."""
        mixed = self._mixed.get(trial.shares_dough_with)
        made = conditions(trial, mixed, self._sheets[trial.formula, trial.revision], self._pantry)
        return (*made, Condition(name=BAKER, value=trial.baker, text=trial.baker)) if trial.baker else made

    def between(self, one: tuple[str, str], other: tuple[str, str]) -> FormulaDiff:
        """What differs between two revisions."""
        if (one, other) not in self._between:
            self._between[one, other] = compare(self._sheets[one], self._sheets[other], self._pantry)
        return self._between[one, other]


def key_of(sheet: Sheet) -> tuple[str, str]:
    """The formula and the full name of the revision that a sheet is of; "" for one that is not saved."""
    return sheet.formula.name, "" if sheet.draft or sheet.revision is None else str(sheet.revision)
