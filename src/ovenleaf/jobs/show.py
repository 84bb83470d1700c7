"""Look at one thing: a formula's sheet, a trial beside its plan, or what is known of an ingredient."""

from __future__ import annotations

from difflib import get_close_matches
from typing import TYPE_CHECKING

from ovenleaf.book.steps.bakes import UnknownTrial, dough_of, find_trial, is_day, read_trials
from ovenleaf.book.steps.keeping import faults_of_draft
from ovenleaf.book.steps.opening import open_pantry, open_to_read
from ovenleaf.book.steps.sheets import kept_sheet, worked_out
from ovenleaf.book.steps.shelf import Shelf, formula_names, is_draft, newest, revision_of, take
from ovenleaf.book.steps.shelf_faults import UnknownFormula
from ovenleaf.book.steps.swapping import as_begun
from ovenleaf.book.steps.tasting import somebody_else
from ovenleaf.book.steps.weighing import loss
from ovenleaf.compare.trial_view import trial_view
from ovenleaf.domain.more import numbers
from ovenleaf.domain.revision import names_revision, place_of, slug_of
from ovenleaf.domain.sheet import Sheet, sheet
from ovenleaf.errors import Next, PageRefused, Refusal
from ovenleaf.results import IngredientView, More, ShownTrial

if TYPE_CHECKING:
    from pathlib import Path

    from ovenleaf.domain.ingredients import Ingredient, Pantry
    from ovenleaf.domain.trial import Trial


class UnknownThing(Refusal):
    """Neither a formula, nor a trial, nor an ingredient. Facts: `name`, `near`."""

    def __init__(self, name: str, near: tuple[str, ...]) -> None:
        mean = f" Did you mean {near[0]}?" if near else ""
        super().__init__(
            f"{name} is no formula, no trial and no ingredient here.{mean}",
            next=(
                Next("ovenleaf list", "the formulas and trials of this book"),
                *([Next(f"ovenleaf show {slug_of(near[0])}")] if near else []),
            ),
        )
        self.name = name
        self.near = near


def show(given: Path | None, start: Path, name: str, revision: str) -> Sheet | ShownTrial | IngredientView:
    """What `name` is: a formula (with `revision`, or as its page stands), a trial, or an ingredient."""
    book = open_to_read(given, start)
    pantry = open_pantry(book.root)
    if slug_of(name) in formula_names(book.root) and not is_day(revision):
        return _formula(take(book.root, name), revision, pantry)
    words = f"{name} {revision}".strip()  # fresh yeast, typed without quotes
    known = pantry.get(words)
    if _may_be_trial(name, revision) and (trial := _trial(book.root, name, revision, known)) is not None:
        shelf = take(book.root, trial.formula)
        plan = as_begun(kept_sheet(shelf, revision_of(shelf, trial.revision), pantry), trial, pantry)
        taster = somebody_else(book.root, book.page, trial, trial.baker)
        view = trial_view(trial, plan, pantry, dough_of(book.root, trial))
        return ShownTrial(view=view, book=book.page, taster=taster, findings=book.findings)
    if known.known:
        return IngredientView(ingredient=known)
    if names_revision(revision):
        raise UnknownFormula(name, formula_names(book.root))
    near = pantry.nearest(words)
    formulas = _near_formulas(slug_of(words), formula_names(book.root))
    raise UnknownThing(words, formulas or ((near,) if near else pantry.closest(words)))


def _near_formulas(typed: str, names: tuple[str, ...]) -> tuple[str, ...]:
    """The formula whose name, or the beginning of it to the length that was typed, is nearly that."""
    begun = {name[: len(typed)]: name for name in reversed(names)} if len(typed) > 3 else {}
    near = get_close_matches(typed, names, n=1, cutoff=0.7)
    return tuple(near or [begun[one] for one in get_close_matches(typed, begun, n=1, cutoff=0.8)])


def show_more(given: Path | None, start: Path, name: str, revision: str, bake_loss: str = "") -> More:
    """The numbers for the sceptic of a formula, at a loss that is given, that it says or that its bakes measured.

    Raises UnknownFormula where `name` is no formula; CannotWeigh where the loss is none.
    """
    book = open_to_read(given, start)
    pantry = open_pantry(book.root)
    shelf = take(book.root, name)
    found = _formula(shelf, revision, pantry)
    trials = tuple(trial for trial in read_trials(book.root, shelf.name)[0] if trial.counts)
    lost = loss("bake", bake_loss, found.formula, trials)
    return More(sheet=found, numbers=numbers(found, lost, trials, pantry))


def _trial(root: Path, name: str, revision: str, known: Ingredient) -> Trial | None:
    """The trial of that name; None where there is none and a flour such as T65 is called so."""
    try:
        return find_trial(root, f"{name} {revision}".strip())
    except UnknownTrial:
        if known.known:
            return None
        raise


def _formula(shelf: Shelf, revision: str, pantry: Pantry) -> Sheet:
    """A saved revision, or the page as it stands: a draft is said to be one. Raises PageRefused for one that
    holds what no formula can."""
    draft = not revision and is_draft(shelf)
    if not revision and (faults := faults_of_draft(shelf)):
        raise PageRefused(f"{shelf.path} cannot be read as a formula", faults, next=shelf.last_saved)
    if draft:
        formula = shelf.formula()
        return sheet(formula, worked_out(formula, shelf.page(), pantry), pantry, None, draft=True)
    kept = revision_of(shelf, revision) if revision else newest(shelf)
    return kept_sheet(shelf, kept, pantry)


def _may_be_trial(name: str, revision: str) -> bool:
    """A code, `last`, an id, or a formula and a day; a formula and a revision is none."""
    return place_of(name.upper()) is not None or name == "last" or "/" in name or is_day(revision)
