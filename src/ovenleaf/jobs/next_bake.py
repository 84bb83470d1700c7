"""What to bake next of a formula, with the reason; and one of those bakes kept as a planned trial."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book.steps.bakes import free_code, free_name, page_of, read_trials, refused
from ovenleaf.book.steps.opening import OpenBook, open_book, open_pantry, settle_baker
from ovenleaf.book.steps.pages import schema_line
from ovenleaf.book.steps.sheets import kept_sheet
from ovenleaf.book.steps.shelf import Shelf, as_typed, revision_of, spoken, take
from ovenleaf.book.steps.signing import Stamp, put
from ovenleaf.compare.bakes import done
from ovenleaf.compare.confounded import varied
from ovenleaf.compare.formula_diff import compare
from ovenleaf.domain.trial import State, Trial
from ovenleaf.errors import Next, Refusal
from ovenleaf.evidence.next import Kind, Known, Suggestion, leader, question, suggestions
from ovenleaf.evidence.ranking import rank
from ovenleaf.evidence.standing import Standings, all_standings
from ovenleaf.records.codec.trials import trial_text
from ovenleaf.results import BakePlanned, NextBakes

if TYPE_CHECKING:
    from datetime import datetime
    from pathlib import Path

    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.sheet import Sheet
    from ovenleaf.domain.varied import Varied
    from ovenleaf.findings import Finding

ALL_ELSE = "all else"  # in a plan: the bake whose other conditions are kept


class NoSuchSuggestion(Refusal):
    """There is no suggestion of that number. Facts: `formula`, `number`, `count`."""

    def __init__(self, formula: str, number: int, count: int) -> None:
        known = f"There are {count}, from 1." if count else "There is nothing to suggest."
        super().__init__(
            f"There is no suggestion {number} for {formula}.",
            detail=(known,),
            next=(Next(f"ovenleaf next {formula}", "what to bake next"),),
        )
        self.formula = formula
        self.number = number
        self.count = count


def next_bakes(given: Path | None, start: Path, formula: str) -> NextBakes:
    """At most three suggestions. Raises UnknownFormula, and UnknownRevision where no revision is saved yet."""
    book = open_book(given, start)
    return _next_bakes(book, take(book.root, formula))


def keep(
    given: Path | None,
    start: Path,
    formula: str,
    number: int,
    *,
    baker: str,
    at: datetime,
    preview: bool = False,
) -> BakePlanned:
    """Keep suggestion `number`, counted from 1, as a planned trial. Raises NoSuchSuggestion."""
    book = open_book(given, start)
    who = settle_baker(book.root, baker)
    shelf = take(book.root, formula)
    found = _next_bakes(book, shelf)
    if not 1 <= number <= len(found.suggestions):
        raise NoSuchSuggestion(shelf.name, number, len(found.suggestions))
    chosen, alike = found.suggestions[number - 1], found.alike[number - 1]
    kept = revision_of(shelf, chosen.revision)
    trial = Trial(
        name=free_name(book.root, shelf.name, at.date().isoformat(), who),
        formula=shelf.name,
        revision=chosen.revision,
        code=free_code(book.root),
        baker=who,
        question=question(chosen, found.spoken),
        state=State.PLANNED,
        plan=(*chosen.plan, *(((ALL_ELSE, f"as in {alike}"),) if alike else ())),
        pin=kept.pin,
    )
    page = page_of(trial.name)
    stamp = Stamp(by=who, at=at, verb="next", preview=preview)
    text = schema_line("trial", page) + trial_text(trial)
    ahead = put(book.root, {page: text}, stamp, f"{shelf.name} {trial.code} ({who}): planned", expect={page: None})
    return BakePlanned(
        trial=trial,
        title=found.title,
        spoken=spoken(shelf.names, kept.name),
        tweaks=chosen.plan if chosen.last is not None and chosen.last.shares is not None else (),
        typed=as_typed(shelf.names, kept.name),
        ahead=ahead,
    )


def _next_bakes(book: OpenBook, shelf: Shelf) -> NextBakes:
    newest = revision_of(shelf, None)
    trials, findings = read_trials(book.root)
    own = tuple(trial for trial in trials if trial.formula == shelf.name)
    ranked = all_standings(own, trials, book.page.weights, book.page.scale)
    standings = ranked[0] if ranked else None
    scored = tuple(row.trial for row in rank(own, book.page.weights, book.page.scale).rows)
    planned = tuple(trial for trial in own if trial.state is State.PLANNED)
    faults: list[Finding] = list(findings)
    known = _known(shelf, standings, scored, planned, open_pantry(book.root), faults)
    found = suggestions(known)
    return NextBakes(
        name=shelf.name,
        title=newest.formula().label,
        suggestions=found,
        alike=tuple(_alike(one, scored) for one in found),
        standings=standings,
        spoken=tuple((str(name), spoken(shelf.names, name)) for name in shelf.names),
        planned=planned,
        findings=tuple(faults),
    )


def _known(
    shelf: Shelf,
    standings: Standings | None,
    scored: tuple[Trial, ...],
    planned: tuple[Trial, ...],
    pantry: Pantry,
    faults: list[Finding],
) -> Known:
    revisions = tuple(str(name) for name in shelf.names)
    tried = frozenset((t.revision, tuple(row for row in t.plan if row[0] != ALL_ELSE)) for t in planned)
    if standings is None or not standings.rows:
        return Known(standings=None, revisions=revisions, tried=tried)
    sheets = _sheets(shelf, pantry, faults)
    lead = leader(standings).row.revision
    base = next((name for name in sheets[lead].formula.made_from if name in sheets), "") if lead in sheets else ""
    differs = _varied(sheets[base], sheets[lead], base, lead, scored, pantry) if base else ()
    return Known(
        standings=standings,
        revisions=revisions,
        base=base,
        keeper=shelf.keeper,
        varied=differs,
        beyond=frozenset(one.name for one in differs if _is_beyond(one, sheets, scored)),
        separated=bool(base) and _is_separated(sheets, base, scored, pantry, differs),
        tried=tried,
    )


def _sheets(shelf: Shelf, pantry: Pantry, faults: list[Finding]) -> dict[str, Sheet]:
    found = {}
    for kept in shelf.kept:
        try:
            found[str(kept.name)] = kept_sheet(shelf, kept, pantry)
        except Refusal as refusal:
            faults += refused(kept.path, refusal)
    return found


def _varied(
    before: Sheet, after: Sheet, base: str, lead: str, scored: tuple[Trial, ...], pantry: Pantry
) -> tuple[Varied, ...]:
    bakes = {
        revision: [done(trial, sheet.worked, pantry) for trial in scored if trial.revision == revision]
        for revision, sheet in ((base, before), (lead, after))
    }
    return varied(compare(before, after, pantry), after, bakes[base], bakes[lead])


def _is_beyond(one: Varied, sheets: dict[str, Sheet], scored: tuple[Trial, ...]) -> bool:
    """True if a bake lies further than the leader in the direction that an item went."""
    if one.shares is None:
        return False
    before, after = one.shares
    baked = {trial.revision for trial in scored}
    shares = (
        share.pct
        for revision, sheet in sheets.items()
        if revision in baked
        for share in sheet.worked.whole
        if share.item == one.name
    )
    return any(share > after if after > before else share < after for share in shares)


def _is_separated(
    sheets: dict[str, Sheet], base: str, scored: tuple[Trial, ...], pantry: Pantry, differs: tuple[Varied, ...]
) -> bool:
    """True if another baked revision differs from the base in one of several changes of the formula alone."""
    names = {one.name for one in differs if one.in_formula}
    if len(names) < 2:
        return False
    baked = {trial.revision for trial in scored} - {base}
    diffs = (compare(sheets[base], sheets[revision], pantry) for revision in baked if revision in sheets)
    return any(diff.independent == 1 and set(diff.differing) <= names for diff in diffs)


def _alike(one: Suggestion, scored: tuple[Trial, ...]) -> str:
    """The bake whose other conditions are to be kept: the last of its own, or of the one that it is set beside."""
    apart = one.kind in (Kind.CONTROL, Kind.RIVAL, Kind.FIRST)
    for revision in (one.beside, one.revision) if apart else (one.revision, one.beside):
        of = [trial.code for trial in scored if revision and trial.revision == revision]
        if of:
            return max(of, key=lambda code: next(t.bake_date for t in scored if t.code == code))
    return ""
