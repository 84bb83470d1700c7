"""Bakes in hand: which one is meant, what a line is heard against, and how what was heard goes on its page."""

from __future__ import annotations

import re
from datetime import UTC, datetime
from typing import TYPE_CHECKING

from ovenleaf.book.steps.bakes import UnknownTrial, find_trial, mixed_for, page_of, refused
from ovenleaf.book.steps.opening import open_pantry
from ovenleaf.book.steps.sheets import kept_sheet
from ovenleaf.book.steps.shelf import revision_of, shelf_of, spoken
from ovenleaf.book.steps.swapping import as_begun
from ovenleaf.domain.altitude import altitude, boiling
from ovenleaf.domain.bench_plan import Kind, plan_of
from ovenleaf.domain.bench_told import begun_of, next_step
from ovenleaf.domain.hearing import Bench
from ovenleaf.domain.held import Held
from ovenleaf.domain.revision import place_of
from ovenleaf.domain.shared_dough import shared_runs
from ovenleaf.domain.trial import State, Trial
from ovenleaf.errors import Next, Refusal
from ovenleaf.records.codec.trial_edits import with_correction, with_field, with_line, with_lines
from ovenleaf.records.scalars import resolve

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

    from ovenleaf.book.steps.opening import OpenBook
    from ovenleaf.domain.hearing import Heard
    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.findings import Finding
    from ovenleaf.records.nodes import Page


CODE = "{code}"  # in a command that is offered, where a trial's code goes
_OFFERED = 3  # bakes in hand, where the one that was named is not there


class NothingInHand(Refusal):
    """No bake is in hand, and none was named. Fact: `last`, the code of the last trial, or ""."""

    def __init__(self, what: str, last: str, again: str) -> None:
        named = (Next(again.replace(CODE, last), "for the last bake"),) if last else ()
        super().__init__(
            f"{what}: nothing is in hand.",
            next=(*named, Next("ovenleaf list", "what could be begun")),
        )
        self.last = last


class NotAtTheBench(Refusal):
    """The trial is not one that lines can be added to. Facts: `code`, `state`."""

    def __init__(self, what: str, trial: Trial) -> None:
        begin = Next(f"ovenleaf begin {trial.formula}", "a bake of it")
        super().__init__(f"{what}: trial {trial.code} is {trial.state.value}.", next=(begin,))
        self.code = trial.code
        self.state = trial.state


def in_hand(trials: Iterable[Trial]) -> tuple[Trial, ...]:
    """The bakes in hand, the newest first."""
    held = [trial for trial in trials if trial.state is State.IN_HAND]
    return tuple(sorted(held, key=lambda trial: (_begun(trial), place_of(trial.code) or 0), reverse=True))


_LONG_AGO = datetime(1900, 1, 1, tzinfo=UTC)


def _begun(trial: Trial) -> datetime:
    try:
        at = datetime.fromisoformat(trial.started)
    except ValueError:
        return _LONG_AGO
    return at if at.tzinfo is not None else at.replace(tzinfo=UTC)


def trial_meant(root: Path, typed: str, who: str, trials: tuple[Trial, ...], what: str, again: str) -> Trial:
    """The trial that is named, or the newest in hand: the baker's own before another's.

    `what` begins a refusal, `again` is the command with CODE where the trial goes. Raises UnknownTrial,
    AmbiguousTrial, NothingInHand, NotAtTheBench.
    """
    if typed:
        try:
            trial = find_trial(root, typed)
        except UnknownTrial:
            offered = (
                Next(again.replace(CODE, one.code), f"{one.formula}, in hand") for one in in_hand(trials)[:_OFFERED]
            )
            raise UnknownTrial(typed, tuple(offered)) from None
        if trial.state in (State.PLANNED, State.WITHDRAWN):
            raise NotAtTheBench(what, trial)
        return trial
    held = in_hand(trials)
    own = [trial for trial in held if trial.baker == who]
    if not held:
        raise NothingInHand(what, trials[-1].code if trials else "", again)
    return own[0] if own else held[0]


