"""Two revisions side by side."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.present.comparison import diff_screen
from ovenleaf.present.html import tag
from ovenleaf.present.pages.laid import laid, marked
from ovenleaf.present.pages.places import compare_page, formula_page, revision_page

if TYPE_CHECKING:
    from ovenleaf.present.html import Html
    from ovenleaf.present.pages.places import Frame, Links
    from ovenleaf.results import Diff, Side


def compare_html(diff: Diff, frame: Frame) -> bytes:
    """The page, the older on the left."""
    formula = diff.after.sheet.formula
    names = [str(side.sheet.revision) for side in (diff.before, diff.after)]
    page = compare_page(formula.name, names[0], names[1])
    links = frame.links(page)
    ways = (
        tag("a", f"All revisions of {formula.label}", href=links.to(formula_page(formula.name))),
        *(_sheet(side, links) for side in (diff.before, diff.after)),
    )
    return frame.html(
        page,
        f"{formula.label}, {diff.before.spoken} beside {diff.after.spoken}",
        tag("ul", *(tag("li", way) for way in ways), class_="ways"),
        laid(marked(lambda: diff_screen(diff)), links),
    )


def _sheet(side: Side, links: Links) -> Html:
    page = revision_page(side.sheet.formula.name, str(side.sheet.revision))
    return tag("a", f"Sheet of {side.spoken}", href=links.to(page))
