"""Two revisions compared: the formula, the bakes behind each, and how they came out."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace
from typing import TYPE_CHECKING

from ovenleaf.book.steps.bakes import dough_of, find_trial, read_trials
from ovenleaf.book.steps.opening import OpenBook, open_pantry, open_to_read
from ovenleaf.book.steps.pairing import TooMany, which_two
from ovenleaf.book.steps.sheets import kept_sheet, worked_out
from ovenleaf.book.steps.shelf import (
    Kept,
    Shelf,
    formula_names,
    revision_of,
    spoken,
    take,
)
from ovenleaf.book.steps.shelf_faults import UnknownFormula
from ovenleaf.compare.bakes import BakeRow, two_bakes
from ovenleaf.compare.formula_diff import compare
from ovenleaf.compare.nearness import apart
from ovenleaf.compare.revisions import BAKER, Revisions, key_of
from ovenleaf.compare.separating import Bake, Pair, independent, separating
from ovenleaf.compare.trial_view import conditions
from ovenleaf.domain.revision import names_revision, slug_of
from ovenleaf.domain.sheet import sheet
from ovenleaf.domain.trial import State
from ovenleaf.errors import Refusal
from ovenleaf.evidence.outcome_gaps import OutcomeGaps, between_bakes, between_revisions
from ovenleaf.evidence.ranking import NOT_BAKED, outcome, pooled, rank
from ovenleaf.evidence.standing import doughs_alike, repeats_enough
from ovenleaf.evidence.units import by_person, mixings
from ovenleaf.results import Diff, Side

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from ovenleaf.compare.bakes import Condition
    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.trial import Trial
    from ovenleaf.evidence.ranking import Weights
    from ovenleaf.evidence.units import Dough
    from ovenleaf.findings import Finding


def diff(given: Path | None, start: Path, formula: str, words: Sequence[str] = (), *, draft: bool = False) -> Diff:
    """Compare two revisions of a formula, or two formulas.

    `words` name revisions of `formula` (none: the last two), or one revision of it at most, another
    formula, and one revision of that. With `draft` the newest is compared with the page as it stands.
    """
    book = open_to_read(given, start)
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
    read, findings = read_trials(book.root, shelf.name)
    trials = by_person(read, dict(book.page.persons))
    left, right = which_two(shelf, *(*words, "", "")[:2], draft=draft)
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
    (read, of_one), (also, of_two) = (read_trials(book.root, one.name) for one in (shelf, other))
    one, two = (by_person(some, dict(book.page.persons)) for some in (read, also))
    left, right = (revision_of(on, "".join(some)) for on, some in zip((shelf, other), words, strict=True))
    before = _by_name(_side(book, shelf, left, pantry, one))
    after = _by_name(_side(book, other, right, pantry, two))
    return _compared(book, before, after, pantry, (), (*of_one, *of_two))


def _by_name(side: Side) -> Side:
    """A side that is told by its formula, since the two are not of one."""
    return replace(side, spoken=f"{side.sheet.formula.name} {side.spoken.replace('revision ', 'r')}")


def diff_trials(given: Path | None, start: Path, one: str, other: str) -> Diff:
    """Compare two bakes: what was planned for each, what was done, how each came out."""
    book = open_to_read(given, start)
    pantry = open_pantry(book.root)
    persons = dict(book.page.persons)
    named = by_person([find_trial(book.root, typed) for typed in (one, other)], persons)
    sides = [_trial_side(book, trial, pantry) for trial in named]
    alone = named[0].formula == named[1].formula
    trials = by_person(read_trials(book.root, named[0].formula)[0], persons) if alone else ()
    return _compared(book, sides[0], sides[1], pantry, trials, ())


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
    """Two sides compared; `trials` are those of the formula if it is one and the same, else none."""
    page = book.page
    scored = tuple(row.trial for row in rank(trials, page.weights, page.scale).rows)
    revisions = _revisions(book, before, after, pantry, scored, trials)
    scored = tuple(trial for trial in scored if revisions.knows(trial))
    beside = apart(*(_conditions(side, scored, revisions) for side in (before, after)))
    whole = compare(before.sheet, after.sheet, pantry)
    things = independent(whole, beside.differ)
    return Diff(
        before=before,
        after=after,
        diff=whole,
        bakes=_bakes(book.root, before, after, pantry),
        beside=beside,
        things=things,
        pairs=_pairs(before, after, _scored_bakes(scored, page.weights, revisions), things, revisions),
        gaps=_gaps(book, before, after, trials) if trials else None,
        scale_top=page.scale.high,
        top=page.top,
        findings=(*book.findings, *findings),
    )


def _pairs(
    before: Side, after: Side, bakes: tuple[Bake, ...], things: tuple[str, ...], revisions: Revisions
) -> tuple[Pair, ...]:
    """Bakes that can tell apart what these cannot; none where one thing differs, or a side was not scored."""
    if len(things) < 2 or not (before.doughs and after.doughs):
        return ()
    sides = frozenset(key_of(side.sheet)[1] for side in (before, after))
    return separating(bakes, things, sides, revisions)


def _gaps(book: OpenBook, before: Side, after: Side, trials: tuple[Trial, ...]) -> OutcomeGaps | None:
    """How sure the outcome is, by the scatter of the formula or of the whole book."""
    weights, scale = book.page.weights, book.page.scale
    others: tuple[Dough, ...] = ()
    if not repeats_enough(trials, weights, scale):
        rest = by_person(read_trials(book.root)[0], dict(book.page.persons))
        others = doughs_alike([trial for trial in rest if trial.formula != trials[0].formula], weights, scale)
    if before.one_bake and before.last_bake and after.last_bake:
        return between_bakes(trials, (before.last_bake.code, after.last_bake.code), weights, scale, others)
    names = before.sheet.revision, after.sheet.revision
    if after.sheet.draft or None in names:
        return None
    return between_revisions(trials, (str(names[0]), str(names[1])), weights, scale, others)


def _revisions(
    book: OpenBook, before: Side, after: Side, pantry: Pantry, scored: tuple[Trial, ...], trials: tuple[Trial, ...]
) -> Revisions:
    """Both sides, and every revision that a scored trial is of, worked out; those that cannot be are left aside."""
    sheets = {key_of(side.sheet): side.sheet for side in (before, after)}
    for formula, revision in sorted({(trial.formula, trial.revision) for trial in scored} - sheets.keys()):
        with suppress(Refusal):
            shelf = take(book.root, formula)
            sheets[formula, revision] = kept_sheet(shelf, revision_of(shelf, revision), pantry)
    return Revisions(sheets, pantry, trials)


def _conditions(side: Side, scored: tuple[Trial, ...], revisions: Revisions) -> tuple[tuple[Condition, ...], ...]:
    """What the doughs of a side record as done: those that were scored, or the last that was baked."""
    own = [trial for trial in scored if (trial.formula, trial.revision) == key_of(side.sheet)]
    if side.one_bake or not own:
        own = [side.last_bake] if side.last_bake else []
    return tuple(revisions.conditions(trial) for trial in own)


def _scored_bakes(scored: tuple[Trial, ...], weights: Weights, revisions: Revisions) -> tuple[Bake, ...]:
    """Scored bakes with what they record, oldest first."""
    mixing = mixings(scored)
    made = [(trial, outcome(trial.scores, weights)) for trial in sorted(scored, key=lambda t: (t.day, t.name))]
    return tuple(
        Bake(
            trial=trial,
            dough=mixing[trial.code],
            conditions=revisions.conditions(trial),
            crumb=result.crumb,
            crust=result.crust,
            score=result.score,
        )
        for trial, result in made
        if result.score is not None
    )


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
        rows = (*rows, BakeRow(name=BAKER, before=bakers[0], after=bakers[1], words="changed"))
    return rows
