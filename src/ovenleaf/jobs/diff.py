"""Two revisions compared: the formula, the bakes behind each, and how they came out."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book.steps.bakes import read_trials
from ovenleaf.book.steps.opening import OpenBook, open_book, open_pantry
from ovenleaf.book.steps.sheets import kept_sheet, worked_out
from ovenleaf.book.steps.shelf import Kept, Shelf, newest, revision_of, spoken, take
from ovenleaf.compare.bakes import BakeRow, done, two_bakes
from ovenleaf.compare.formula_diff import compare
from ovenleaf.domain.sheet import Sheet, sheet
from ovenleaf.domain.trial import State
from ovenleaf.errors import Next, Refusal
from ovenleaf.evidence.ranking import NOT_BAKED, by_revision, pooled, rank
from ovenleaf.results import Diff, Side

if TYPE_CHECKING:
    from pathlib import Path

    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.trial import Trial


class OneRevision(Refusal):
    """There is only one revision, so nothing to compare. Fact: `formula`."""

    def __init__(self, formula: str) -> None:
        super().__init__(
            f"{formula} has one revision so far, so there is nothing to compare it with.",
            next=(Next(f'ovenleaf tweak {formula} water=+3points --why "softer crumb"', "make a second one"),),
        )
        self.formula = formula


def diff(given: Path | None, start: Path, formula: str, one: str, other: str, *, draft: bool = False) -> Diff:
    """Compare two revisions: those named, or the last two; with `draft`, the newest and the page as it stands."""
    book = open_book(given, start)
    shelf = take(book.root, formula)
    pantry = open_pantry(book.root)
    trials, findings = read_trials(book.root, shelf.name)
    left, right = _which(shelf, one, other, draft=draft)
    before = _side(book, shelf, left, kept_sheet(shelf, left, pantry), trials)
    after = (
        _draft_side(shelf, pantry)
        if right is None
        else _side(book, shelf, right, kept_sheet(shelf, right, pantry), trials)
    )
    ranked = rank(trials, book.page.weights, book.page.scale)
    return Diff(
        before=before,
        after=after,
        diff=compare(before.sheet, after.sheet, pantry),
        bakes=_bakes(before, after, pantry),
        repeats=tuple(row for row in by_revision(ranked) if row.doughs > 1),
        scale_top=book.page.scale.high,
        top=book.page.top,
        findings=findings,
    )


def _which(shelf: Shelf, one: str, other: str, *, draft: bool) -> tuple[Kept, Kept | None]:
    """The two to compare, older on the left; None on the right is the page as it stands."""
    if draft:
        return revision_of(shelf, one) if one else newest(shelf), None
    if one and other:
        return revision_of(shelf, one), revision_of(shelf, other)
    last = newest(shelf)
    if one:
        named = revision_of(shelf, one)
        if named.name == last.name:
            raise OneRevision(shelf.name) if len(shelf.kept) < 2 else NothingBetween(shelf.name, one)
        return named, last
    if len(shelf.kept) < 2:
        raise OneRevision(shelf.name)
    return [kept for kept in shelf.kept if kept.name != last.name][-1], last


class NothingBetween(Refusal):
    """The newest revision was named against itself. Facts: `formula`, `typed`."""

    def __init__(self, formula: str, typed: str) -> None:
        super().__init__(
            f"{typed} is the newest revision of {formula} itself; name another to compare it with.",
            next=(Next(f"ovenleaf diff {formula}", "the last two"),),
        )
        self.formula = formula
        self.typed = typed


def _side(book: OpenBook, shelf: Shelf, kept: Kept, on: Sheet, trials: tuple[Trial, ...]) -> Side:
    own = tuple(trial for trial in trials if trial.revision == str(kept.name))
    doughs, outcome = pooled(own, book.page.weights, book.page.scale)
    baked = [trial for trial in own if trial.state is State.DONE and not trial.left_out]
    return Side(
        sheet=on,
        spoken=spoken(shelf.names, kept.name),
        doughs=doughs,
        outcome=outcome,
        last_bake=baked[-1] if baked else None,
    )


def _draft_side(shelf: Shelf, pantry: Pantry) -> Side:
    formula = shelf.formula()
    on = sheet(formula, worked_out(formula, shelf.page(), pantry), pantry, None, draft=True)
    return Side(sheet=on, spoken="the page as it stands", doughs=0, outcome=NOT_BAKED, last_bake=None)


def _bakes(before: Side, after: Side, pantry: Pantry) -> tuple[BakeRow, ...]:
    """The last bake of each side, condition by condition; none where one side was not baked."""
    if before.last_bake is None or after.last_bake is None:
        return ()
    left = done(before.last_bake, before.sheet.worked, pantry)
    right = done(after.last_bake, after.sheet.worked, pantry)
    rows = two_bakes(left, right)
    bakers = before.last_bake.baker, after.last_bake.baker
    if bakers[0] != bakers[1]:
        rows = (*rows, BakeRow(name="baker", before=bakers[0], after=bakers[1], words="changed"))
    return rows
