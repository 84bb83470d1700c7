"""Publish a formula: the recipe of one revision in round weights, with what stands behind it; and put it out."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.book.steps import weighing as told
from ovenleaf.book.steps.bakes import read_trials
from ovenleaf.book.steps.handing_out import File, check_place, take_away, write_out
from ovenleaf.book.steps.opening import find_root, open_pantry, open_to_read, settle_baker
from ovenleaf.book.steps.publishing import Note, chosen, formula_and_revision, makers, note_down, sources
from ovenleaf.book.steps.sheets import kept_sheet
from ovenleaf.book.steps.shelf import reads_as_draft, take
from ovenleaf.book.steps.signing import PREVIEW, Stamp
from ovenleaf.domain import benchline
from ovenleaf.domain.allergens import allergens
from ovenleaf.domain.batch import dough_in_batch
from ovenleaf.domain.behind import Credits, baked, behind, leaning, usual_size
from ovenleaf.domain.benchvalues import Pieces
from ovenleaf.domain.figures import pct
from ovenleaf.domain.home_kitchen import USUAL_TOLERANCE, Moved, home_batch, home_weight
from ovenleaf.domain.home_measures import by_the_spoon
from ovenleaf.domain.length_of_bake import lengths
from ovenleaf.domain.measures import in_grams
from ovenleaf.domain.numbers import CONTEXT, HUNDRED, plain, portion, rounded
from ovenleaf.domain.nutrition import nutrition
from ovenleaf.domain.quantity import GRAMS_PER, Amount
from ovenleaf.domain.scaling import BadBatch, Wanted, batch
from ovenleaf.errors import Interrupted, Next, Refusal
from ovenleaf.evidence.units import by_person, mixings
from ovenleaf.results.publishing import PutOut, Recipe

if TYPE_CHECKING:
    from collections.abc import Iterable
    from datetime import datetime
    from pathlib import Path

    from ovenleaf.domain.formula import Line
    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.scaling import Batch, Bowl
    from ovenleaf.domain.sheet import Sheet

__all__ = ["Asked", "File", "Note", "PutOut", "Recipe", "check_free_place", "leaning", "put_out", "recipe"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What is to be published and for how much, as typed; "" is not told. `out` is the file or folder."""

    words: tuple[str, ...]
    out: str = ""
    pieces: str = ""
    each: str = ""
    dough: str = ""
    flour: str = ""
    options: tuple[tuple[str, str], ...] = ()

    def option(self, name: str) -> str:
        """What was typed behind an option that not every kind takes, or ""."""
        return dict(self.options).get(name, "")


class TooFar(Refusal):
    """Round weights would be another formula. Facts: `formula`, `moved`."""

    def __init__(self, formula: str, moved: tuple[Moved, ...], tolerance: Decimal) -> None:
        rows = tuple(f"  {one.item}: {pct(one.formula)} by the formula, {pct(one.page)} by the page" for one in moved)
        super().__init__(
            "Not published: rounded for a home kitchen, this batch would be another formula.",
            detail=(
                *rows,
                f"Nothing may move by more than {plain(tolerance)} points, nor salt and yeast by more than a tenth.",
                "A larger batch rounds less.",
            ),
            next=(
                Next(
                    f"ovenleaf publish {formula} --as recipe --flour 1000g --out ../{formula}.txt",
                    "for 1000 g of flour",
                ),
            ),
        )
        self.formula = formula
        self.moved = moved


def recipe(given: Path | None, start: Path, asked: Asked, now: datetime) -> Recipe:
    """The recipe of one revision: its batch in round weights, checked against the formula, and all that goes with it.

    Raises TooFar, and the refusals of its steps.
    """
    book = open_to_read(given, start)
    name, revision = formula_and_revision(asked.words)
    shelf = take(book.root, name)
    kept, why = chosen(shelf, revision)
    pantry = open_pantry(book.root)
    sheet = kept_sheet(shelf, kept, pantry)
    trials = by_person(read_trials(book.root, shelf.name)[0], dict(book.page.persons))
    done = baked(trials, str(kept.name))
    mixing = mixings(trials)
    wanted, size = _wanted(asked, sheet, usual_size(done, mixing, sheet.worked))
    made = _batch(wanted, sheet)
    tolerance = _tolerance(asked.option("tolerance"))
    home = home_batch(sheet.worked, made.flour, tolerance, pantry)
    if home.too_far:
        raise TooFar(shelf.name, home.too_far, tolerance)
    pieces, each = _pieces(made, sheet)
    called = dict(book.page.names)
    bake = told.loss("bake", "", sheet.formula, [one for one in trials if one.counts])
    return Recipe(
        sheet=sheet,
        book=book.page.title,
        made=now.date().isoformat(),
        chosen=why,
        size=size,
        flour=made.flour,
        dough=made.dough,
        pieces=pieces,
        each=each,
        bowls=home.bowls,
        measures=by_the_spoon(home.bowls, pantry),
        moved=home.moved,
        tolerance=tolerance,
        cultures=tuple((item, pantry.get(item).made_of) for item in _items(home.bowls)),
        outside=tuple(_outside(line, made, sheet, pantry) for line in sheet.formula.outside),
        lengths=lengths(sheet.formula, sheet.worked),
        behind=behind(done, mixing, sheet.worked, made.flour),
        bake=bake,
        credits=Credits(by=makers(shelf, kept.name, called), sources=sources(book.root, sheet.formula)),
        allergens=allergens(sheet.allergens),
        nutrition=None if bake.source == "none" else nutrition(sheet.worked, bake.pct, pantry),
        newer_draft=reads_as_draft(shelf),
    )


