"""Put a trial right: the old value, who, when and why stay visible in it, and what it moves is named."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.book import layout
from ovenleaf.book.steps.bakes import find_trial, page_of, read_trials
from ovenleaf.book.steps.correcting import CannotCorrect, check_after
from ovenleaf.book.steps.hand_edits import refuse_edited
from ovenleaf.book.steps.opening import open_book, open_pantry, settle_baker, working_page
from ovenleaf.book.steps.righting import Settled, parted, righted_page, settle
from ovenleaf.book.steps.sheets import kept_sheet
from ovenleaf.book.steps.shelf import Kept, Shelf, as_typed, revision_of, spoken, take
from ovenleaf.book.steps.signing import Stamp, put
from ovenleaf.book.steps.swapping import as_begun
from ovenleaf.compare.bakes import done
from ovenleaf.compare.trial_view import trial_view
from ovenleaf.domain.trial import State, Trial
from ovenleaf.errors import Next, Refusal
from ovenleaf.evidence.moves import Move, revision_moves, trial_moves
from ovenleaf.evidence.ranking import pooled
from ovenleaf.records.codec.trials import read_trial
from ovenleaf.results import Corrected

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import datetime
    from pathlib import Path

    from ovenleaf.domain.book import BookPage
    from ovenleaf.domain.ingredients import Pantry

_LINE = 72  # letters of an entry's one line


class ReasonWanted(Refusal):
    """A value that is put right wants its reason. Facts: `code`, `fields`."""

    def __init__(self, code: str, fields: tuple[str, ...], command: str) -> None:
        super().__init__(
            f"Putting {', '.join(fields)} right in trial {code} wants a reason: why was it wrong?",
            next=(Next(f'{command} --why "misread the scale"', "in a few words of your own"),),
        )
        self.code = code
        self.fields = fields


def correct(
    given: Path | None,
    start: Path,
    typed: str,
    changes: Sequence[str],
    *,
    why: str,
    baker: str,
    at: datetime,
    preview: bool = False,
) -> Corrected:
    """Put values of a trial right, each typed as FIELD=VALUE; what was not recorded yet is added.

    Raises UnknownField, CannotCorrect, RightAlready, ReasonWanted and the refusals of its steps.
    """
    book = open_book(given, start)
    who = settle_baker(book.root, baker)
    trial = find_trial(book.root, typed)
    if not changes:
        shown = Next(f"ovenleaf show {trial.code}", "what it records")
        said = "it was not said what should be what."
        raise CannotCorrect(typed, said, "Say it as FIELD=VALUE, as in weighed.salt=10g", next=(shown,))
    path = page_of(trial.name)
    before = layout.read_page(book.root, path)
    refuse_edited(book.root, path, "Not put right")
    shelf = take(book.root, trial.formula)
    pantry = open_pantry(book.root)
    work = settle(book, trial, shelf, changes, pantry, at)
    stamp = Stamp(by=who, at=at, verb="correct", preview=preview)
    corrections, added = parted(work, stamp, why)
    if corrections and not why:
        fields = tuple(made.field for made in corrections)
        raise ReasonWanted(trial.code, fields, " ".join(("ovenleaf correct", trial.code, *map(_quoted, changes))))
    page = righted_page(working_page(book.root, path), work, shelf, corrections, added, stamp)
    after = read_trial(page)
    sheet = as_begun(kept_sheet(shelf, revision_of(shelf, after.revision), pantry), after, pantry)
    check_after(trial, after, tuple(one.change.field for one in work), sheet, book.page, at.date())
    moves = _moved(book.root, shelf, after, book.page, pantry)
    subject = _subject(trial, who, work)
    ahead = put(book.root, {path: page.text}, stamp, subject, why, expect={path: before})
    return Corrected(
        view=trial_view(after, sheet, pantry),
        corrections=corrections,
        added=added,
        moves=moves.trials,
        revisions=moves.revisions,
        diffs=moves.diffs,
        spoken=moves.spoken,
        ahead=ahead,
    )


def _quoted(change: str) -> str:
    return f'"{change}"' if " " in change else change


def _subject(trial: Trial, who: str, work: tuple[Settled, ...]) -> str:
    start = f"{trial.formula} {trial.code} ({who}): "
    told = ", ".join(f"{one.change.field} {one.was or 'not recorded'} to {one.now or 'not recorded'}" for one in work)
    short = ", ".join(one.change.field for one in work) + " put right"
    fits = next((said for said in (told, short) if len(start + said) <= _LINE), f"{len(work)} values put right")
    return start + fits


@dataclass(frozen=True, slots=True, kw_only=True)
class _Moved:
    """Trials and revisions of which place or score is another; comparisons, as two revisions typed; names as spoken."""

    trials: tuple[Move, ...]
    revisions: tuple[Move, ...]
    diffs: tuple[tuple[str, str], ...]
    spoken: tuple[tuple[str, str], ...]


def _moved(root: Path, shelf: Shelf, trial: Trial, book: BookPage, pantry: Pantry) -> _Moved:
    """What `trial`, as it is to be, moves beside the pages as they lie in the book now."""
    before = read_trials(root, shelf.name)[0]
    after = tuple(trial if one.name == trial.name else one for one in before)
    rule = book.weights, book.scale
    return _Moved(
        trials=trial_moves(before, after, *rule),
        revisions=revision_moves(before, after, *rule),
        diffs=tuple(_diffs(shelf, before, after, book, pantry)),
        spoken=tuple((str(name), spoken(shelf.names, name)) for name in shelf.names),
    )


def _diffs(
    shelf: Shelf, before: tuple[Trial, ...], after: tuple[Trial, ...], book: BookPage, pantry: Pantry
) -> list[tuple[str, str]]:
    """Each revision that comes out otherwise, or whose last bake was done otherwise, beside those it goes with."""
    old, new = ([_side(kept, shelf, trials, book, pantry) for kept in shelf.kept] for trials in (before, after))
    changed = {str(kept.name) for kept, one, other in zip(shelf.kept, old, new, strict=True) if one != other}
    pairs = [(base, kept) for kept in shelf.kept for base in _bases(shelf, kept)]
    return [
        (as_typed(shelf.names, base.name), as_typed(shelf.names, kept.name))
        for base, kept in pairs
        if str(base.name) in changed or str(kept.name) in changed
    ]


def _bases(shelf: Shelf, kept: Kept) -> list[Kept]:
    try:
        made_from = kept.formula().made_from
    except Refusal:
        return []
    return [base for base in shelf.kept if str(base.name) in made_from]


def _side(kept: Kept, shelf: Shelf, trials: tuple[Trial, ...], book: BookPage, pantry: Pantry) -> object:
    """All that a comparison shows of a revision's bakes."""
    own = [trial for trial in trials if trial.revision == str(kept.name)]
    baked = [trial for trial in own if trial.state is State.DONE and not trial.left_out]
    if not own:
        return None
    try:
        worked = kept_sheet(shelf, kept, pantry).worked
    except Refusal:
        return None
    return pooled(own, book.weights, book.scale), done(baked[-1], worked, pantry) if baked else ()
