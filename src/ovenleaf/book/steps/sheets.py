"""A kept or current formula page as a sheet."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book.steps.bakes import refused
from ovenleaf.book.steps.once import once
from ovenleaf.book.steps.shelf import revision_of, shelf_of
from ovenleaf.domain.dough import work_out
from ovenleaf.domain.faults import FormulaFault
from ovenleaf.domain.sheet import Sheet, sheet
from ovenleaf.errors import PageRefused, Refusal
from ovenleaf.records import wording

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

    from ovenleaf.book.steps.shelf import Kept, Shelf
    from ovenleaf.domain.formula import Formula
    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.percent import Worked
    from ovenleaf.domain.trial import Trial
    from ovenleaf.findings import Finding
    from ovenleaf.records.nodes import Page


def worked_out(formula: Formula, page: Page, pantry: Pantry) -> Worked:
    """The formula worked out; a fault becomes PageRefused with its line."""
    try:
        return work_out(formula, pantry)
    except FormulaFault as fault:
        what = f"{formula.label} does not come out as it stands."
        raise PageRefused(what, [wording.finding(fault, page, pantry)]) from None


@once
def kept_sheet(shelf: Shelf, kept: Kept, pantry: Pantry) -> Sheet:
    """The sheet of a saved revision. Raises PageFault, PageRefused."""
    formula = kept.formula()
    return sheet(
        formula,
        worked_out(formula, kept.page(), pantry),
        pantry,
        kept.name,
        shared_number=shared_number(shelf, kept),
        settled=bool(formula.open) and str(kept.name) != str(shelf.kept[-1].name),
    )


def shared_number(shelf: Shelf, kept: Kept) -> bool:
    """True if another baker has a revision of the same number."""
    return sum(name.number == kept.name.number for name in shelf.names) > 1


def sheets_of(
    root: Path, trials: Iterable[Trial], pantry: Pantry
) -> tuple[dict[tuple[str, str], Sheet], tuple[Finding, ...]]:
    """The sheet of each revision that was baked, by formula and revision; and what is wrong with those that cannot
    be read or are not there, once each."""
    found: dict[tuple[str, str], Sheet] = {}
    findings: list[Finding] = []
    shelves: dict[str, Shelf] = {}
    for formula, revision in dict.fromkeys((trial.formula, trial.revision) for trial in trials):
        try:
            if formula not in shelves:
                shelves[formula] = shelf_of(root, formula)
            shelf = shelves[formula]
            found[formula, revision] = kept_sheet(shelf, revision_of(shelf, revision), pantry)
        except Refusal as refusal:
            findings += refused(f"formulas/{formula}/{revision}.yaml", refusal)
    return found, tuple(findings)
