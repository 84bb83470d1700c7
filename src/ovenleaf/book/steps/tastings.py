"""The tastings of a book: read them all, find the one that is meant or under way, name a new one."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book import layout
from ovenleaf.book.steps.bakes import find_trial, read_trials, refused
from ovenleaf.book.steps.opening import open_pantry
from ovenleaf.book.steps.sheets import kept_sheet
from ovenleaf.book.steps.shelf import revision_of, shelf_of, spoken_of
from ovenleaf.domain.tasting import Bread, unseal
from ovenleaf.errors import Next, Refusal
from ovenleaf.records.codec.tastings import read_tasting
from ovenleaf.records.page_bytes import decode
from ovenleaf.records.yaml_text import read

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from ovenleaf.domain.tasting import Tasting
    from ovenleaf.findings import Finding

    Pairs = tuple[tuple[str, str], ...]

FOLDER = "tastings"


class NoTasting(Refusal):
    """No tasting was set up yet, or none of that name. Fact: `typed`."""

    def __init__(self, typed: str = "") -> None:
        what = f"There is no tasting {typed} in this book." if typed else "No tasting is set up in this book yet."
        super().__init__(
            what, next=(Next("ovenleaf taste A1 A2 --tasters noor,tomas", "set one up for two or more bakes"),)
        )
        self.typed = typed


class CannotOpen(Refusal):
    """A tasting whose key cannot be read any more. Fact: `name`."""

    def __init__(self, name: str) -> None:
        super().__init__(
            f"The key of tasting {name} cannot be read; its page was changed by hand.",
            detail=(f"Put the line that begins with sealed back as it was in {page_of(name)}.",),
        )
        self.name = name


class NoSuchCode(Refusal):
    """No open tasting has that code. Fact: `code`; `codes` are those that are awaited."""

    def __init__(self, code: str, codes: tuple[str, ...]) -> None:
        super().__init__(
            f"No bread under way has the code {code}.",
            detail=(f"Awaited are {', '.join(codes)}.",) if codes else ("No tasting is under way.",),
            next=(Next("ovenleaf taste", "what has come in and what is awaited"),) if codes else (),
        )
        self.code = code
        self.codes = codes


def page_of(name: str) -> str:
    """Where a tasting's page lies."""
    return f"{FOLDER}/{name}.yaml"


def tasting_pages(root: Path) -> tuple[str, ...]:
    """Where the tastings lie, by their names."""
    return layout.pages_in(root, FOLDER)


def read_one(root: Path, page: str) -> Tasting:
    """One tasting. Raises PageFault, PageRefused, NotAPage."""
    return read_tasting(read(decode(layout.read_page(root, page), page), path=page))


def read_tastings(root: Path) -> tuple[tuple[Tasting, ...], tuple[Finding, ...]]:
    """All tastings, oldest first, and what is wrong with those that cannot be read."""
    found: list[Tasting] = []
    findings: list[Finding] = []
    for page in tasting_pages(root):
        try:
            found.append(read_one(root, page))
        except Refusal as refusal:
            findings += refused(page, refusal)
    return tuple(sorted(found, key=lambda one: (one.set_up, one.name))), tuple(findings)


def find_tasting(root: Path, typed: str) -> Tasting:
    """The tasting of that name; where none is named the one under way, else the last. Raises NoTasting."""
    tastings, _ = read_tastings(root)
    if typed:
        named = [one for one in tastings if one.name == typed or one.name.startswith(f"{typed}-")]
        if not named:
            raise NoTasting(typed)
        return named[-1]
    if not tastings:
        raise NoTasting
    return next((one for one in reversed(tastings) if not one.is_open), tastings[-1])


def tasting_with(root: Path, code: str) -> Tasting:
    """The tasting under way in which a bread has that code. Raises NoSuchCode."""
    under_way = [one for one in read_tastings(root)[0] if not one.is_open]
    found = next((one for one in reversed(under_way) if code in one.codes), None)
    if found is None:
        awaited = sorted({code for one in under_way for _, codes in one.still_to_come for code in codes})
        raise NoSuchCode(code, tuple(awaited))
    return found


def key_of(tasting: Tasting) -> tuple[tuple[str, str], ...]:
    """Which code is which trial. Raises CannotOpen where the sealed key does not fit the plates."""
    key = tasting.key or unseal(tasting.sealed)
    if tuple(sorted(code for code, _ in key)) != tasting.codes or not {b for _, b in key} <= set(tasting.breads):
        raise CannotOpen(tasting.name)
    return key


def codes_in_use(root: Path) -> frozenset[str]:
    """The three-digit codes of tastings that are under way."""
    return frozenset(code for one in read_tastings(root)[0] if not one.is_open for code in one.codes)


def free_name(root: Path, day: str, by: str) -> str:
    """The name of a new tasting: the day and who sets it up; a second that day is numbered."""
    base = f"{day}-{by}"
    name, number = base, 1
    while layout.read_file(root, page_of(name)) is not None:
        number += 1
        name = f"{base}-{number}"
    return name


def breads_of(root: Path, tasting: Tasting) -> tuple[Bread, ...]:
    """What each bread of a tasting is, as a screen says it."""
    baked = {trial.code: trial for trial in read_trials(root)[0] if trial.code in tasting.breads}
    said = dict(spoken_of(root, tuple(baked.values())))
    return tuple(
        Bread(
            code=code,
            formula=(trial := baked[code]).formula,
            revision=trial.revision,
            title=trial.formula.replace("-", " ").capitalize(),
            spoken=said.get((trial.formula, trial.revision), trial.revision),
            bake_date=trial.bake_date,
        )
        for code in tasting.breads
        if code in baked
    )


def said_of(root: Path, codes: Sequence[str]) -> tuple[Pairs, tuple[str, ...]]:
    """For the sheets: what the breads aim at, () where they are of several formulas; and their allergens together."""
    pantry = open_pantry(root)
    sheets = []
    for trial in (find_trial(root, code) for code in codes):
        shelf = shelf_of(root, trial.formula)
        sheets.append(kept_sheet(shelf, revision_of(shelf, trial.revision), pantry))
    one = len({sheet.formula.name for sheet in sheets}) == 1
    allergens = dict.fromkeys(allergen for sheet in sheets for allergen in sheet.allergens)
    return sheets[0].formula.aims if one else (), tuple(allergens)
