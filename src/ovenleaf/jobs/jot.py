"""Note a line at the bench: it goes into the trial's log, and what is understood of it becomes fields."""

from __future__ import annotations

import re
import shlex
import textwrap
from dataclasses import replace
from typing import TYPE_CHECKING

from ovenleaf.book import layout
from ovenleaf.book.entries import page_changes
from ovenleaf.book.steps.bakes import mixed_for, page_of, read_trials
from ovenleaf.book.steps.benching import CODE, addressed, bench_of, in_hand, page_with, trial_meant
from ovenleaf.book.steps.hand_edits import refuse_edited
from ovenleaf.book.steps.opening import open_book, open_pantry, settle_baker
from ovenleaf.book.steps.signing import Stamp, put
from ovenleaf.book.steps.taking_back import line_taken_back
from ovenleaf.book.steps.undoing import last_to_undo
from ovenleaf.book.write_faults import Changed
from ovenleaf.domain.hearing import hear
from ovenleaf.domain.log import LogLine, log_line
from ovenleaf.domain.trial_facts import undone
from ovenleaf.errors import Next, Refusal
from ovenleaf.records.codec.trial_edits import with_line
from ovenleaf.records.codec.trials import read_trial
from ovenleaf.records.page_bytes import decode
from ovenleaf.records.yaml_text import read
from ovenleaf.results import Jotted, TakenBack

if TYPE_CHECKING:
    from datetime import datetime
    from pathlib import Path

    from ovenleaf.domain.trial import Trial

__all__ = ["CutOff", "Jotted", "NothingJotted", "addressed_at", "at_the_bench", "is_cut_off", "jot", "take_back"]

_TRIES = 3
_SUBJECT = 60
_CUT = "-"
_SAFE = re.compile(r"[\w\s.,:+%°/-]+")  # what every shell leaves alone


class NothingJotted(Refusal):
    """No words at all."""

    def __init__(self) -> None:
        super().__init__("Not noted: there are no words.", next=(Next("ovenleaf jot mixed, dough 25C"),))


class CutOff(Refusal):
    """The line ends in a lone dash: the shell may have taken the rest. It is kept as words. Facts: `code`, `typed`."""

    def __init__(self, code: str, typed: str) -> None:
        super().__init__(
            f"Kept as words only, with trial {code}: {typed}",
            detail=(
                "The line ends in a dash, so your shell may have taken the rest, as it does after > and |. Say the line"
                " again in quotes, or at the bench prompt, where the shell takes nothing.",
            ),
            next=(Next("ovenleaf jot", "the bench prompt"), Next(f'ovenleaf jot "{typed.rstrip(" -")} ..."')),
        )
        self.code = code
        self.typed = typed


def is_cut_off(text: str) -> bool:
    """True for a line that ends in a lone dash."""
    return text.split()[-1:] == [_CUT]


def jot(
    given: Path | None,
    start: Path,
    text: str,
    *,
    trial: str = "",
    baker: str,
    at: datetime,
    whole: bool = False,
    preview: bool = False,
) -> Jotted:
    """Add a line to a trial: to the one that is named, or that the line names, or the newest in hand.

    `whole` says that a line which ends in a dash is meant so. Raises NothingJotted, CutOff and the refusals of
    its steps.
    """
    if not text.strip():
        raise NothingJotted
    for _ in range(_TRIES - 1):
        try:
            return _jot(given, start, text, trial, baker, at, whole, preview)
        except Changed:
            continue  # another line came in between; this one is heard again after it
    return _jot(given, start, text, trial, baker, at, whole, preview)


