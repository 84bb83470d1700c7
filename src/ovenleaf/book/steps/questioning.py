"""Questions about figures that look like slips, and the answers that are remembered: yes, that was meant."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.book import layout
from ovenleaf.book.steps.marking import marks_page_of, readable_marks
from ovenleaf.book.steps.opening import working_page
from ovenleaf.book.steps.sheets import kept_sheet
from ovenleaf.book.steps.shelf import Shelf, newest
from ovenleaf.domain.slips import slips
from ovenleaf.errors import Refusal
from ovenleaf.findings import Finding, Severity
from ovenleaf.records.codec.books import with_entry
from ovenleaf.records.yaml_text import read

if TYPE_CHECKING:
    from pathlib import Path

    from ovenleaf.book.steps.signing import Stamp
    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.sheet import Sheet
    from ovenleaf.domain.slip import Slip


def open_slips(root: Path, name: str, sheet: Sheet, before: Sheet | None, why: str) -> tuple[Slip, ...]:
    """The slips of a sheet that nobody has called meant: a figure for the formula, a change for its revision."""
    meant = readable_marks(root, name).answers
    figures = {one.about for one in meant}
    changes = {(one.about, one.revision) for one in meant}
    return tuple(
        slip
        for slip in slips(sheet, before, why)
        if (slip.about, str(sheet.revision)) not in changes and (slip.relative or slip.about not in figures)
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What is still to be asked about a new revision, and the pages to write with it: with an answer, its marks."""

    slips: tuple[Slip, ...]
    pages: dict[str, str]
    expect: dict[str, bytes | None]


def ask_back(root: Path, name: str, after: Sheet, before: Sheet | None, stamp: Stamp, meant: str) -> Asked:
    """The slips of a new revision; with `meant` each is answered so on the formula's marks page instead."""
    found = open_slips(root, name, after, before, after.formula.why)
    if not found or not meant or after.revision is None:
        return Asked(slips=found, pages={}, expect={})
    pages, expect = answered(root, name, after, found, stamp, meant)
    return Asked(slips=(), pages=pages, expect=expect)


def answered(
    root: Path, name: str, on: Sheet, found: tuple[Slip, ...], stamp: Stamp, meant: str
) -> tuple[dict[str, str], dict[str, bytes | None]]:
    """The marks page with an answer to each slip, and what it was before."""
    path = marks_page_of(name)
    data = layout.read_file(root, path)
    page = None if data is None else working_page(root, path)
    text = ""
    for slip in found:
        text = with_entry(
            page,
            name,
            "meant",
            {"revision": str(on.revision), "about": slip.about, "by": stamp.by, "at": stamp.saved, "why": meant},
        )
        page = read(text, path=path)
    return {path: text}, {path: data}


def newest_slips(root: Path, shelf: Shelf, pantry: Pantry) -> tuple[Sheet, tuple[Slip, ...]] | None:
    """What is to be asked about a formula's newest revision; None where it has none that can be read."""
    if not shelf.kept:
        return None
    try:
        kept = newest(shelf)
        on = kept_sheet(shelf, kept, pantry)
        base = next((one for one in shelf.kept if str(one.name) in on.formula.made_from), None)
        before = kept_sheet(shelf, base, pantry) if base is not None else None
    except Refusal:
        return None  # told of as a page that cannot be read
    return on, open_slips(root, shelf.name, on, before, on.formula.why)


def slip_findings(root: Path, shelf: Shelf, pantry: Pantry) -> tuple[Finding, ...]:
    """The slips of a formula's newest revision as findings."""
    found = newest_slips(root, shelf, pantry)
    return tuple(
        Finding(
            code="slip",
            severity=Severity.WARNING,
            path=shelf.path,
            message=slip.message,
            fix=f'If it is as you mean it: ovenleaf check {shelf.name} --meant "..."',
        )
        for slip in (found[1] if found else ())
    )
