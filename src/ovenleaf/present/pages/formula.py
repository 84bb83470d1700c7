"""A formula: how its scores moved, each revision with its reason and what came of it, and the rankings."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.present.against import chart_screen
from ovenleaf.present.against_pictures import chart_svg
from ovenleaf.present.html import joined, tag
from ovenleaf.present.lists import revision_block
from ovenleaf.present.pages.laid import laid, marked
from ovenleaf.present.pages.places import chart_file, compare_page, formula_page, revision_page
from ovenleaf.present.ranking import rank_screen
from ovenleaf.present.screen import count

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ovenleaf.present.html import Html
    from ovenleaf.present.pages.places import Frame, Links
    from ovenleaf.results import History, HistoryRow, RankedTrials

    Pair = tuple[HistoryRow, HistoryRow]


def formula_html(
    history: History, pairs: Sequence[Pair], rankings: Sequence[tuple[str, RankedTrials]], frame: Frame
) -> bytes:
    """The page. `pairs` are the revisions that stand side by side, older first; `rankings` each with its heading."""
    page = formula_page(history.name)
    links = frame.links(page)
    bakes = sum(row.trials for row in history.rows)
    head = f"{count(len(history.rows), 'revision')}, {count(bakes, 'trial')}.".capitalize()
    draft = "The page was edited by hand since the last one and is not saved yet; what is not saved is not in here."
    return frame.html(
        page,
        history.title,
        tag("p", head),
        tag("p", draft) if history.draft else "",
        _chart(history, links) if any(doughs for _, doughs in history.chart or ()) else "",
        tag("h2", "Revisions, newest first"),
        *(_revision(row, history, pairs, links) for row in reversed(history.rows)),
        *(_ranking(heading, ranked, links) for heading, ranked in rankings),
    )


def _chart(history: History, links: Links) -> Html:
    """The picture, and below it the same in words."""
    what = f"{history.title}: scores by revision. The figures are in the words below."
    told = laid(marked(lambda: chart_screen(history)), links, level=3)
    file = links.to(chart_file(history.name))
    picture = tag("a", tag("img", src=file, alt=what, width="720", height="480"), href=file)
    return joined((tag("h2", "How the scores moved"), tag("figure", picture), told))


def chart(history: History) -> bytes:
    """The picture of how the scores moved, as a file beside the page."""
    return chart_svg(history).encode()


def _revision(row: HistoryRow, history: History, pairs: Sequence[Pair], links: Links) -> Html:
    names = {str(one.revision): one.spoken for one in history.rows}
    told = laid(marked(lambda: revision_block(row, names)), links, level=3)
    bakes = f" and its {count(row.trials, 'bake')}" if row.trials else ""
    ways = [(f"Its sheet{bakes}", revision_page(history.name, str(row.revision)))]
    ways += [
        (f"Beside {older.spoken}", compare_page(history.name, str(older.revision), str(newer.revision)))
        for older, newer in pairs
        if newer is row
    ]
    leads = tag("ul", *(tag("li", tag("a", name, href=links.to(page))) for name, page in ways), class_="ways")
    return tag("section", told, leads, id=str(row.revision))


def _ranking(heading: str, ranked: RankedTrials, links: Links) -> Html:
    return joined((tag("h2", heading), laid(marked(lambda: rank_screen(ranked)), links, level=3)))
