"""A bake that is handed in written down: a typed-up page, or the printed weigh-up filled in."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, NoReturn

from ovenleaf.book.steps.bakes import read_trials
from ovenleaf.book.steps.recording import CannotRecord, said_on_page
from ovenleaf.book.steps.which_bake import InTheBook
from ovenleaf.domain import paper
from ovenleaf.domain.paper_boxes import Heard
from ovenleaf.domain.paper_reading import printed_facts, read_paper
from ovenleaf.domain.paper_said import headings, heard_from
from ovenleaf.domain.revision import slug_of
from ovenleaf.errors import Next, PageRefused, Refusal
from ovenleaf.findings import Finding, Severity
from ovenleaf.records import schema
from ovenleaf.records.page_bytes import decode
from ovenleaf.records.yaml_text import read

if TYPE_CHECKING:
    from datetime import date, datetime
    from pathlib import Path

    from ovenleaf.domain.sheet import Sheet
    from ovenleaf.domain.trial import Trial

_VERSION = "1"


class SeveralSheets(Refusal):
    """A file with the sheets of several formulas. Facts: `source`, `formulas`."""

    def __init__(self, source: str, formulas: tuple[str, ...]) -> None:
        super().__init__(
            f"{source} holds the sheets of {', '.join(formulas[:-1])} and {formulas[-1]}. Say which to record.",
            next=tuple(Next(f"ovenleaf record {name} --from {source}") for name in formulas),
        )
        self.source = source
        self.formulas = formulas


class OtherBake(Refusal):
    """What is handed in is of something else than was named. Facts: `typed`, `written`."""

    def __init__(self, source: str, typed: str, written: str, again: str) -> None:
        super().__init__(
            f"Not recorded: {source} is of {written}, and {typed} was named.",
            next=(Next(again, "as it is written there"),),
        )
        self.typed = typed
        self.written = written


@dataclass(frozen=True, slots=True, kw_only=True)
class HandedBake:
    """What was handed in, as far as it can be read before the formula is known.

    `formula` and `revision` are as written in it, or ""; `page` is a sheet's text and `before` the lines
    ahead of it, `told` what a typed-up page says.
    """

    source: str
    formula: str
    revision: str
    printed: str = ""
    page: str = ""
    before: int = 0
    told: Heard | None = None

    @property
    def is_sheet(self) -> bool:
        """True for a filled-in weigh-up."""
        return self.told is None


def look_at(data: bytes, source: str, formula: str, revision: str) -> HandedBake:
    """What is handed in: a sheet if it names itself so, or else a page. `formula` and `revision` are as typed.

    Raises PageFault, PageRefused, SeveralSheets, OtherBake.
    """
    text = decode(data, source)
    handed = _sheet(text, source, formula) if paper.is_paper(text) else _page(data, source)
    if formula and handed.formula and slug_of(formula) != handed.formula:
        raise OtherBake(source, formula, handed.formula, f"ovenleaf record {handed.formula} --from {source}")
    if handed.is_sheet and revision and revision not in (handed.revision, handed.revision.partition(".")[0]):
        again = f"ovenleaf record {handed.formula} --from {source}"
        raise OtherBake(source, revision, f"{handed.formula}, {handed.revision}", again)
    return handed


def _sheet(text: str, source: str, formula: str) -> HandedBake:
    found = [(before, page, printed_facts(page)) for before, page in paper.pages(text)]
    names = tuple(facts.get("formula", "") for _, _, facts in found)
    wanted = [one for one in found if not formula or one[2].get("formula", "") == slug_of(formula)] or found[:1]
    if len(wanted) > 1:
        raise SeveralSheets(source, names)
    before, page, facts = wanted[0]
    if facts.get("sheet") != _VERSION or not facts.get("formula") or not facts.get("revision"):
        raise CannotRecord(
            "sheet",
            f"the top of the sheet in {source} cannot be read.",
            "It is one line, as it was printed, such as:",
            "  sheet: 1   formula: market-roll   revision: r1.noor   printed: 2026-11-25",
        )
    return HandedBake(
        source=source,
        formula=facts["formula"],
        revision=facts["revision"],
        printed=facts.get("printed", ""),
        page=page,
        before=before,
    )


def _page(data: bytes, source: str) -> HandedBake:
    page = read(decode(data, source), path=source)
    if findings := [f for f in schema.faults("trial", page) if f.severity is not Severity.NOTE]:
        raise PageRefused("Not recorded", findings)
    said, trial = said_on_page(data, source)
    return HandedBake(source=source, formula=trial.formula, revision=trial.revision, told=Heard(said=said))


def heard(handed: HandedBake, sheet: Sheet, today: date, taster: str) -> Heard:
    """All that was handed in tells. Raises PageRefused with every line that has to be written again."""
    if handed.told is not None:
        return handed.told
    read_sheet = read_paper(handed.page, headings(sheet), handed.before)
    told = heard_from(read_sheet, sheet, today, taster)
    if told.doubts:
        lines = handed.page.split("\n")
        raise PageRefused(
            f"Not recorded: something in {handed.source} has to be written again.",
            [
                Finding(
                    code="doubt",
                    severity=Severity.ERROR,
                    path=handed.source,
                    line=doubt.line,
                    message=f"{doubt.about}: {doubt.what}.",
                    fix=f"{doubt.how[:1].upper()}{doubt.how[1:]}.",
                    text=lines[doubt.line - handed.before - 1],
                )
                for doubt in told.doubts
            ],
        )
    return told


def check_day(handed: HandedBake | None, bake_date: str, today: date) -> None:
    """Raise CannotRecord where a sheet that was not printed today does not say its day of baking."""
    if handed is None or not handed.is_sheet or bake_date or handed.printed == today.isoformat():
        return
    command = f"ovenleaf record {handed.formula} --from {handed.source} --baked-on"
    raise CannotRecord(
        "bake date",
        f"{handed.source} does not say on which day it was baked.",
        "Write it in the box bake date, or say it here.",
        next=(Next(f"{command} {handed.printed or today.isoformat()}", "the day it was printed"),),
    )


def no_formula(source: str) -> NoReturn:
    """Raise CannotRecord: neither the baker nor the file says of which formula it is."""
    raise CannotRecord(
        "formula",
        f"{source} does not say of which formula it is.",
        f"Name it in front, as in: ovenleaf record market-roll --from {source}",
        next=(Next("ovenleaf list", "the formulas of this book"),),
    )


def as_marked(root: Path, trial: Trial, handed: HandedBake | None, code: str, at: datetime) -> Trial:
    """The trial of a sheet under the code that was written on it, and with the time at which it was told.

    Raises InTheBook where it, or another trial of that code, is there already.
    """
    if handed is None or not handed.is_sheet:
        return trial
    trials, _ = read_trials(root)
    same = _known_as(trial, tuple(one for one in trials if one.formula == trial.formula))
    if same or any(one.code == code for one in trials):
        raise InTheBook(same or code, same=bool(same))
    return replace(trial, code=code or trial.code, entered=at.isoformat(timespec="seconds"))


def _known_as(told: Trial, trials: tuple[Trial, ...]) -> str:
    """The code of a trial that says just the same as `told`, of the same revision and day; "" if there is none."""
    same = (
        trial.code
        for trial in trials
        if (trial.revision, trial.bake_date, trial.batch) == (told.revision, told.bake_date, told.batch)
        and sorted(trial.weighed) == sorted(told.weighed)
        and [step.line.typed for step in trial.steps] == [step.line.typed for step in told.steps]
        and trial.measured == told.measured
    )
    return next(same, "") if told.weighed or told.steps or told.measured else ""
