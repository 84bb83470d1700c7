"""A whole book as pages: each page made when its turn comes, from what the jobs of other commands answer."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.cli.context import current
from ovenleaf.cli.progress import progress
from ovenleaf.errors import Refusal
from ovenleaf.jobs import browse
from ovenleaf.jobs.diff import diff
from ovenleaf.jobs.history import history
from ovenleaf.jobs.publish import File
from ovenleaf.jobs.rank import ranked
from ovenleaf.present.pages import places
from ovenleaf.present.pages.formula import chart, formula_html
from ovenleaf.present.pages.front import index_html, ranking_html
from ovenleaf.present.pages.revision import revision_html
from ovenleaf.present.pages.search import SCRIPT, search_html
from ovenleaf.present.pages.side_by_side import compare_html
from ovenleaf.present.pages.style import STYLE

if TYPE_CHECKING:
    from collections.abc import Iterator

    from ovenleaf.jobs.browse import Bakes, History, Listing, RankedTrials

RANKINGS = (("revision", "Its revisions, by how they came out"), ("trial", "Its bakes, by their scores"))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Book:
    """All that pages are made from, but for what each makes for itself."""

    listing: Listing
    histories: tuple[History, ...]
    bakes: Bakes
    frame: places.Frame

    @property
    def pages(self) -> int:
        """How many pages there will be, at most."""
        return 3 + sum(1 + len(one.rows) + len(browse.pairs(one.rows)) for one in self.histories)


def book_files(listing: Listing) -> Iterator[File]:
    """Every file of the book that is published. Nothing is read twice, and no page is held after it is written."""
    with browse.read_once():
        book = _gathered(listing)
        with progress("pages", book.pages) as one_more:
            for file in _files(book):
                yield file
                one_more()


def _gathered(listing: Listing) -> _Book:
    context = current()
    histories = []
    for formula in listing.formulas:
        with suppress(Refusal):  # the listing tells of it
            histories.append(history(context.book, context.cwd, formula.name, chart=True))
    shown = tuple(one for one in histories if one.rows)
    bakes = browse.all_bakes(context.book, context.cwd)
    revisions = {(one.name, str(row.revision)) for one in shown for row in one.rows}
    told = {
        trial.code: places.revision_page(trial.formula, trial.revision)
        for trial, _ in bakes
        if (trial.formula, trial.revision) in revisions
    }
    frame = places.Frame(title=listing.book.title, made=context.now.date().isoformat(), bakes=told)
    return _Book(listing=listing, histories=shown, bakes=bakes, frame=frame)


def _files(book: _Book) -> Iterator[File]:
    titles = {one.name: one.title for one in book.histories}
    spoken = {(one.name, str(row.revision)): row.spoken for one in book.histories for row in one.rows}
    standings: list[tuple[str, RankedTrials]] = []
    yield File(places.STYLE, STYLE.encode())
    yield File(places.SCRIPT, SCRIPT.encode())
    yield File(places.INDEX, index_html(book.listing, titles, book.frame))
    yield File(places.SEARCH, search_html(book.bakes, titles, spoken, book.frame))
    for one in book.histories:
        yield from _of_formula(one, book.frame, standings)
    yield File(places.RANKING, ranking_html(standings, book.frame))


def _of_formula(one: History, frame: places.Frame, standings: list[tuple[str, RankedTrials]]) -> Iterator[File]:
    """Its page with the picture, a page for each revision, one for each two that stand side by side."""
    context = current()
    pairs = browse.pairs(one.rows)
    rankings = []
    for by, heading in RANKINGS:
        with suppress(Refusal):  # nothing was baked
            rankings.append((heading, ranked(context.book, context.cwd, (one.name,), by=by)))
    standings += [(one.title, result) for _, result in rankings if result.revisions]
    yield File(places.formula_page(one.name), formula_html(one, pairs, rankings, frame))
    if any(doughs for _, doughs in one.chart or ()):
        yield File(places.chart_file(one.name), chart(one))
    yield from _revisions(one, frame)
    for older, newer in pairs:
        names = (str(older.revision), str(newer.revision))
        two = diff(context.book, context.cwd, one.name, names)
        yield File(places.compare_page(one.name, *names), compare_html(two, frame))


def _revisions(one: History, frame: places.Frame) -> Iterator[File]:
    context = current()
    bakes = browse.bakes_shown(context.book, context.cwd, one.name)
    photos = [file for bake in bakes for file in bake.view.trial.photos]
    found = set()
    for file, data in browse.pictures(context.book, context.cwd, photos):
        found.add(file)
        yield File(file, data)
    for sheet in browse.kept_sheets(context.book, context.cwd, one.name):
        name = str(sheet.revision)
        own = [bake for bake in bakes if bake.view.trial.revision == name]
        yield File(places.revision_page(one.name, name), revision_html(sheet, own, found, frame))
