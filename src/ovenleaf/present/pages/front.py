"""The first page of a book, and the ranking of every formula."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.present.findings import findings_block
from ovenleaf.present.html import joined, tag
from ovenleaf.present.lists import formula_row, trials_block
from ovenleaf.present.pages.laid import laid, marked
from ovenleaf.present.pages.places import INDEX, RANKING, formula_page
from ovenleaf.present.ranking import rank_screen
from ovenleaf.present.screen import count

if TYPE_CHECKING:
    from collections.abc import Collection, Sequence

    from ovenleaf.present.html import Html
    from ovenleaf.present.pages.places import Frame, Links
    from ovenleaf.results import ListedFormula, Listing, RankedTrials


def index_html(listing: Listing, pages: Collection[str], frame: Frame) -> bytes:
    """The formulas, and the last bakes. `pages` are the formulas that have a page."""
    links = frame.links(INDEX)
    head = f"{count(len(listing.formulas), 'formula')}, {count(listing.trial_count, 'trial')}.".capitalize()
    in_use = [one for one in listing.formulas if not one.away]
    away = [one for one in listing.formulas if one.away]
    return frame.html(
        INDEX,
        frame.title,
        tag("p", head),
        _formulas("Formulas", in_use, pages, links),
        _formulas("Put away", away, pages, links),
        laid(marked(lambda: trials_block(listing)), links),
        laid(marked(lambda: findings_block(listing.findings)), links),
    )


def _formulas(heading: str, formulas: Sequence[ListedFormula], pages: Collection[str], links: Links) -> Html:
    if not formulas:
        return joined(())
    return joined((tag("h2", heading), tag("ul", *(_formula(one, pages, links) for one in formulas), class_="plain")))


def _formula(one: ListedFormula, pages: Collection[str], links: Links) -> Html:
    _, *told = formula_row(one)
    name = tag("a", one.title, href=links.to(formula_page(one.name))) if one.name in pages else one.title
    return tag("li", name, tag("span", f" {', '.join(filter(None, told))}"))


def ranking_html(ranked: Sequence[tuple[str, RankedTrials]], frame: Frame) -> bytes:
    """The revisions of each formula by how they came out; a place says nothing of one formula beside another."""
    links = frame.links(RANKING)
    return frame.html(
        RANKING,
        "Ranking",
        tag("p", "Each formula is scored by its own aims, so a place says nothing of one formula beside another."),
        *(
            joined(
                (
                    tag("h2", tag("a", title, href=links.to(formula_page(one.formulas[0])))),
                    laid(marked(lambda one=one: rank_screen(one)), links, level=3),  # type: ignore[misc]
                )
            )
            for title, one in ranked
        ),
    )