def _items(bowls: tuple[Bowl, ...]) -> tuple[str, ...]:
    """What is weighed, once each."""
    return tuple(dict.fromkeys(line.item for bowl in bowls for line in bowl.lines))


def _wanted(asked: Asked, sheet: Sheet, baked_flour: Decimal | None) -> tuple[Wanted, str]:
    """What is wanted: as told, else as it was baked most often, else as the page has it; and which of these."""
    usual = told.wanted_by_page(sheet)
    given = [name for name in ("pieces", "dough", "flour") if getattr(asked, name)]
    if len(given) > 1:
        raise Refusal(f"{' and '.join(given)} cannot both say how much.", detail=("Give one of them.",))
    if asked.dough:
        return Wanted(dough=told.weight("dough", asked.dough)), "told"
    if asked.flour:
        return Wanted(flour=told.weight("flour", asked.flour)), "told"
    if asked.pieces or asked.each:
        each = told.weight("each", asked.each) if asked.each else usual.each
        pieces = told.pieces(asked.pieces) if asked.pieces else usual.pieces
        if each is None or pieces is None:
            raise told.CannotWeigh("pieces", "how many pieces, and how heavy?", "As in --pieces 12 --each 85g.")
        return Wanted(pieces=pieces, each=each), "told"
    return (usual, "page") if baked_flour is None else (Wanted(flour=baked_flour), "baked")


def _batch(wanted: Wanted, sheet: Sheet) -> Batch:
    try:
        return batch(wanted, sheet.worked.total)
    except BadBatch as bad:
        raise told.CannotWeigh("batch", f"{bad.why}.") from None


def _tolerance(typed: str) -> Decimal:
    return told.percent("tolerance", typed) if typed else USUAL_TOLERANCE


def _pieces(made: Batch, sheet: Sheet) -> tuple[int | None, Decimal | None]:
    """How many pieces of how much dough the batch gives: as wanted, else whole ones of the size on the page."""
    if made.pieces is not None:
        return made.pieces, made.each
    line = benchline.read(sheet.formula.makes)
    said, each = line.get("pieces"), line.get("weight")
    if not isinstance(said, Pieces) or not isinstance(each, Amount) or each.unit not in GRAMS_PER:
        return None, None
    grams = in_grams(each.value, each.unit)
    count = int(CONTEXT.divide(made.dough, grams) + Decimal("0.02"))  # what sticks to the bowl costs no piece
    return (count, grams) if count else (None, None)


def _outside(line: Line, made: Batch, sheet: Sheet, pantry: Pantry) -> tuple[str, str, str]:
    """What is used beside the dough: a share by the flour, a measure as much more or less as there is dough."""
    if line.amount is None:
        return line.item, line.word, line.note
    kind = pantry.get(line.item).kind
    if line.amount.is_share:
        return line.item, f"{plain(home_weight(portion(line.amount.value, made.flour), kind))} g", line.note
    usual = dough_in_batch(sheet.formula.makes, sheet.worked)
    if usual is None and sheet.worked.flour_g:
        usual = portion(sheet.worked.total, sheet.worked.flour_g)
    times = CONTEXT.divide(made.dough, usual) if usual else Decimal(1)
    if abs(times - 1) * HUNDRED < Decimal(5):
        return line.item, str(line.amount), line.note
    return line.item, str(Amount(rounded(line.amount.value * times, 1), line.amount.unit)), line.note


def check_free_place(given: Path | None, start: Path, out: str, *, folder: bool) -> None:
    """Refuse before any work where what is to be written would not be new. Raises the refusals of `check_place`."""
    check_place(find_root(given, start), start, out, folder=folder)


def put_out(
    given: Path | None,
    start: Path,
    asked: Asked,
    files: Iterable[File],
    note: Note | None,
    *,
    folder: bool,
    baker: str,
    at: datetime,
    preview: bool = False,
) -> PutOut:
    """Write the files, and note in the book that they are out; where the note cannot be kept, nothing is written.

    Raises the refusals of `check_place` and of writing.
    """
    root = find_root(given, start)
    who = settle_baker(root, baker) if note else ""
    place = check_place(root, start, asked.out, folder=folder)
    if preview:
        return PutOut(ahead=PREVIEW, shown=asked.out, files=sum(1 for _ in files), noted=note is not None)
    made = write_out(place, asked.out, files, folder=folder)
    written = sum(path.is_file() for path in made)
    ahead = ""
    if note is not None:
        try:
            ahead = note_down(root, note, asked.out, Stamp(by=who, at=at, verb="publish"))
        except BaseException as stop:
            if not (isinstance(stop, Interrupted) and stop.saved):
                take_away(made)
            raise
    return PutOut(ahead=ahead, shown=asked.out, files=written, noted=note is not None)
