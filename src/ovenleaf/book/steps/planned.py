"""Trials that are planned: the one that is meant by its code, those that wait, and the page when one is begun."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.book.steps.bakes import page_of
from ovenleaf.book.steps.opening import working_page
from ovenleaf.book.steps.sheets import kept_sheet
from ovenleaf.domain.figures import as_edit, pct
from ovenleaf.domain.revision import place_of
from ovenleaf.domain.trial import Correction, State, Trial
from ovenleaf.errors import Next, Refusal
from ovenleaf.records.codec.trial_edits import with_correction, with_field

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

    from ovenleaf.book.steps.shelf import Shelf
    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.sheet import Sheet


class NotPlanned(Refusal):
    """A trial that is no plan any more, or never was. Facts: `code`, `state`."""

    def __init__(self, code: str, formula: str, state: State) -> None:
        super().__init__(
            f"Not begun: {code} is {state.value}, not planned.",
            next=(Next(f"ovenleaf begin {formula}", "a new bake of that formula"),),
        )
        self.code = code
        self.state = state


class WhatToBegin(Refusal):
    """No formula was named: what is planned, else a formula of the book. Fact: `codes`."""

    def __init__(self, planned: tuple[Trial, ...], formula: str) -> None:
        named = Next(f"ovenleaf begin {formula}", "or any other of your formulas") if formula else None
        super().__init__(
            f"Not begun: {'is it what is planned, or another formula' if planned else 'of which formula'}?",
            detail=tuple(map(plan_in_words, planned)),
            next=(
                *(Next(f"ovenleaf begin {trial.code}", "begin what is planned") for trial in planned[:3]),
                *((named,) if named else (Next("ovenleaf enter stall-loaf", "put a formula in first"),)),
            ),
        )
        self.codes = tuple(trial.code for trial in planned)


def plan_in_words(trial: Trial) -> str:
    """A planned bake in a line: its code, its formula, what it is to answer."""
    return f"{trial.code}, {trial.formula}: {trial.question or 'no question said'}"


class PlannedFirst(Refusal):
    """Bakes of the formula are planned: one of those, or another one? Facts: `formula`, `codes`."""

    def __init__(self, formula: str, planned: tuple[Trial, ...], told: str) -> None:
        one = len(planned) == 1
        what = "a bake of it is planned" if one else f"{len(planned)} bakes of it are planned"
        super().__init__(
            f"Not begun: {formula}: {what}. {'Is it that one' if one else 'Is it one of those'}, or another?",
            detail=tuple(f"{trial.code}: {trial.question or 'no question said'}" for trial in planned),
            next=(
                *(Next(f"ovenleaf begin {trial.code}", "begin what is planned") for trial in planned[:3]),
                Next(f"ovenleaf begin {formula}{told} --another", "another one; the plan stays"),
            ),
        )
        self.formula = formula
        self.codes = tuple(trial.code for trial in planned)


class RevisionWanted(Refusal):
    """The plan changes the formula, and no revision does yet. Facts: `code`, `formula`, `wanted`."""

    def __init__(self, code: str, formula: str, revision: str, wanted: tuple[tuple[str, str], ...]) -> None:
        told = " and ".join(f"{item} {share}" for item, share in wanted)
        edits = " ".join(f'"{edit}"' if " " in edit else edit for edit in map(as_edit, wanted))
        super().__init__(
            f"Not begun: {code} plans {told}, and no revision of {formula} made from {revision} has that.",
            detail=("Make it a revision first; the trial then takes that one, so that its bakes stand by themselves.",),
            next=(
                Next(f'ovenleaf tweak {formula} {edits} --from {revision} --why "..."'),
                Next(f"ovenleaf begin {code}", "then"),
            ),
        )
        self.code = code
        self.formula = formula
        self.wanted = wanted


def shares_planned(trial: Trial) -> tuple[tuple[str, str], ...]:
    """What of a plan changes the formula: items with their shares, as `77.0 %`."""
    return tuple((item, text) for item, text in trial.plan if text.endswith(" %"))


def has_shares(sheet: Sheet, wanted: tuple[tuple[str, str], ...]) -> bool:
    """True for a formula with just those shares."""
    shares = {share.item: pct(share.pct) for share in sheet.worked.whole}
    return all(shares.get(item) == text for item, text in wanted)


def revision_for(trial: Trial, shelf: Shelf, pantry: Pantry) -> str:
    """The revision that a planned trial is baked from: its own, or the newest made from it that has the shares the plan
    says. Raises RevisionWanted where there is none."""
    wanted = shares_planned(trial)
    if not wanted:
        return trial.revision
    for kept in reversed(shelf.kept):
        made_from = kept.formula().made_from
        if (str(kept.name) == trial.revision or trial.revision in made_from) and has_shares(
            kept_sheet(shelf, kept, pantry), wanted
        ):
            return str(kept.name)
    raise RevisionWanted(trial.code, trial.formula, trial.revision, wanted)


def planned_meant(typed: str, trials: Iterable[Trial]) -> Trial | None:
    """The planned trial whose code was typed where a formula may stand; None for no code. Raises NotPlanned."""
    code = typed.strip().upper()
    if place_of(code) is None:
        return None
    found = next((trial for trial in trials if trial.code == code), None)
    if found is not None and found.state is not State.PLANNED:
        raise NotPlanned(found.code, found.formula, found.state)
    return found


def planned_of(formula: str, trials: Iterable[Trial]) -> tuple[Trial, ...]:
    """The planned trials of a formula; of all of them for ""."""
    return tuple(trial for trial in trials if formula in ("", trial.formula) and trial.state is State.PLANNED)


def begun_text(root: Path, planned: Trial, trial: Trial) -> str:
    """The page of a planned trial that is now `trial`, in hand: what the plan says stays as it is.

    Where the plan became a revision of its own since, the trial takes that one, visibly.
    """
    page = with_field(working_page(root, page_of(trial.name)), ("state",), trial.state.value)
    for field, was, now in (("revision", planned.revision, trial.revision), ("pin", planned.pin, trial.pin)):
        if was != now:
            page = with_field(page, (field,), now)
            page = with_correction(
                page,
                Correction(field=field, was=was, now=now, by=trial.baker, at=trial.started, why="what was planned"),
            )
    page = with_field(page, ("started",), trial.started)
    for name, text in trial.plan:
        if (name, text) not in planned.plan:
            page = with_field(page, ("plan", name), text)
    if trial.batch:
        page = with_field(page, ("batch",), trial.batch)
    if trial.shares_dough_with:
        page = with_field(page, ("shares_dough_with",), trial.shares_dough_with)
    return page.text
