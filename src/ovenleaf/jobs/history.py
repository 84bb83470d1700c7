"""All revisions of a formula: what each changed, why, and what came of it; scores as a picture."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.book.steps.bakes import read_trials, refused
from ovenleaf.book.steps.marking import marks_page_of, readable_marks
from ovenleaf.book.steps.new_files import check_free, write_new
from ovenleaf.book.steps.opening import OpenBook, open_pantry, open_to_read
from ovenleaf.book.steps.sheets import kept_sheet
from ovenleaf.book.steps.shelf import Kept, Shelf, reads_as_draft, spoken, take
from ovenleaf.compare.figures import figures, named
from ovenleaf.compare.formula_diff import TOTALS, compare
from ovenleaf.compare.headline import phrases
from ovenleaf.domain.numbers import ZERO
from ovenleaf.domain.trial import ATTRIBUTES, State
from ovenleaf.errors import Next, Refusal, SayWhich
from ovenleaf.evidence.against import Against, Point
from ovenleaf.evidence.against import against as set_against
from ovenleaf.evidence.ranking import pooled, rank
from ovenleaf.evidence.units import by_person
from ovenleaf.results import History, HistoryRow

if TYPE_CHECKING:
    from pathlib import Path

    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.sheet import Sheet
    from ovenleaf.domain.trial import Trial
    from ovenleaf.evidence.ranking import Ranking, Weights
    from ovenleaf.findings import Finding

__all__ = ["check_free", "history", "write_new"]

SCORE = "score"
NONE_IN_IT = "none in the formula"


class NoSuchFigure(Refusal):
    """Nothing of that name was weighed or measured in any bake. Facts: `formula`, `typed`, `names`."""

    def __init__(self, formula: str, typed: str, names: tuple[str, ...]) -> None:
        super().__init__(
            f"No bake of {formula} has a figure for {typed}.",
            detail=(f"There are figures for: {'; '.join(names)}.",) if names else (),
            next=(Next(f'ovenleaf history {formula} --against "{names[0]}"'),) if names else (),
        )
        self.formula = formula
        self.typed = typed
        self.names = names


class WhichFigure(SayWhich):
    """A short name that several figures share. Facts: `typed`, `names`."""

    def __init__(self, typed: str, names: tuple[str, ...]) -> None:
        super().__init__(f"{typed} can mean more than one: {', '.join(names)}.", typed, names, detail=("Say which.",))


class NotScored(Refusal):
    """Something that tasters do not score. Fact: `typed`."""

    def __init__(self, typed: str) -> None:
        known = f"{', '.join(ATTRIBUTES[:-1])} or {ATTRIBUTES[-1]}"
        super().__init__(f"Tasters do not score {typed}.", detail=(f"Say --of score, {known}.",))
        self.typed = typed


def history(
    given: Path | None, start: Path, formula: str, *, against: str = "", of: str = SCORE, chart: bool = False
) -> History:
    """The kept revisions, oldest first, each with how its doughs came out.

    `against` names something weighed or measured that scores are to be set against, `chart` asks for the scores by
    revision; both take `of`, the score or one of its attributes. Raises NoSuchFigure, WhichFigure, NotScored.
    """
    book = open_to_read(given, start)
    shelf = take(book.root, formula)
    pantry = open_pantry(book.root)
    read, findings = read_trials(book.root, shelf.name)
    trials = by_person(read, dict(book.page.persons))
    faults: list[Finding] = [*book.findings, *findings]
    if shelf.marks_fault is not None:
        faults += refused(marks_page_of(shelf.name), shelf.marks_fault)
    marks = readable_marks(book.root, shelf.name).standing
    sheets: dict[str, Sheet] = {}
    rows = []
    for kept in shelf.kept:
        try:
            sheets[str(kept.name)] = kept_sheet(shelf, kept, pantry)
        except Refusal as refusal:
            faults += refused(kept.path, refusal)
            continue
        rows.append(_row(book, shelf, kept, sheets, trials, marks, pantry))
    last = rows[-1].revision if rows else None
    wanted = against or chart
    ranking = rank(trials, _weights(of, book), book.page.scale) if wanted else None
    return History(
        name=shelf.name,
        title=sheets[str(last)].formula.label if last else shelf.name,
        rows=tuple(rows),
        draft=reads_as_draft(shelf),
        findings=tuple(faults),
        against=_against(shelf, ranking, trials, sheets, pantry, against, of) if ranking and against else None,
        chart=_chart(ranking, rows) if ranking and chart else None,
    )


def _weights(of: str, book: OpenBook) -> Weights:
    if of == SCORE:
        return book.page.weights
    if of not in ATTRIBUTES:
        raise NotScored(of)
    return ((of, Decimal(1)),)


def _against(
    shelf: Shelf,
    ranking: Ranking,
    trials: tuple[Trial, ...],
    sheets: dict[str, Sheet],
    pantry: Pantry,
    typed: str,
    of: str,
) -> Against:
    found = {t.code: figures(t, sheets[t.revision].worked, pantry) for t in trials if t.revision in sheets}
    names = tuple(dict.fromkeys(name for of_bake in found.values() for name in of_bake))
    meant = named(typed, names)
    if not meant:
        raise NoSuchFigure(shelf.name, typed, names)
    if len(meant) > 1:
        raise WhichFigure(typed, meant)
    known = {code: of_bake[meant[0]] for code, of_bake in found.items() if meant[0] in of_bake}
    values = {code: (figure.value, figure.source.value) for code, figure in known.items()}
    if meant[0] in TOTALS or any(meant[0] == share.item for sheet in sheets.values() for share in sheet.worked.whole):
        values = dict.fromkeys(found, (ZERO, NONE_IN_IT)) | values
    return set_against(
        ranking,
        values,
        what=meant[0],
        unit=next(iter(known.values())).unit,
        of=of,
        why_not=f"no figure for {meant[0]}",
    )


def _chart(ranking: Ranking, rows: list[HistoryRow]) -> tuple[tuple[str, tuple[Point, ...]], ...]:
    """The doughs of each revision, a revision being where a dough lies."""
    places = {str(row.revision): Decimal(place) for place, row in enumerate(rows, start=1)}
    known = {row.trial.code: (places[row.trial.revision], "") for row in ranking.rows if row.trial.revision in places}
    made = set_against(ranking, known, what="revision", unit="", of="", why_not="").points
    return tuple((row.spoken, tuple(p for p in made if p.value == places[str(row.revision)])) for row in rows)


def _row(
    book: OpenBook,
    shelf: Shelf,
    kept: Kept,
    sheets: dict[str, Sheet],
    trials: tuple[Trial, ...],
    marks: dict[str, str],
    pantry: Pantry,
) -> HistoryRow:
    name = str(kept.name)
    formula = sheets[name].formula
    own = [trial for trial in trials if trial.revision == name and trial.state is not State.WITHDRAWN]
    doughs, outcome = pooled(own, book.page.weights, book.page.scale)
    base = sheets.get(formula.made_from[0]) if formula.made_from else None
    return HistoryRow(
        revision=kept.name,
        spoken=spoken(shelf.names, kept.name),
        by=formula.by,
        saved=formula.saved,
        why=formula.why,
        made_from=formula.made_from,
        mark=marks.get(name, ""),
        pin=kept.pin,
        trials=len(own),
        doughs=doughs,
        outcome=outcome,
        differing=() if base is None else _differing(base, sheets[name], pantry),
        open=formula.open,
    )


def _differing(base: Sheet, now: Sheet, pantry: Pantry) -> tuple[str, ...]:
    """What a revision changed; what is open in it was not changed but left as it had been."""
    asked = tuple(f"{question.item} " for question in now.formula.open)
    return tuple(said for said in phrases(compare(base, now, pantry)) if not asked or not said.startswith(asked))
