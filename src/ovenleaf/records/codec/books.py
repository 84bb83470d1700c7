"""The pages book.yaml and marks.yaml to values."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain.book import BookPage, Mark, MarksPage, Meant, Published, PutAway
from ovenleaf.domain.trial import ATTRIBUTES
from ovenleaf.records import splice
from ovenleaf.records.codec.reading import Reading
from ovenleaf.records.codec.trials import read_scale
from ovenleaf.records.nodes import find
from ovenleaf.records.yaml_out import dump

if TYPE_CHECKING:
    from decimal import Decimal

    from ovenleaf.records.nodes import Page, Plain


def read_book(page: Page) -> BookPage:
    """What the book says of itself. Raises PageRefused with every fault that is found."""
    reading = Reading(page)
    usual = BookPage()
    book = BookPage(
        title=reading.text("title"),
        scale=read_scale(reading, "scale") or usual.scale,
        anchors=reading.pairs("anchors"),
        weights=_weights(reading) or usual.weights,
        bakers=reading.keys("bakers"),
        names=_of_bakers(reading, "name"),
        persons=_of_bakers(reading, "person"),
        tasters=reading.keys("tasters"),
        places=reading.pairs("places"),
        scales=reading.text("scales"),
    )
    reading.finish(f"{page.path} cannot be read.")
    return book


def _of_bakers(reading: Reading, key: str) -> tuple[tuple[str, str], ...]:
    """What is said of each handle under `key`: its name, or the person who has another handle too."""
    said = ((handle, reading.text("bakers", handle, key)) for handle in reading.keys("bakers"))
    return tuple((handle, words) for handle, words in said if words)


def _weights(reading: Reading) -> tuple[tuple[str, Decimal], ...]:
    keys = reading.keys("weights")
    for key in keys:
        if key not in ATTRIBUTES:
            known = ", ".join(ATTRIBUTES)
            reading.fault(("weights", key), "weights", f"{key} is not scored, so it has no weight; scored are {known}.")
    read = [(key, reading.number("weights", key)) for key in keys]
    weights = tuple((key, weight) for key, weight in read if weight is not None)
    if any(weight < 0 for _, weight in weights) or (weights and not any(weight for _, weight in weights)):
        reading.fault(("weights",), "weights", "The weights should be zero or more, and one of them more than zero.")
    return weights


def new_book(title: str, baker: str) -> dict[str, Plain]:
    """What the page of a new book holds, in the order of the page."""
    page: dict[str, Plain] = {
        "format": "book/1",
        "title": title,
        "scale": "0 to 10",
        "anchors": {
            "10": "just what the formula aims at",
            "5": "half way there",
            "0": "nothing like it",
        },
        "weights": {"crumb": 1, "crust": 1},
    }
    if baker:
        page["bakers"] = {baker: {"name": baker.capitalize()}}
    return page


def read_marks(page: Page) -> MarksPage:
    """The marks of one formula. Raises PageRefused with every fault that is found."""
    reading = Reading(page)
    said = ("revision", "by", "at", "why")
    marks = MarksPage(
        formula=reading.text("formula"),
        marks=tuple(
            Mark(mark=reading.text(*where, "mark"), **{key: reading.text(*where, key) for key in said})
            for where, _ in reading.items("marks")
        ),
        meant=tuple(
            Meant(
                about=reading.text(*where, "about"),
                taken_back=reading.truth(*where, "taken_back") or False,
                **{key: reading.text(*where, key) for key in said},
            )
            for where, _ in reading.items("meant")
        ),
        retired=tuple(
            PutAway(state=reading.text(*where, "state"), **{key: reading.text(*where, key) for key in said[1:]})
            for where, _ in reading.items("retired")
        ),
        published=tuple(
            Published(
                kind=reading.text(*where, "as"),
                contains=reading.texts(*where, "contains"),
                leans_on=reading.texts(*where, "leans_on"),
                taken_back=reading.truth(*where, "taken_back") or False,
                **{key: reading.text(*where, key) for key in ("revision", "file", "flour", "keeper", "by", "at")},
            )
            for where, _ in reading.items("published")
        ),
    )
    reading.finish(f"{page.path} cannot be read.")
    return marks


def with_entry(page: Page | None, formula: str, block: str, entry: dict[str, Plain]) -> str:
    """The text of a formula's marks page with one more entry under `block`; a new page where there is none."""
    if page is None:
        return dump({"format": "marks/1", "formula": formula, block: [entry]})
    if find(page.root, (block,)) is None:
        return splice.insert(page, (), block, [entry])
    return splice.append(page, (block,), entry)
