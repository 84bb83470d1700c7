"""A recipe for readers as one HTML page: light and dark, narrow and printed, with its data for machines inside."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.present.html import document, joined, table, tag
from ovenleaf.present.publishing.jsonld import recipe_jsonld
from ovenleaf.present.publishing.recipe_words import reader_page

if TYPE_CHECKING:
    from ovenleaf.present.html import Html
    from ovenleaf.present.publishing.recipe_words import Table
    from ovenleaf.results.publishing import Recipe

STYLE = """
:root { color-scheme: light dark; --ink: #1d1a16; --paper: #fffdf8; --soft: #5c5348; --line: #cfc5b6; }
@media (prefers-color-scheme: dark) { :root { --ink: #f1ebe1; --paper: #1c1916; --soft: #c3b8a8; --line: #554c41; } }
body { margin: 0 auto; padding: 1.25rem; max-width: 42rem; color: var(--ink); background: var(--paper);
  font: 1.05rem/1.5 Georgia, "Times New Roman", serif; overflow-wrap: break-word; }
h1 { font-size: 1.8rem; line-height: 1.2; margin: 0 0 .5rem; }
h2 { font-size: 1.15rem; margin: 1.5rem 0 .25rem; }
table { border-collapse: collapse; width: 100%; }
caption { text-align: left; font-weight: bold; padding-top: 1rem; }
th, td { text-align: left; font-weight: normal; padding: .3rem .6rem .3rem 0; border-bottom: 1px solid var(--line);
  vertical-align: top; }
th[scope="col"] { color: var(--soft); font-size: .9rem; }
th[scope="row"], th[scope="col"]:first-child { width: 40%; }
td:nth-child(2) { text-align: right; white-space: nowrap; width: 5rem; padding-right: 1rem; }
th[scope="col"]:nth-child(2) { text-align: right; padding-right: 1rem; }
li { margin: .4rem 0; }
footer { margin-top: 2rem; color: var(--soft); font-size: .95rem; }
footer p { margin: .4rem 0; }
@media print { body { color: #000; background: #fff; font-size: 11pt; } footer { color: #000; } }
""".strip()


def recipe_html(recipe: Recipe) -> str:
    """The whole page."""
    page = reader_page(recipe)
    beside = [tag("h2", "Besides"), tag("ul", *(tag("li", one) for one in page.beside))] if page.beside else []
    steps = [tag("li", tag("b", f"{name}:"), f" {words}") for name, words in page.steps]
    body = (
        tag("h1", page.title),
        *(tag("p", one) for one in page.intro),
        *(_table(one) for one in page.tables),
        *beside,
        *([tag("h2", "Steps"), tag("ol", joined(steps))] if steps else []),
    )
    foot = tag("footer", joined(tag("p", one) for one in page.foot))
    return document(page.title, tag("main", joined(body)), foot, style=STYLE, data=recipe_jsonld(recipe))


def _table(one: Table) -> Html:
    """A bowl; the heads stand over each, for a page is read from anywhere."""
    made = table(one.lines, heads=("ingredient", "weight", "or, less exactly"), caption=one.heading)
    return joined((made, *(tag("p", note) for note in one.notes)))
