"""The one door to a formula's arithmetic: whichever way the page is written."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain import faults
from ovenleaf.domain.stages import work_out_stages
from ovenleaf.domain.whole import work_out_whole

if TYPE_CHECKING:
    from ovenleaf.domain.formula import Formula
    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.percent import Worked


def work_out(formula: Formula, pantry: Pantry) -> Worked:
    """The formula worked out, in percent of all the flour. Raises a FormulaFault that says what does not come out."""
    if bool(formula.ingredients) == bool(formula.stages):
        path = ("stages",) if formula.stages else ("ingredients",)
        raise faults.BothForms(path, both=bool(formula.stages))
    return work_out_stages(formula, pantry) if formula.stages else work_out_whole(formula, pantry)
