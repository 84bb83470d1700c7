"""Say what a revision is worth: keeper, superseded or dropped; and put a whole formula away."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book import layout
from ovenleaf.book.steps.bakes import read_trials
from ovenleaf.book.steps.marking import marks_of, marks_page_of
from ovenleaf.book.steps.opening import open_book, settle_baker, working_page
from ovenleaf.book.steps.shelf import revision_of, spoken, take
from ovenleaf.book.steps.signing import Stamp, put
from ovenleaf.domain.book import KEEPER, MARKS
from ovenleaf.errors import Next, Refusal
from ovenleaf.evidence.ranking import by_revision, rank
from ovenleaf.evidence.units import by_person
from ovenleaf.records.codec.books import with_entry
from ovenleaf.results import Marked, Retired

if TYPE_CHECKING:
    from datetime import datetime
    from pathlib import Path

    from ovenleaf.records.nodes import Plain


_EXAMPLES = {
    KEEPER: "three bakes, all at 7.5 or above",
    "superseded": "revision 3 does the same with less yeast",
    "dropped": "too wet to handle",
}


class UnknownMark(Refusal):
    """Not a mark. Fact: `typed`."""

    def __init__(self, formula: str, revision: str, typed: str) -> None:
        super().__init__(
            f"{typed} is not a mark. A revision can be {', '.join(MARKS[:-1])} or {MARKS[-1]}.",
            next=(Next(f'ovenleaf mark {formula} {revision} keeper --why "..."'),),
        )
        self.typed = typed


class SayWhy(Refusal):
    """A mark, or putting away, wants its reason. Fact: `command`. `example` is a reason somebody might have."""

    def __init__(self, what: str, command: str, example: str) -> None:
        super().__init__(
            f"{what} wants a sentence with it: why?",
            next=(Next(f'{command} --why "{example}"', "in your own words"),),
        )
        self.command = command


class MarkedAlready(Refusal):
    """The mark stands already. Facts: `formula`, `revision`, `mark`."""

    def __init__(self, formula: str, revision: str, mark: str) -> None:
        super().__init__(
            f"{formula}, {revision}, is marked {mark} already.",
            next=(Next(f"ovenleaf history {formula}", "its revisions and their marks"),),
        )
        self.formula = formula
        self.revision = revision
        self.mark = mark


def mark(
    given: Path | None,
    start: Path,
    formula: str,
    revision: str,
    word: str,
    *,
    why: str,
    baker: str,
    at: datetime,
    preview: bool = False,
) -> Marked:
    """Mark one revision. Raises UnknownMark, SayWhy, MarkedAlready and the refusals of its steps."""
    book = open_book(given, start)
    who = settle_baker(book.root, baker)
    shelf = take(book.root, formula)
    kept = revision_of(shelf, revision)
    if word.lower() not in MARKS:
        raise UnknownMark(shelf.name, revision, word)
    word = word.lower()
    if not why:
        raise SayWhy("A mark", f"ovenleaf mark {shelf.name} {revision} {word}", _EXAMPLES[word])
    before = marks_of(book.root, shelf.name)
    if before.standing.get(str(kept.name)) == word and (word != KEEPER or before.keeper == str(kept.name)):
        raise MarkedAlready(shelf.name, spoken(shelf.names, kept.name), word)
    stamp = Stamp(by=who, at=at, verb="mark", preview=preview)
    entry: dict[str, Plain] = {"revision": str(kept.name), "mark": word, "by": who, "at": stamp.saved, "why": why}
    ahead = _add(book.root, shelf.name, "marks", entry, stamp, f"{shelf.name} {kept.name}: marked {word}", why)
    trials = by_person(read_trials(book.root, shelf.name)[0], dict(book.page.persons))
    ranked = rank(trials, book.page.weights, book.page.scale)
    first = [row for row in by_revision(ranked) if row.place == 1 and row.revision != str(kept.name)]
    above = first[0] if first and word == KEEPER else None
    return Marked(
        formula=shelf.name,
        title=kept.formula().label,
        spoken=spoken(shelf.names, kept.name),
        mark=word,
        by=who,
        at=stamp.saved,
        why=why,
        was_keeper=before.keeper,
        higher=above,
        higher_spoken="" if above is None else spoken(shelf.names, revision_of(shelf, above.revision).name),
        ahead=ahead,
    )


def _add(root: Path, name: str, block: str, entry: dict[str, Plain], stamp: Stamp, subject: str, why: str) -> str:
    """One more entry on a formula's marks page."""
    page = marks_page_of(name)
    before = layout.read_file(root, page)
    text = with_entry(None if before is None else working_page(root, page), name, block, entry)
    return put(root, {page: text}, stamp, subject, why, expect={page: before})


class RetiredAlready(Refusal):
    """The formula is put away, or in use, already. Facts: `formula`, `state`."""

    def __init__(self, formula: str, *, away: bool) -> None:
        back = Next(f'ovenleaf retire {formula} --back --why "..."', "take it out again")
        super().__init__(
            f"{formula} is {'put away' if away else 'in use'} already.",
            next=(back,) if away else (Next("ovenleaf list", "the formulas in use"),),
        )
        self.formula = formula


def retire(
    given: Path | None,
    start: Path,
    formula: str,
    *,
    back: bool,
    why: str,
    baker: str,
    at: datetime,
    preview: bool = False,
) -> Retired:
    """Put a formula away, or take it out again. Nothing of it is lost, and its bakes still count."""
    book = open_book(given, start)
    who = settle_baker(book.root, baker)
    shelf = take(book.root, formula)
    if not why:
        what = "Taking a formula out again" if back else "Putting a formula away"
        example = "asked for again" if back else "the rye sells better"
        raise SayWhy(what, f"ovenleaf retire {shelf.name}{' --back' if back else ''}", example)
    if marks_of(book.root, shelf.name).is_away is not back:
        raise RetiredAlready(shelf.name, away=not back)
    stamp = Stamp(by=who, at=at, verb="retire", preview=preview)
    entry: dict[str, Plain] = {"state": "back" if back else "away", "by": who, "at": stamp.saved, "why": why}
    subject = f"{shelf.name}: {'taken out again' if back else 'put away'} ({who})"
    ahead = _add(book.root, shelf.name, "retired", entry, stamp, subject, why)
    return Retired(formula=shelf.name, title=shelf.formula().label, back=back, why=why, ahead=ahead)
