"""Make a new revision by saying what changes: shares, points, items, parts, steps."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.book.steps.bakes import read_trials
from ovenleaf.book.steps.keeping import Checked, DoesNotComeOut, WhyWanted, check_page, keep_as_next
from ovenleaf.book.steps.opening import open_book, open_pantry, settle_baker
from ovenleaf.book.steps.questioning import ask_back
from ovenleaf.book.steps.remarks import refuse_unsaved
from ovenleaf.book.steps.sheets import kept_sheet
from ovenleaf.book.steps.shelf import Kept, Shelf, refuse_draft, revision_of, spoken, standing_on, take
from ovenleaf.book.steps.signing import Stamp, put
from ovenleaf.book.steps.tweaking import tweaked_page
from ovenleaf.book.steps.unsettled import refuse_unsettled
from ovenleaf.compare.bakes import done
from ovenleaf.compare.formula_diff import FormulaDiff, compare
from ovenleaf.compare.headline import headline
from ovenleaf.domain.edits import meant
from ovenleaf.domain.faults import FlourSum
from ovenleaf.domain.formula import same_content
from ovenleaf.domain.ingredients import Kind
from ovenleaf.domain.quantity import Amount
from ovenleaf.domain.sheet import Sheet, sheet
from ovenleaf.errors import Next, PageRefused, Refusal
from ovenleaf.results import Poured, Tweaked

if TYPE_CHECKING:
    from collections.abc import Collection, Sequence
    from datetime import datetime
    from pathlib import Path

    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.findings import Finding
    from ovenleaf.records.nodes import Page


class NothingChanges(Refusal):
    """The tweak leaves the formula as it is. Fact: `formula`."""

    def __init__(self, formula: str, spoken: str) -> None:
        super().__init__(
            f"Nothing changes: {spoken} of {formula} says that already.",
            next=(Next(f"ovenleaf show {formula}", "what it says"),),
        )
        self.formula = formula


def tweak(
    given: Path | None,
    start: Path,
    formula: str,
    edits: Sequence[str],
    *,
    why: str,
    baker: str,
    at: datetime,
    preview: bool = False,
    base: str = "",
    new: Collection[str] = (),
    meant: str = "",
) -> Tweaked:
    """Keep a revision that differs from `base` (the newest) by `edits`, each ITEM=AMOUNT or STEP.FIELD=VALUE."""
    book = open_book(given, start)
    who = settle_baker(book.root, baker)
    pantry = open_pantry(book.root)
    shelf = take(book.root, formula)
    refuse_draft(shelf)
    kept = revision_of(shelf, base)
    before = kept_sheet(shelf, kept, pantry)
    refuse_unsettled(shelf.name, before.formula, f"tweak {{}} {' '.join(map(_quoted, edits))} --from {{}}")
    page = tweaked_page(_page_to_change(book.root, shelf, kept), before, edits, pantry)
    checked = _check(page, shelf, before, edits, why, pantry, frozenset(new))
    if same_content(before.formula, checked.formula):
        raise NothingChanges(shelf.name, spoken(shelf.names, kept.name))
    if not why:
        raise WhyWanted(shelf.name, f"ovenleaf tweak {shelf.name} {' '.join(map(_quoted, edits))}")
    stamp = Stamp(by=who, at=at, verb="tweak", preview=preview)
    keep = keep_as_next(shelf, checked, stamp, why=why, made_from=(str(kept.name),))
    after = sheet(keep.formula, checked.worked, pantry, keep.revision)
    diff = compare(before, after, pantry)
    poured = last_poured(book.root, shelf, kept, before, diff, pantry)
    asked = ask_back(book.root, shelf.name, after, before, stamp, meant)
    line = f"{shelf.name} {keep.revision}: {headline(diff)}"
    ahead = put(book.root, keep.pages | asked.pages, stamp, line, why, expect=keep.expect | asked.expect)
    made_from = spoken(shelf.names, kept.name)
    return Tweaked(sheet=after, diff=diff, before=made_from, poured=poured, slips=asked.slips, ahead=ahead)


def _page_to_change(root: Path, shelf: Shelf, kept: Kept) -> Page:
    """The current page where it stands on the revision, with every remark made since; else the kept page."""
    standing = standing_on(shelf) if shelf.data is not None else None
    if standing is not None and standing.name == kept.name:
        return shelf.page()
    refuse_unsaved(root, shelf)
    return replace(kept.page(), path=shelf.path)


def _check(
    page: Page,
    shelf: Shelf,
    before: Sheet,
    edits: Sequence[str],
    why: str,
    pantry: Pantry,
    new: frozenset[str],
) -> Checked:
    """The page after the edits, checked; where flours no longer come to 100 %, how one can take up the rest."""
    try:
        return check_page(page, shelf.name, pantry, "Not tweaked", new=new)
    except PageRefused as refusal:
        refusal.findings = tuple(_as_the_page_stands(finding, shelf) for finding in refusal.findings)
        refusal.next = _spelled_right(shelf, edits, why, pantry)
        if not isinstance(refusal, DoesNotComeOut):
            raise
        items = tuple(item for item, _ in before.kinds)
        named = {item for edit in edits for item in meant(edit.partition("=")[0].strip(), items)}
        flours = [item for item, kind in before.kinds if kind is Kind.FLOUR and item not in named]
        if not isinstance(refusal.fault, FlourSum) or not flours or before.worked.flour_g is not None:
            raise
        rest = _quoted(f"{flours[-1]}=rest")
        command = f'ovenleaf tweak {shelf.name} {" ".join(map(_quoted, edits))} {rest} --why "{why or "..."}"'
        words = f"{flours[-1]} takes up the rest"
        raise PageRefused(refusal.what, refusal.findings, next=(Next(command, words),)) from None


def _spelled_right(shelf: Shelf, edits: Sequence[str], why: str, pantry: Pantry) -> tuple[Next, ...]:
    """The command again with the ingredients it misspells spelled as the list has them; none if it misspells none."""
    better = [_spelled(edit, pantry) for edit in edits]
    if better == list(edits):
        return ()
    command = f'ovenleaf tweak {shelf.name} {" ".join(map(_quoted, better))} --why "{why or "..."}"'
    return (Next(command, "as the ingredient list spells it"),)


def _spelled(edit: str, pantry: Pantry) -> str:
    name, equals, value = edit.partition("=")
    part, colon, item = name.rpartition(":")
    near = None if pantry.get(item.strip()).known else pantry.nearest(item.strip())
    return edit if near is None else f"{part}{colon}{near}{equals}{value}"


def _as_the_page_stands(finding: Finding, shelf: Shelf) -> Finding:
    """A fault of the page as it would be; its place is told only if the page holds that line now."""
    lines = shelf.page().text.splitlines()
    if finding.line is None or finding.text in [line.strip() for line in lines[finding.line - 1 : finding.line]]:
        return finding
    return replace(finding, path="", line=None, text="")


def _quoted(edit: str) -> str:
    return f'"{edit}"' if " " in edit else edit


def last_poured(
    root: Path, shelf: Shelf, kept: Kept, before: Sheet, diff: FormulaDiff, pantry: Pantry
) -> tuple[Poured, ...]:
    """What went in last time instead of what was planned, for the items that now change.

    The step that a baker will taste is from the bowl, not from the page.
    """
    trials = [trial for trial in read_trials(root, shelf.name)[0] if trial.revision == str(kept.name) and trial.counts]
    if not trials:
        return ()
    actual = {c.name: c.value for c in done(trials[-1], before.worked, pantry)}
    found = []
    for row in diff.items:
        value = actual.get(row.item)
        if row.change and row.stage is None and row.after is not None and isinstance(value, Amount) and value.is_share:
            planned = row.before or Decimal(0)
            if abs(value.value - planned) >= Decimal("0.1"):
                found.append(
                    Poured(
                        code=trials[-1].code,
                        item=row.item,
                        planned=planned,
                        actual=value.value,
                        step=row.after - value.value,
                    )
                )
    return tuple(found)
