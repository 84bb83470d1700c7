"""Two pages of one kind that came of one page, combined into a text: rules from `compare`, splices from `records`.

Symmetric: nothing here knows whose page is whose. Knows no folder and no history.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.compare.combining import combine
from ovenleaf.compare.open_questions import Names, names_of, open_block
from ovenleaf.compare.policies import AMOUNTS, POLICIES, for_formula
from ovenleaf.domain.dough import work_out
from ovenleaf.domain.faults import FormulaFault
from ovenleaf.domain.formula import same_content
from ovenleaf.domain.ingredients import Kind
from ovenleaf.domain.revision import RevisionName, revision_name
from ovenleaf.errors import PageRefused, Refusal
from ovenleaf.records.codec.formulas import read_formula
from ovenleaf.records.gathering import with_remarks_of
from ovenleaf.records.nodes import plain
from ovenleaf.records.reshape import reshaped

if TYPE_CHECKING:
    from collections.abc import Iterable

    from ovenleaf.compare.combining import Combined
    from ovenleaf.compare.three_ways import Decision, Tree
    from ovenleaf.domain.formula import Formula
    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.records.nodes import Page

STAMPS = ("revision", "by", "saved", "made_from", "why")


@dataclass(frozen=True, slots=True, kw_only=True)
class CombinedPage:
    """The text that stands, what is open on it, and the revision it is if the two came to a new one."""

    text: str
    questions: tuple[Decision, ...] = ()
    revision: RevisionName | None = None


def combine_pages(kind: str, before: Page | None, one: Page, other: Page) -> CombinedPage:
    """A page that is no formula. `before` is None where both put it in."""
    if done := _same_or_one(before, one, other):
        return done
    first, second = _in_order(one, other)
    combined = combine(_tree(before), _data(first), _data(second), POLICIES[kind])
    names = names_of(_correctors(before, first), _correctors(before, second))
    page = _with_remarks(reshaped(first, _with_questions(combined, names)), first, second)
    return CombinedPage(text=page.text, questions=combined.questions)


def combine_formulas(before: Page | None, one: Page, other: Page, *, pantry: Pantry, top: int) -> CombinedPage:
    """The current page of a formula. `top` is the highest number kept in either book.

    Where the amounts of both together do not come out (flour not 100 %, less than nothing in the final
    dough), all of them are one question and the ancestor's stand.
    """
    if done := _same_or_one(before, one, other):
        return done
    first, second = _in_order(one, other)
    names = _formula_names(before, first, second)
    flours = _flours((before, first, second), pantry)
    combined = combine(_tree(before), _data(first), _data(second), for_formula(flours))
    page = reshaped(first, _with_questions(combined, names))
    if not _comes_out(page, pantry):
        policy = for_formula(flours, amounts_whole=True)
        combined = combine(_tree(before), _data(first), _data(second), policy)
        page = reshaped(first, _with_questions(combined, names))
    page, revision = _stamped(page, first, second, top)
    text = _with_remarks(page, first, second).text
    return CombinedPage(text=text, questions=combined.questions, revision=revision)


def _same_or_one(before: Page | None, one: Page, other: Page) -> CombinedPage | None:
    """What needs no look inside: one of the two changed nothing, or both came to the same."""
    if one.text == other.text or (before is not None and other.text == before.text):
        return CombinedPage(text=one.text)
    return CombinedPage(text=other.text) if before is not None and one.text == before.text else None


def _in_order(one: Page, other: Page) -> tuple[Page, Page]:
    """The two in an order that hangs on what they say alone."""
    return (one, other) if one.text <= other.text else (other, one)


def _with_remarks(page: Page, first: Page, second: Page) -> Page:
    """A line that was taken out took its remark along, so the first is asked as well."""
    return with_remarks_of(with_remarks_of(page, first), second)


def _data(page: Page) -> dict[str, Tree]:
    data = plain(page.root)
    assert isinstance(data, dict)
    return data


def _tree(page: Page | None) -> dict[str, Tree] | None:
    return None if page is None else _data(page)


def _with_questions(combined: Combined, names: Names) -> dict[str, Tree]:
    """The data of the page with its open questions, those that were open before and the new ones."""
    asked = open_block(combined.questions, names)
    if not asked:
        return combined.tree
    standing = combined.tree.get("open")
    return combined.tree | {"open": (standing if isinstance(standing, dict) else {}) | asked}


def _correctors(before: Page | None, page: Page) -> tuple[str, ...]:
    """Who put something right on this page since: they are behind its changes."""
    known = [] if before is None else _data(before).get("corrections", [])
    now = _data(page).get("corrections", [])
    made = [one for one in now if one not in (known or [])] if isinstance(now, list) and isinstance(known, list) else []
    names = {str(one["by"]) for one in made if isinstance(one, dict) and "by" in one}
    return tuple(sorted(names))


# --- formulas -----------------------------------------------------------------------------------------


def _flours(pages: Iterable[Page | None], pantry: Pantry) -> frozenset[str]:
    """The items of these pages that are flour."""
    found: set[str] = set()
    for page in pages:
        data = {} if page is None else _data(page)
        for block in AMOUNTS:
            lines = data.get(block)
            if isinstance(lines, dict):
                found |= set(lines)
                for inner in lines.values():
                    found |= set(inner) if isinstance(inner, dict) else set()
    return frozenset(item for item in found if pantry.get(item).kind is Kind.FLOUR)


def _formula_names(before: Page | None, one: Page, other: Page) -> Names:
    was, left, right = (_stamp(page) for page in (before, one, other))
    return names_of(
        left.handles if left else (),
        right.handles if right else (),
        before_revision=str(was or ""),
        one_revision=str(left or ""),
        other_revision=str(right or ""),
    )


def _stamp(page: Page | None) -> RevisionName | None:
    """Which revision a page says it is."""
    if page is None:
        return None
    data = _data(page)
    by = data.get("by")
    handles = by if isinstance(by, list) else [by]
    return revision_name(".".join((f"r{data.get('revision')}", *map(str, handles))))


def _read(page: Page) -> Formula | None:
    try:
        return read_formula(page)
    except Refusal:
        return None


def _comes_out(page: Page, pantry: Pantry) -> bool:
    formula = _read(page)
    try:
        return formula is not None and work_out(formula, pantry) is not None
    except (FormulaFault, PageRefused):
        return False


def _stamped(page: Page, one: Page, other: Page, top: int) -> tuple[Page, RevisionName | None]:
    """The page as the revision it is: that of one of the two where it says no more than that, else a new one."""
    if (said := _is_one_of(page, one, other)) is not None:
        stamps = {key: value for key, value in _data(said).items() if key in STAMPS}
        return _with_stamps(page, stamps), None
    sides = [(name, _data(side)) for side in (one, other) if (name := _stamp(side)) is not None]
    if not sides:
        return page, None
    handles = tuple(sorted({handle for name, _ in sides for handle in name.handles}))
    revision = RevisionName(top + 1, handles)
    by: list[Tree] = [*handles]
    made_from: list[Tree] = [*sorted({str(name) for name, _ in sides})]
    new: dict[str, Tree] = {
        "revision": revision.number,
        "by": handles[0] if len(handles) == 1 else by,
        "saved": max(str(data.get("saved", "")) for _, data in sides),
        "made_from": made_from[0] if len(made_from) == 1 else made_from,
        "why": _reasons(sides),
    }
    return _with_stamps(page, new), revision


def _is_one_of(page: Page, one: Page, other: Page) -> Page | None:
    """The side that says the same formula; where both do, the one with the higher number."""
    formula = _read(page)
    same = [side for side in (one, other) if (read := _read(side)) and formula and same_content(read, formula)]
    numbers = [(name.number if (name := _stamp(side)) else 0) for side in same]
    return same[numbers.index(max(numbers))] if same else None


def _reasons(sides: Iterable[tuple[RevisionName, dict[str, Tree]]]) -> str:
    """Why, in the words of both."""
    said = {f"{' and '.join(name.handles)}: {data['why']}": None for name, data in sides if data.get("why")}
    return "; ".join(said) or "two revisions combined"


def _with_stamps(page: Page, stamps: dict[str, Tree]) -> Page:
    data = {key: value for key, value in _data(page).items() if key not in STAMPS}
    head = [key for key in ("format", "formula", "title") if key in data]
    rest = {key: value for key, value in data.items() if key not in head}
    ordered = [key for key in STAMPS if stamps.get(key) not in (None, "")]
    return reshaped(page, {key: data[key] for key in head} | {key: stamps[key] for key in ordered} | rest)