def _jot(
    given: Path | None, start: Path, text: str, typed: str, baker: str, at: datetime, whole: bool, preview: bool
) -> Jotted:
    book = open_book(given, start)
    who = settle_baker(book.root, baker)
    trials, _ = read_trials(book.root)
    named, words = ("", text) if typed else addressed(text, trials)
    again = f"ovenleaf jot --trial {CODE} {text if _SAFE.fullmatch(text) else shlex.quote(text)}"
    trial = trial_meant(book.root, typed or named, who, trials, "Not noted", again)
    bench = bench_of(book, trial, open_pantry(book.root), who, mixed_for(trial, trials))
    page = page_of(trial.name)
    refuse_edited(book.root, page, "Not noted", f"ovenleaf jot --trial {trial.code} {shlex.quote(words)}")
    before = layout.read_page(book.root, page)
    now = read(decode(before, page), path=page)
    cut_off = is_cut_off(words) and not whole
    heard = () if cut_off else hear(bench, words, at)
    for one in heard:
        now = page_with(now, one)
    if cut_off:
        now = with_line(now, ("log",), str(LogLine(at=at, words=words, by=_by(trial, who), counted=False)))
    stamp = Stamp(by=who, at=at, verb="jot", preview=preview)
    ahead = put(book.root, {page: now.text}, stamp, _subject(trial, who, words), expect={page: before})
    if cut_off:
        raise CutOff(trial.code, words)
    return Jotted(
        trial=read_trial(now),
        label=bench.sheet.formula.label,
        heard=heard,
        words=words,
        resumed=any(one.resumed for one in heard),
        others=tuple(one.code for one in in_hand(trials) if one.code != trial.code),
        named=bool(typed or named),
        before=before,
        ahead=ahead,
    )


def _by(trial: Trial, who: str) -> str:
    return "" if trial.baker == who else who


def _subject(trial: Trial, who: str, words: str) -> str:
    short = textwrap.shorten(words, _SUBJECT, placeholder=" ...")
    return f"{trial.formula} {trial.code} ({who}): {short}"


class NotTheLast(Refusal):
    """The line is not the last thing written on its page any more. Fact: `code`."""

    def __init__(self, code: str) -> None:
        super().__init__(f"Not taken back: trial {code} was written to since.", next=(Next(f"ovenleaf show {code}"),))
        self.code = code


def take_back(given: Path | None, start: Path, jotted: Jotted, *, baker: str, at: datetime) -> TakenBack:
    """Take a line back that was just added. Raises NotTheLast where its page was written to since."""
    book = open_book(given, start)
    who = settle_baker(book.root, baker)
    page = page_of(jotted.trial.name)
    data = layout.read_page(book.root, page)
    now = read(decode(data, page), path=page)
    before = read(decode(jotted.before, page), path=page)
    if replace(read_trial(now), log=(), corrections=()) != replace(jotted.trial, log=(), corrections=()):
        raise NotTheLast(jotted.trial.code)
    stamp = Stamp(by=who, at=at, verb="jot")
    going = undone(read_trial(before), read_trial(now), by=who, at=stamp.saved, why="taken back at the bench")
    text = line_taken_back(before, now, _logged(jotted), going, by=who, at=at).text
    subject = _subject(jotted.trial, who, f"taken back: {jotted.words}")
    ahead = put(book.root, {page: text}, stamp, subject, expect={page: data}, undoes=_entry_of(book.root, page, who))
    return TakenBack(code=jotted.trial.code, words=jotted.words, ahead=ahead)


def _entry_of(root: Path, page: str, who: str) -> str:
    """The entry that put the line there, so that `undo` goes on from before it; "" where another came in between."""
    try:
        last = last_to_undo(root, who)
    except Refusal:
        return ""
    return last.id if last.verb == "jot" and page in [one.path for one in page_changes(root, last.id)] else ""


def _logged(jotted: Jotted) -> tuple[str, ...]:
    """The words of the line as the log has them."""
    read_lines = (log_line(text) for heard in jotted.heard for text in heard.said.log)
    return tuple(line.words for line in read_lines if line is not None)


def at_the_bench(given: Path | None, start: Path, typed: str, *, baker: str) -> tuple[str, str, tuple[str, ...]]:
    """Which bake the bench prompt speaks of: its code, its formula's label, the codes of the others in hand."""
    book = open_book(given, start)
    who = settle_baker(book.root, baker)
    trials, _ = read_trials(book.root)
    trial = trial_meant(
        book.root, typed, who, trials, "The bench prompt was not opened", f"ovenleaf jot --trial {CODE}"
    )
    label = bench_of(book, trial, open_pantry(book.root), who).sheet.formula.label
    return trial.code, label, tuple(one.code for one in in_hand(trials) if one.code != trial.code)


def addressed_at(given: Path | None, start: Path, line: str) -> tuple[str, str]:
    """The code that a line at the prompt names, and the rest of the line; a code alone has no rest."""
    trials, _ = read_trials(open_book(given, start).root)
    alone = line.strip().rstrip(":").upper()
    if any(trial.code == alone for trial in trials):
        return alone, ""
    return addressed(line, trials)
