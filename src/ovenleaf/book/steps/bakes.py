"""The trials of a book: read them all, find the one a baker means, give the next code."""

from __future__ import annotations

from datetime import date
from functools import partial
from typing import TYPE_CHECKING

from ovenleaf.book import layout
from ovenleaf.book.names import TRIALS, code_on
from ovenleaf.book.names import trial_pages as trial_pages
from ovenleaf.book.steps.once import once
from ovenleaf.book.steps.remembering import remembered
from ovenleaf.domain.revision import next_code, place_of, slug_of
from ovenleaf.domain.trial import State, Trial
from ovenleaf.errors import Next, PageRefused, Refusal
from ovenleaf.findings import Finding, Severity
from ovenleaf.records.codec.trials import read_trial
from ovenleaf.records.page_bytes import decode
from ovenleaf.records.page_fault import PageFault
from ovenleaf.records.upgrade import NEWER
from ovenleaf.records.yaml_text import read

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path


class UnknownTrial(Refusal):
    """No such trial. `instead` are commands with one that there is. Fact: `typed`."""

    def __init__(self, typed: str, instead: tuple[Next, ...] = ()) -> None:
        super().__init__(
            f"There is no trial {typed} in this book.",
            detail=("A trial is named by its code, such as C2, by formula and day, or last.",),
            next=(*instead, Next("ovenleaf list", "the last trials and their codes")),
        )
        self.typed = typed


class AmbiguousTrial(Refusal):
    """More than one trial fits. Facts: `typed`, `codes`."""

    def __init__(self, typed: str, codes: tuple[str, ...]) -> None:
        super().__init__(
            f"{typed} fits more than one trial: {', '.join(codes)}.",
            detail=("Say which by its code.",),
            next=tuple(Next(f"ovenleaf show {code}") for code in codes[:3]),
        )
        self.typed = typed
        self.codes = codes


@once
def read_trials(root: Path, formula: str | None = None) -> tuple[tuple[Trial, ...], tuple[Finding, ...]]:
    """All trials, and what is wrong with those that cannot be read: they never stop the others."""
    trials: list[Trial] = []
    findings: list[Finding] = []
    folder = f"{TRIALS}/{formula}/" if formula else f"{TRIALS}/"
    for _, said in remembered(root, folder, trial_pages(root, formula), "trial", partial(_read_or_told, root)):
        if isinstance(said, Trial):
            trials.append(said)
        else:
            findings += said
    return tuple(sorted(trials, key=lambda trial: (trial.day, trial.name))), tuple(findings)


def _read_or_told(root: Path, page: str) -> Trial | tuple[Finding, ...]:
    try:
        return read_one(root, page)
    except Refusal as refusal:
        return refused(page, refusal)


def read_one(root: Path, page: str) -> Trial:
    """One trial. Raises PageFault, PageRefused, NotAPage."""
    return read_trial(read(decode(layout.read_page(root, page), page), path=page))


def refused(page: str, refusal: Refusal) -> tuple[Finding, ...]:
    """The findings behind a refusal to read a page."""
    return refusal.findings if isinstance(refusal, PageRefused) else (_page_finding(page, refusal),)


def _page_finding(page: str, refusal: Refusal) -> Finding:
    """A page that cannot be read, as a finding."""
    where = refusal.where
    code = refusal.kind if isinstance(refusal, PageFault) else "unreadable"
    return Finding(
        code=code,
        severity=Severity.NOTE if code == NEWER else Severity.ERROR,
        path=page,
        line=where.line if where else None,
        message=refusal.what,
        fix=" ".join(refusal.detail),
        text=where.text if where else "",
    )


def page_of(name: str) -> str:
    """Where a trial's page lies."""
    return f"{TRIALS}/{name}.yaml"


def find_trial(root: Path, typed: str) -> Trial:
    """The trial that is meant: a code, `last`, an id, or a formula and a day.

    Raises UnknownTrial, AmbiguousTrial.
    """
    trials, findings = read_trials(root)
    named = _meant(typed.strip(), trials)
    for page in dict.fromkeys(finding.path for finding in findings):
        if _may_be(root, page, typed.strip(), named):
            read_one(root, page)  # raises what is wrong with it
    if not named:
        raise UnknownTrial(typed)
    if len(named) > 1:
        raise AmbiguousTrial(typed, tuple(trial.code for trial in named))
    return named[0]


def _meant(typed: str, trials: tuple[Trial, ...]) -> tuple[Trial, ...]:
    if typed.lower() == "last":
        standing = [trial for trial in trials if trial.state is not State.WITHDRAWN]
        return tuple(sorted(standing, key=lambda trial: (trial.day, place_of(trial.code) or 0))[-1:])
    if place_of(typed.upper()) is not None:
        return tuple(trial for trial in trials if trial.code == typed.upper())
    if by_name := tuple(trial for trial in trials if trial.name == typed):
        return by_name
    formula, _, day = typed.replace("/", " ").rpartition(" ")
    return tuple(t for t in trials if is_day(day) and t.formula == slug_of(formula) and t.day == day)


def _may_be(root: Path, page: str, typed: str, named: tuple[Trial, ...]) -> bool:
    """True for a page that cannot be read but, by its name or its code line, may be the trial that is meant."""
    if typed.lower() == "last":
        day = page.rsplit("/", 1)[-1][: len("2026-11-18")]
        return not named or day >= named[0].day
    if is_day(typed[-len("2026-11-18") :]):
        return page.startswith(f"{TRIALS}/{typed.replace(' ', '/')}-")
    return page == page_of(typed) or code_on(root, page) == typed.upper()


def is_day(text: str) -> bool:
    """True for a day as pages have it: `2026-11-18`."""
    try:
        date.fromisoformat(text)
    except ValueError:
        return False
    return True


def mixed_for(trial: Trial, trials: Iterable[Trial]) -> Trial | None:
    """The bake whose dough this one is a part of; None where it has a dough of its own, or that page cannot be read."""
    code = trial.shares_dough_with
    return next((one for one in trials if one.code == code), None) if code else None


def dough_of(root: Path, trial: Trial) -> Trial | None:
    """The same, looked up in the book only where there is one to look for."""
    return mixed_for(trial, read_trials(root, trial.formula)[0]) if trial.shares_dough_with else None


def free_code(root: Path) -> str:
    """The next trial code. Pages that cannot be read keep theirs: only their code line is looked at."""
    return next_code(code_on(root, page) for page in trial_pages(root))


def free_name(root: Path, formula: str, day: str, baker: str) -> str:
    """The id of a new trial: formula, day and baker; a second that day is numbered."""
    base = f"{formula}/{day}-{baker}"
    name, number = base, 1
    while layout.read_file(root, page_of(name)) is not None:
        number += 1
        name = f"{base}-{number}"
    return name
