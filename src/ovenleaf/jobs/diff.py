"""Two revisions compared: the formula, the bakes behind each, and how they came out."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from ovenleaf.book.steps.bakes import dough_of, find_trial, read_trials
from ovenleaf.book.steps.opening import OpenBook, open_book, open_pantry
from ovenleaf.book.steps.sheets import kept_sheet, worked_out
from ovenleaf.book.steps.shelf import (
    Kept,
    Shelf,
    formula_names,
    newest,
    revision_of,
    spoken,
    spoken_of,
    take,
)
from ovenleaf.book.steps.shelf_faults import UnknownFormula
from ovenleaf.compare.bakes import BakeRow, two_bakes
from ovenleaf.compare.formula_diff import compare
from ovenleaf.compare.trial_view import conditions
from ovenleaf.domain.revision import names_revision, slug_of
from ovenleaf.domain.sheet import sheet
from ovenleaf.domain.trial import State
from ovenleaf.errors import Next, Refusal
from ovenleaf.evidence.ranking import NOT_BAKED, by_revision, outcome, pooled, rank
from ovenleaf.results import Diff, Side

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.trial import Trial
    from ovenleaf.findings import Finding


class OneRevision(Refusal):
    """There is only one revision, so nothing to compare. Fact: `formula`."""

    def __init__(self, formula: str) -> None:
        super().__init__(
            f"{formula} has one revision so far, so there is nothing to compare it with.",
            next=(Next(f'ovenleaf tweak {formula} water=+3points --why "softer crumb"', "make a second one"),),
        )
        self.formula = formula


def diff(given: Path | None, start: Path, formula: str, words: Sequence[str] = (), *, draft: bool = False) -> Diff:
    """Compare two revisions of a formula, or two formulas.

    `words` name revisions of `formula` (none: the last two), or one revision of it at most, another
    formula, and one revision of that. With `draft` the newest is compared with the page as it stands.
    """
    book = open_book(given, start)
    shelf = take(book.root, formula)
    pantry = open_pantry(book.root)
    other = next((place for place, word in enumerate(words) if _is_formula(book, word)), None)
    if other is not None:
        return _two_formulas(book, shelf, take(book.root, words[other]), (words[:other], words[other + 1 :]), pantry)
    if len(words) > 2:
        raise TooMany(shelf.name, formula_names(book.root))
    for word in words:
        if not names_revision(word):
            raise UnknownFormula(word, formula_names(book.root))
    trials, findings = read_trials(book.root, shelf.name)
    left, right = _which(shelf, *(*words, "", "")[:2], draft=draft)
    before = _side(book, shelf, left, pantry, trials)
    after = _draft_side(shelf, pantry) if right is None else _side(book, shelf, right, pantry, trials)
    return _compared(book, before, after, pantry, trials, findings)


def _is_formula(book: OpenBook, word: str) -> bool:
    return not names_revision(word) and slug_of(word) in formula_names(book.root)


def _two_formulas(
    book: OpenBook, shelf: Shelf, other: Shelf, words: tuple[Sequence[str], Sequence[str]], pantry: Pantry
) -> Diff:
    """Two formulas, each by the revision named behind it or by its newest."""
    if any(len(some) > 1 for some in words):
        raise TooMany(shelf.name, formula_names(book.root))
    (one, of_one), (two, of_two) = (read_trials(book.root, one.name) for one in (shelf, other))
    left, right = (revision_of(on, "".join(some)) for on, some in zip((shelf, other), words, strict=True))
    before = _by_name(_side(book, shelf, left, pantry, one))
    after = _by_name(_side(book, other, right, pantry, two))
    return _compared(book, before, after, pantry, (), (*of_one, *of_two))


def _by_name(side: Side) -> Side:
    """A side that is told by its formula, since the two are not of one."""
    return replace(side, spoken=f"{side.sheet.formula.name} {side.spoken.replace('revision ', 'r')}")


def diff_trials(given: Path | None, start: Path, one: str, other: str) -> Diff:
    """Compare two bakes: what was planned for each, what was done, how each came out."""
    book = open_book(given, start)
    pantry = open_pantry(book.root)
    sides = [_trial_side(book, find_trial(book.root, typed), pantry) for typed in (one, other)]
    return _compared(book, sides[0], sides[1], pantry, (), ())


def _trial_side(book: OpenBook, trial: Trial, pantry: Pantry) -> Side:
    shelf = take(book.root, trial.formula)
    kept = revision_of(shelf, trial.revision)
    result = outcome(trial.scores, book.page.weights)
    return Side(
        sheet=kept_sheet(shelf, kept, pantry),
        spoken=f"{trial.code}, {spoken(shelf.names, kept.name)}",
        doughs=1 if result.score is not None else 0,
        outcome=result,
        last_bake=trial,
        one_bake=True,
    )


def _compared(
    book: OpenBook,
    before: Side,
    after: Side,
    pantry: Pantry,
    trials: tuple[Trial, ...],
    findings: tuple[Finding, ...],
) -> Diff:
    """Two sides compared; `trials` are those that repeats are looked for among."""
    ranked = rank(trials, book.page.weights, book.page.scale)
    names = dict(spoken_of(book.root, trials))
    return Diff(
        before=before,
        after=after,
        diff=compare(before.sheet, after.sheet, pantry),
        bakes=_bakes(book.root, before, after, pantry),
        repeats=tuple((names[row.formula, row.revision], row) for row in by_revision(ranked) if row.doughs > 1),
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
            raise OneRevision(shelf.name) if len(shelf.in_force) < 2 else NothingBetween(shelf.name, one)
        return named, last
    if len(shelf.in_force) < 2:
        raise OneRevision(shelf.name)
    return [kept for kept in shelf.in_force if kept.name != last.name][-1], last


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


def _side(book: OpenBook, shelf: Shelf, kept: Kept, pantry: Pantry, trials: tuple[Trial, ...]) -> Side:
    own = tuple(trial for trial in trials if trial.revision == str(kept.name))
    doughs, came_out = pooled(own, book.page.weights, book.page.scale)
    baked = [trial for trial in own if trial.state is State.DONE and not trial.left_out]
    return Side(
        sheet=kept_sheet(shelf, kept, pantry),
        spoken=spoken(shelf.names, kept.name),
        doughs=doughs,
        outcome=came_out,
        last_bake=baked[-1] if baked else None,
    )


def _draft_side(shelf: Shelf, pantry: Pantry) -> Side:
    formula = shelf.formula()
    on = sheet(formula, worked_out(formula, shelf.page(), pantry), pantry, None, draft=True)
    return Side(sheet=on, spoken="the page as it stands", doughs=0, outcome=NOT_BAKED, last_bake=None)


def _bakes(root: Path, before: Side, after: Side, pantry: Pantry) -> tuple[BakeRow, ...]:
    """The last bake of each side, condition by condition; none where one side was not baked."""
    if before.last_bake is None or after.last_bake is None:
        return ()
    left = conditions(before.last_bake, dough_of(root, before.last_bake), before.sheet, pantry)
    right = conditions(after.last_bake, dough_of(root, after.last_bake), after.sheet, pantry)
    rows = two_bakes(left, right)
    bakers = before.last_bake.baker, after.last_bake.baker
    if bakers[0] != bakers[1]:
        rows = (*rows, BakeRow(name="baker", before=bakers[0], after=bakers[1], words="changed"))
    return rows