def held_of(book: OpenBook, trials: tuple[Trial, ...]) -> tuple[tuple[Held, ...], tuple[Finding, ...]]:
    """What is in hand and what is due next, the oldest first; and what is wrong with pages that cannot be read."""
    held: list[Held] = []
    findings: list[Finding] = []
    pantry = open_pantry(book.root) if in_hand(trials) else None
    for trial in reversed(in_hand(trials)):
        assert pantry is not None
        try:
            held.append(_held(book, trial, pantry, mixed_for(trial, trials)))
        except Refusal as refusal:
            findings += refused(page_of(trial.name), refusal)
    return tuple(held), tuple(findings)


def _held(book: OpenBook, trial: Trial, pantry: Pantry, mixed: Trial | None) -> Held:
    bench = bench_of(book, trial, pantry, trial.baker, mixed)
    shelf = shelf_of(book.root, trial.formula)
    name = revision_of(shelf, trial.revision).name
    runs = bench.runs
    out = [run.ended for run in runs if run.step.kind is Kind.BAKE and run.ended is not None]
    return Held(
        trial=trial,
        label=bench.sheet.formula.label,
        spoken=spoken(shelf.names, name),
        running=tuple(begun_of(run) for run in runs if run.running),
        coming=next_step(runs, bench.plan),
        out=out[-1] if out else None,
    )


_LEADS = re.compile(r"(?P<code>[A-Za-z][1-9]\d*|[A-Z])(?:[:,]\s*|\s+)(?P<rest>\S.*)", re.DOTALL)
_TRAILS = re.compile(r"(?P<rest>.*\S)[\s,]+(?:(?:of|on|for) )?(?P<code>[A-Z][1-9]\d*|[A-Z])", re.DOTALL)


class WhichDough(Refusal):
    """A letter that fits several bakes in hand. Facts: `typed`, `codes`."""

    def __init__(self, typed: str, codes: tuple[str, ...], words: str) -> None:
        super().__init__(
            f"Not noted yet: {typed} can be {' or '.join(codes)}. Which dough is it?",
            next=tuple(Next(f"ovenleaf jot {code} {words}") for code in codes),
        )
        self.typed = typed
        self.codes = codes


def addressed(text: str, trials: tuple[Trial, ...]) -> tuple[str, str]:
    """The code that a line begins or ends with, and the line without it; "" where it names no dough.

    `B2: fold`, `fold B2`; the letter alone where only one bake in hand has it. Raises WhichDough.
    """
    for form in (_LEADS, _TRAILS):
        found = form.fullmatch(text.strip())
        if found is None:
            continue
        code = found["code"].upper()
        codes = tuple(trial.code for trial in trials if trial.code == code)
        if len(code) == 1:
            codes = tuple(trial.code for trial in in_hand(trials) if trial.code[0] == code)
        if len(codes) > 1:
            raise WhichDough(code, codes, found["rest"])
        if codes:
            return codes[0], found["rest"].strip()
    return "", text


def bench_of(book: OpenBook, trial: Trial, pantry: Pantry, who: str, mixed: Trial | None = None) -> Bench:
    """What a line is heard against; `mixed` is the bake whose dough this is. Raises the refusals of its steps."""
    shelf = shelf_of(book.root, trial.formula)
    sheet = as_begun(kept_sheet(shelf, revision_of(shelf, trial.revision), pantry), trial, pantry)
    hottest = boiling(altitude(book.page.places))
    base = () if mixed is None else shared_runs(mixed, plan_of(sheet))
    return Bench(trial=trial, sheet=sheet, pantry=pantry, boiling=hottest, speaker=who, base=base)


def page_with(page: Page, heard: Heard) -> Page:
    """The trial's page with what was heard added; what is there stays, and a change is named."""
    said = heard.said
    single = {"bake_date": said.bake_date, "batch": said.batch, "state": State.IN_HAND.value if heard.resumed else ""}
    for key, text in single.items():
        page = with_field(page, (key,), text) if text else page
    for block in ("weighed", "flours", "kitchen"):
        for name, text in getattr(said, block):
            page = with_field(page, (block, name), text)
    for name, text in said.measured:
        page = with_field(page, ("measured", name), resolve(text))
    for name, line in said.steps:
        page = with_line(page, ("steps",), {name: line})
    page = with_lines(page, ("log",), said.log)
    for made in heard.corrections:
        page = with_correction(page, made)
    return page
