"""What may be typed next, by its kind: formulas, revisions, trials, ingredients, the lines of a formula.

A refusal here is no news to somebody who only pressed Tab: it is no words.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book import names
from ovenleaf.domain.revision import as_typed, slug_of

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

NEWEST = 40  # trials whose codes are offered; each costs a look at its page

KINDS = ("formula", "revision", "trial", "ingredient", "line", "answer", "name")


def known(root: Path, kind: str, formula: str = "") -> tuple[str, ...]:
    """Words of a kind in the book at `root`, as they can be typed; `formula` is the one that was named before.

    `name` is whatever `show` takes. Raises Refusal for a page that cannot be read.
    """
    match kind:
        case "formula":
            return names.formula_names(root)
        case "revision":
            return _revisions(root, slug_of(formula))
        case "trial":
            return (*_codes(root), "last")
        case "ingredient":
            return _ingredients(root)
        case "line":
            return tuple(_lines(root, slug_of(formula)))
        case "answer":
            return tuple(_answers(root, slug_of(formula)))
    return (*names.formula_names(root), *_codes(root), "last", *_ingredients(root))


def _revisions(root: Path, formula: str) -> tuple[str, ...]:
    kept = names.kept_names(root, formula)
    return (*(as_typed(kept, name) for name in kept), "keeper")


def _codes(root: Path) -> tuple[str, ...]:
    pages = names.newest_first(names.trial_pages(root))[:NEWEST]
    return tuple(filter(None, (names.code_on(root, page) for page in pages)))


def _ingredients(root: Path) -> tuple[str, ...]:
    from ovenleaf.book.steps.opening import open_pantry

    return tuple(slug_of(name) for name in open_pantry(root).names)


def _lines(root: Path, formula: str) -> Iterator[str]:
    """`water=`, `poolish:water=`: what `tweak` can set on the formula's page."""
    from ovenleaf.book.steps.shelf import take

    page = take(root, formula).formula()
    yield from (f"{slug_of(line.item)}=" for line in page.ingredients)
    for preferment in page.preferments:
        yield f"{slug_of(preferment.name)}="
        yield from (f"{slug_of(preferment.name)}:{slug_of(line.item)}=" for line in preferment.lines)


def _answers(root: Path, formula: str) -> Iterator[str]:
    """`water=noor`: each baker's proposal for what is open in a formula."""
    from ovenleaf.book.steps.shelf import take

    for question in take(root, formula).formula().open:
        yield from (f"{question.item}={by}" for by, _ in question.proposals)
