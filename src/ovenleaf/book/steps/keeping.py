"""Keep a formula page: checked whole, stamped, written as the current page and as a revision of its own."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.book.steps.pages import schema_line
from ovenleaf.book.steps.shelf import Shelf, kept_page_of, page_of
from ovenleaf.domain.dough import work_out
from ovenleaf.domain.faults import FormulaFault
from ovenleaf.domain.formula import all_lines
from ovenleaf.domain.household import WHICH_SALT, salt_by_spoon
from ovenleaf.domain.ingredients import must_be_known
from ovenleaf.domain.revision import RevisionName, next_number
from ovenleaf.errors import Next, PageRefused, Refusal
from ovenleaf.findings import Finding, Severity
from ovenleaf.records import schema, splice, wording
from ovenleaf.records.codec.formulas import read_formula
from ovenleaf.records.nodes import line_of
from ovenleaf.records.page_bytes import page_id
from ovenleaf.records.reshape import with_value
from ovenleaf.records.yaml_text import read

if TYPE_CHECKING:
    from collections.abc import Iterator

    from ovenleaf.book.steps.signing import Stamp
    from ovenleaf.domain.formula import Formula
    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.percent import Worked
    from ovenleaf.records.nodes import Page, Plain

FORMAT = "formula/1"


class WhyWanted(Refusal):
    """A new revision needs its reason. Fact: `formula`."""

    def __init__(self, formula: str, command: str) -> None:
        super().__init__(
            f"{formula} has changed, and a new revision wants a reason: why was it changed?",
            next=(Next(f'{command} --why "softer crumb"', "say it in a few words of your own"),),
        )
        self.formula = formula


class DoesNotComeOut(PageRefused):
    """A page whose arithmetic does not come out. Fact: `fault`."""

    def __init__(self, what: str, fault: FormulaFault, finding: Finding) -> None:
        super().__init__(what, [finding])
        self.fault = fault


def faults_of_draft(shelf: Shelf) -> tuple[Finding, ...]:
    """What in the current page no formula can hold, such as a misspelt field, where it was edited since it was saved.

    A page that is as it was saved was looked over then. Raises PageFault for a page that cannot be parsed.
    """
    if shelf.data is None or page_id(shelf.data) in {kept.pin for kept in shelf.kept}:
        return ()
    return tuple(one for one in schema.faults("formula", shelf.page()) if one.severity is not Severity.NOTE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Checked:
    """A formula page that holds: its text, what it says, what it comes to, ingredients no list knows."""

    page: Page
    formula: Formula
    worked: Worked
    new_items: tuple[str, ...]


def check_page(page: Page, name: str, pantry: Pantry, what: str, *, new: frozenset[str] = frozenset()) -> Checked:
    """Check a formula page whole: its form, its words, its arithmetic, its ingredients.

    `new` names ingredients that are meant although a known one is spelled nearly so. Raises
    PageRefused headed by `what` with every fault of the first kind that is met.
    """
    if findings := schema.faults("formula", page):  # a page by a newer ovenleaf is kept, never worked with
        raise PageRefused(what, findings)
    formula = _read(page, name, what)
    if unknown := list(_unknown_items(page, formula, pantry, new)):
        raise PageRefused(what, unknown)
    if salts := list(salts_by_spoon(page, formula, new)):
        raise PageRefused(what, salts)
    return _come_out(page, formula, pantry, what)


def check_kept(page: Page, name: str, pantry: Pantry, what: str) -> Checked:
    """Check what a kept page of sound form says: its words and its arithmetic.

    It was looked over for slips when it was kept; spelling is not asked about again. Raises PageRefused.
    """
    return _come_out(page, _read(page, name, what), pantry, what)


def _read(page: Page, name: str, what: str) -> Formula:
    try:
        return read_formula(page, name=name)
    except PageRefused as refusal:
        raise PageRefused(what, refusal.findings) from None


def _come_out(page: Page, formula: Formula, pantry: Pantry, what: str) -> Checked:
    try:
        worked = work_out(formula, pantry)
    except FormulaFault as fault:
        raise DoesNotComeOut(what, fault, wording.finding(fault, page, pantry)) from None
    items = {line.item for _, line in all_lines(formula)}
    return Checked(
        page=page,
        formula=formula,
        worked=worked,
        new_items=tuple(sorted(item for item in items if not pantry.get(item).known)),
    )


def _unknown_items(page: Page, formula: Formula, pantry: Pantry, new: frozenset[str]) -> Iterator[Finding]:
    parts = {part.name for part in (*formula.preferments, *formula.soakers, *formula.stages)}
    for where, line in all_lines(formula):
        if pantry.get(line.item).known or line.item in new or line.item in parts:
            continue
        near = pantry.nearest(line.item)
        if near is None and not must_be_known(line.item):
            continue
        message, fix = _unknown_words(line.item, near), _unknown_fix(line.item, near, pantry)
        yield _finding(page, where, "unknown-ingredient", message, fix)


def salts_by_spoon(page: Page, formula: Formula, new: frozenset[str]) -> Iterator[Finding]:
    """What is strewn on top or dusted is not weighed, so its kind matters less."""
    for where, line in all_lines(formula):
        if where[0] != "outside" and line.item not in new and salt_by_spoon(line.item, line.amount):
            fix = f"Write table salt: {line.amount}, if it is that; or weigh it, as in salt: 10 g"
            yield _finding(page, where, "which-salt", WHICH_SALT, fix)


def _finding(page: Page, where: tuple[str | int, ...], code: str, message: str, fix: str) -> Finding:
    number = line_of(page, where)
    return Finding(
        code=code,
        severity=Severity.ERROR,
        path=page.path,
        line=number,
        message=message,
        fix=fix,
        text=page.text.splitlines()[number - 1].strip() if number else "",
    )


def _unknown_words(item: str, near: str | None) -> str:
    if near is not None:
        return f"{item} is not in the ingredient list. Did you mean {near}?"
    return f"{item} is not in the ingredient list, and how much flour, water or fat it brings must be known."


def _unknown_fix(item: str, near: str | None, pantry: Pantry) -> str:
    if near is not None and not must_be_known(item):
        return f'Write {near}; or, if it is meant so, add --new "{item}" to the command.'
    closest = ", ".join(pantry.closest(item))
    known = f"Use one that is known ({closest}), or" if closest else "Please"
    return f"{known} add it to this book's own list: ovenleaf ingredient {item}"


def stamped(page: Page, name: str, revision: RevisionName, stamp: Stamp, made_from: tuple[str, ...], why: str) -> str:
    """The text of a page with what ovenleaf writes on it: format, name, revision, who, when, from what, why."""
    values: dict[str, str | int | list[str] | None] = {
        "format": FORMAT,
        "formula": name,
        "revision": revision.number,
        "by": revision.handles[0] if len(revision.handles) == 1 else list(revision.handles),
        "saved": stamp.saved,
        "made_from": (made_from[0] if len(made_from) == 1 else list(made_from)) if made_from else None,
        "why": why or None,
    }
    text, path, after = page.text, page.path, None
    if "$schema=" not in text.partition("\n")[0]:
        text = schema_line("formula", page_of(name)) + text
    for key, value in values.items():
        page = read(text, path=path)
        text = _with(page, key, value, after)
        if key in [entry.key for entry in read(text, path=path).root.entries]:
            after = key
    return text


def _with(page: Page, key: str, value: str | int | list[str] | None, after: str | None) -> str:
    keys = [entry.key for entry in page.root.entries]
    if key not in keys:
        if value is None:
            return page.text
        return splice.insert(page, (), key, _plain(value), after=_title_after(keys, after))
    if value is None:
        return splice.remove(page, (key,))
    if isinstance(value, list):
        page = read(splice.remove(page, (key,)), path=page.path)
        return splice.insert(page, (), key, _plain(value), after=after)
    return with_value(page, (key,), value).text


def _plain(value: str | int | list[str]) -> Plain:
    return [*value] if isinstance(value, list) else value


def _title_after(keys: list[str], after: str | None) -> str | None:
    """A title that stands right behind the name stays there: stamps go below it."""
    if after == "formula" and "title" in keys and keys.index("title") == keys.index("formula") + 1:
        return "title"
    return after


@dataclass(frozen=True, slots=True, kw_only=True)
class Keep:
    """A page ready to be written as a new revision: its pages, and its name."""

    revision: RevisionName
    pages: dict[str, str]
    expect: dict[str, bytes | None]
    formula: Formula


def keep_as_next(shelf: Shelf, checked: Checked, stamp: Stamp, *, why: str, made_from: tuple[str, ...]) -> Keep:
    """The pages of the next revision: the current page and, byte for byte again, the kept one."""
    revision = RevisionName(next_number(shelf.names), (stamp.by,))
    text = stamped(checked.page, shelf.name, revision, stamp, made_from, why)
    formula = read_formula(read(text, path=shelf.path), name=shelf.name)
    return Keep(
        revision=revision,
        pages={shelf.path: text, kept_page_of(shelf.name, revision): text},
        expect={shelf.path: shelf.data, kept_page_of(shelf.name, revision): None},
        formula=formula,
    )
