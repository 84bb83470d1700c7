"""A tasting's page to a Tasting, a new page, and what is added to one as marks come in."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain.tasting import Design, Tasting
from ovenleaf.domain.trial import Correction, Marks
from ovenleaf.records import splice
from ovenleaf.records.codec.reading import Reading
from ovenleaf.records.codec.trials import marks_data
from ovenleaf.records.nodes import find
from ovenleaf.records.yaml_out import dump
from ovenleaf.records.yaml_text import read

if TYPE_CHECKING:
    from ovenleaf.records.codec.reading import Where
    from ovenleaf.records.nodes import Page, Plain


def read_tasting(page: Page) -> Tasting:
    """The tasting on a page. Raises PageRefused with every fault that is found."""
    reading = Reading(page)
    for key in ("tasting", "design", "orders", "sealed"):
        if reading.node((key,)) is None:
            reading.fault((), "missing", f"This tasting does not say its {key}.")
    tasting = Tasting(
        name=reading.text("tasting"),
        design=_design(reading),
        by=reading.text("by"),
        set_up=reading.text("set_up"),
        question=reading.text("question"),
        breads=reading.texts("breads"),
        orders=tuple((taster, tuple(text.split())) for taster, text in reading.pairs("orders")),
        sealed=reading.text("sealed"),
        marks=tuple(_marks(reading, t, code) for t in reading.keys("marks") for code in reading.keys("marks", t)),
        odd=reading.pairs("odd"),
        absent=reading.pairs("absent"),
        corrections=tuple(_correction(reading, where) for where, _ in reading.items("corrections")),
        opened=reading.text("opened"),
        key=reading.pairs("key"),
    )
    reading.finish(f"{page.path} cannot be read as a tasting.")
    return tasting


def _design(reading: Reading) -> Design:
    typed = reading.text("design") or Design.MARKS.value
    try:
        return Design(typed)
    except ValueError:
        reading.fault(("design",), "design", f"design: {typed} is not one of {', '.join(Design)}.")
        return Design.MARKS


def _marks(reading: Reading, taster: str, code: str) -> tuple[str, str, Marks]:
    where = ("marks", taster, code)
    marks = Marks(
        taster=taster,
        crumb=reading.number(*where, "crumb"),
        crust=reading.number(*where, "crust"),
        flavour=reading.number(*where, "flavour"),
        faults=reading.texts(*where, "faults"),
        note=reading.text(*where, "note"),
    )
    return taster, code, marks


def _correction(reading: Reading, where: Where) -> Correction:
    said = ("field", "was", "now", "by", "at", "why")
    return Correction(**{key: reading.text(*where, key) for key in said})


def tasting_text(tasting: Tasting) -> str:
    """The text of a new tasting's page."""
    said: dict[str, Plain] = {
        "format": "tasting/1",
        "tasting": tasting.name,
        "design": tasting.design.value,
        "by": tasting.by,
        "set_up": tasting.set_up,
        "question": tasting.question,
        "breads": list(tasting.breads),
        "orders": {taster: " ".join(order) for taster, order in tasting.orders},
        "sealed": tasting.sealed,
    }
    return dump({key: value for key, value in said.items() if value})


def with_told(page: Page, taster: str, code: str, marks: Marks | None) -> Page:
    """The page with what a taster told of one code: marks, or (None) that it is the odd one."""
    if marks is None:
        return _put(page, ("odd", taster), code)
    return _put(page, ("marks", taster, code), marks_data(marks))


def with_absent(page: Page, taster: str, why: str) -> Page:
    """The page with a taster who will send nothing, and why."""
    return _put(page, ("absent", taster), why)


def with_correction(page: Page, made: Correction) -> Page:
    """The page with something put right, visibly."""
    entry: Plain = {
        "field": made.field,
        "was": made.was,
        "now": made.now,
        "by": made.by,
        "at": made.at,
        "why": made.why,
    }
    if find(page.root, ("corrections",)) is None:
        return _again(page, splice.insert(page, (), "corrections", [entry]))
    return _again(page, splice.append(page, ("corrections",), entry))


def opened(page: Page, at: str, key: tuple[tuple[str, str], ...]) -> Page:
    """The page with its key laid open."""
    page = _again(page, splice.insert(page, (), "opened", at))
    return _again(page, splice.insert(page, (), "key", dict(key)))


def _put(page: Page, where: tuple[str, ...], value: Plain) -> Page:
    """The page with a value at a place, and with the blocks that lead there."""
    if find(page.root, where) is not None:
        if isinstance(value, dict):
            for key, one in value.items():
                page = _put(page, (*where, key), one)
            return page
        if isinstance(value, list):
            page = _again(page, splice.remove(page, where))
        else:
            return _again(page, splice.set_value(page, where, value))
    depth = next(n for n in range(len(where)) if find(page.root, where[: n + 1]) is None)
    for key in reversed(where[depth + 1 :]):
        value = {key: value}
    return _again(page, splice.insert(page, where[:depth], where[depth], value))


def _again(page: Page, text: str) -> Page:
    return read(text, path=page.path)
