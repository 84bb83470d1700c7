"""What `record` and `enter` ask when nothing was told: the questions, and the page that answers make."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from functools import partial
from typing import TYPE_CHECKING

from ovenleaf.book.steps.bakes import find_trial, free_code
from ovenleaf.book.steps.opening import open_book, open_pantry, settle_baker
from ovenleaf.book.steps.recording import CannotRecord, check_said
from ovenleaf.book.steps.sheets import kept_sheet
from ovenleaf.book.steps.shelf import formula_names, revision_of, shelf_of, spoken, take
from ovenleaf.book.steps.tasting import refuse_unbaked, settle_taster
from ovenleaf.book.steps.unsettled import refuse_unsettled
from ovenleaf.domain.asking import questions, settled, tasting_questions
from ovenleaf.domain.household import WHICH_SALT, salt_by_spoon
from ovenleaf.domain.ingredients import must_be_known
from ovenleaf.domain.question import NOTHING, Bench, Question, Taken
from ovenleaf.domain.revision import is_slug, slug_of
from ovenleaf.domain.said import Said, together
from ovenleaf.domain.typing_in import TypedLine, ingredient_line
from ovenleaf.errors import Next, Refusal
from ovenleaf.records.yaml_out import dump

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from ovenleaf.records.nodes import Plain

__all__ = [
    "Asked",
    "Question",
    "Said",
    "TypedLine",
    "bench_questions",
    "check_line",
    "formula_page",
    "new_name",
    "tasting",
    "told",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """A bake to be asked about: what it is called, its code to be, and the questions in order."""

    label: str
    spoken: str
    code: str
    questions: tuple[Question, ...]


def bench_questions(
    given: Path | None,
    start: Path,
    formula: str,
    revision: str,
    *,
    taster: str,
    new_taster: bool,
    baker: str,
    today: date,
) -> Asked:
    """The questions about a bake of a formula. Raises what `record` would for formula, revision and taster."""
    book = open_book(given, start)
    who = settle_baker(book.root, baker)
    shelf = take(book.root, formula)
    kept = revision_of(shelf, revision)
    refuse_unsettled(shelf.name, kept.formula(), "record {} {}")
    sheet = kept_sheet(shelf, kept, open_pantry(book.root))
    taster = settle_taster(book.root, book.page, taster, who, new=new_taster)
    bench = Bench(sheet=sheet, book=book.page, taster=taster, today=today)
    return Asked(
        label=sheet.formula.label,
        spoken=spoken(shelf.names, kept.name),
        code=free_code(book.root),
        questions=tuple(replace(one, take=partial(_recordable, one, bench)) for one in questions(bench)),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedMarks:
    """A tasting to be asked about: the trial's code, what it is of, who tastes, and the questions in order."""

    code: str
    label: str
    spoken: str
    day: str
    taster: str
    questions: tuple[Question, ...]


def tasting(given: Path | None, start: Path, typed: str, *, taster: str, new_taster: bool, baker: str) -> AskedMarks:
    """The questions about marks for a trial that is there. Raises what `score` would, before anything is asked."""
    book = open_book(given, start)
    who = settle_baker(book.root, baker)
    trial = find_trial(book.root, typed)
    refuse_unbaked(trial)
    taster = settle_taster(book.root, book.page, taster, who, new=new_taster)
    shelf = shelf_of(book.root, trial.formula)
    kept = revision_of(shelf, trial.revision)
    page = replace(book.page, scale=trial.scale or book.page.scale)
    sheet = kept_sheet(shelf, kept, open_pantry(book.root))
    bench = Bench(sheet=sheet, book=page, taster=taster, today=date.fromisoformat(trial.bake_date))
    gave = next((marks for marks in trial.scores if marks.taster == taster), None)
    return AskedMarks(
        code=trial.code,
        label=sheet.formula.label,
        spoken=spoken(shelf.names, kept.name),
        day=trial.bake_date,
        taster=taster,
        questions=tuple(tasting_questions(bench, gave)),
    )


def _recordable(question: Question, bench: Bench, typed: str, so_far: Said) -> Taken:
    """An answer that `record` would refuse means nothing at once, while it can still be said in another way."""
    taken = question.take(typed, so_far)
    try:
        check_said(together(so_far, taken.said), bench.sheet, bench.book, bench.today)
    except CannotRecord as refusal:
        words = (f"{refusal.reason[:1].upper()}{refusal.reason[1:]}", *refusal.detail)
        return Taken(problem=" ".join(words))
    return taken


def told(answers: Sequence[Said]) -> Said:
    """All answers together, those about one step on one line."""
    said = NOTHING
    for answer in answers:
        said = together(said, answer)
    return settled(said)


class NameInUse(Refusal):
    """A formula of that name is there already, or it can be no name. Facts: `name`, `taken`."""

    def __init__(self, name: str, *, taken: bool) -> None:
        what = f"There is a formula {name} already." if taken else f"{name} cannot be the name of a formula."
        following = (
            (
                Next(f'ovenleaf tweak {name} water=68% --why "..."', "make a new revision of it"),
                Next(f"ovenleaf show {name}", "what it says"),
            )
            if taken
            else (Next("ovenleaf enter stall-loaf", "small letters, figures and hyphens"),)
        )
        super().__init__(what, next=following)
        self.name = name
        self.taken = taken


def new_name(given: Path | None, start: Path, typed: str, baker: str) -> str:
    """The name for a new formula, free to use. Raises NameInUse, and NoBaker before anything is asked."""
    book = open_book(given, start)
    settle_baker(book.root, baker)
    name = slug_of(typed)
    if not is_slug(name):
        raise NameInUse(typed, taken=False)
    if name in formula_names(book.root):
        raise NameInUse(name, taken=True)
    return name


def check_line(given: Path | None, start: Path, typed: str, before: Sequence[TypedLine]) -> TypedLine:
    """One ingredient as typed, looked up and held against those before it."""
    line = ingredient_line(typed)
    if line.problem or line.amount is None:
        return line
    if any(line.item == other.item for other in before):
        return TypedLine(problem=f"{line.item} is in the list already.")
    first = next((other.amount for other in before if other.amount is not None), None)
    if first is not None and first.is_share != line.amount.is_share:
        kind = "percent" if first.is_share else "weights"
        return TypedLine(problem=f"The list is in {kind} so far; give this in {kind} too.")
    if salt_by_spoon(line.item, line.amount):
        return TypedLine(problem=f"{WHICH_SALT} As in table salt {line.amount}, or salt 10 g.")
    pantry = open_pantry(open_book(given, start).root)
    if not pantry.get(line.item).known:
        near = pantry.nearest(line.item)
        if near is not None:
            return TypedLine(problem=f"{line.item} is not known. Did you mean {near}?")
        if must_be_known(line.item):
            closest = ", ".join(pantry.closest(line.item))
            return TypedLine(problem=f"{line.item} is not known, and it must be. Known: {closest}.")
    return line


def formula_page(name: str, title: str, lines: Sequence[TypedLine], makes: str, aims: dict[str, str]) -> str:
    """The page that the answers make."""
    said_aims: dict[str, Plain] = {key: text for key, text in aims.items() if text}
    page: dict[str, Plain] = {"formula": name, "title": title}
    if makes:
        page["makes"] = makes
    if said_aims:
        page["aims"] = said_aims
    page["ingredients"] = {line.item: line.text for line in lines}
    return dump(page)
