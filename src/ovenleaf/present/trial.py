"""One trial as text: planned left, what happened right, and the marks."""

from __future__ import annotations

import shlex
from typing import TYPE_CHECKING

from ovenleaf.domain.figures import pct
from ovenleaf.domain.ingredients import Kind
from ovenleaf.domain.log import LogLine, log_line, log_lines
from ovenleaf.domain.numbers import plain, rounded
from ovenleaf.domain.trial import State
from ovenleaf.errors import Next
from ovenleaf.present.correcting import correction_lines
from ovenleaf.present.findings import findings_block
from ovenleaf.present.formula import revision_words
from ovenleaf.present.marks import marks_block
from ovenleaf.present.on_page import is_late, kept_from, missing_words, read_from, unconfirmed
from ovenleaf.present.screen import (
    blocks,
    clock,
    date_words,
    day_words,
    join_words,
    next_block,
    rows,
    short_date,
    wrap,
)
from ovenleaf.present.writing import ahead

if TYPE_CHECKING:
    from ovenleaf.compare.trial_view import TrialView
    from ovenleaf.domain.book import BookPage
    from ovenleaf.domain.sheet import Sheet
    from ovenleaf.domain.trial import Trial
    from ovenleaf.results import Finished, Recorded, Scored, ShownTrial

NOT_PLANNED = "not planned"


def recorded_screen(result: Recorded) -> str:
    """A trial was written down."""
    view = result.view
    trial = view.trial
    day = f"baked today, {day_words(trial.bake_date)}" if result.today else f"baked {date_words(trial.bake_date)}"
    first = f"Recorded: trial {trial.code}, {view.sheet.formula.label}, {revision_words(view.sheet)}, {day}."
    return blocks(
        ahead(result),
        "\n".join(filter(None, (wrap(first), wrap(_which(result)), *read_from(result), _beside(result)))),
        *bake_blocks(view, result.book),
        kept_from(result.paper),
        unconfirmed(view),
        missing_words(view),
        next_block((*whose_marks(result), _after_recording(result))),
    )


def _which(result: Recorded) -> str:
    """Which revision it was, where that is not a matter of course."""
    if result.keeper:
        return f"No revision was named, so the newest was taken. The keeper is {result.keeper}."
    if result.newest:
        return ""
    if result.paper is None:
        return "This is not the newest revision; it was named."
    return f"The sheet is of that revision, so that is what was baked. The newest is {result.newest_spoken}."


def _beside(result: Recorded) -> str:
    """A bake of the same formula that is in hand is another one than was written down, and still open."""
    if not result.in_hand:
        return ""
    many = len(result.in_hand) > 1
    held = f"{join_words(result.in_hand)} of this formula {'are' if many else 'is'} still in hand"
    return wrap(f"{held}, and was not touched. If this was it, say so: ovenleaf finish {result.in_hand[0]}.")


def scored_screen(result: Scored) -> str:
    """Marks were added."""
    trial = result.view.trial
    first = f"Scored: trial {trial.code}, {result.view.sheet.formula.label}, by {result.marks.taster}."
    put_right = join_words([field.rpartition(".")[2] for field in result.corrected])
    changed = f"Put right: {put_right}. The old mark stays visible in the trial." if put_right else ""
    return blocks(
        ahead(result),
        "\n".join(filter(None, (wrap(first), changed))),
        marks_block(trial, result.book),
        next_block((Next(f"ovenleaf rank {trial.formula}", "all its bakes"),)),
    )


def tasting_words(code: str, label: str, spoken: str, day: str, taster: str) -> str:
    """What is said ahead of the questions about a tasting."""
    return "\n".join(
        (
            wrap(f"Trial {code}, {label}, {spoken}, baked {date_words(day)}: the marks of {taster}."),
            "Enter alone leaves a thing unrecorded. You can also say back, or stop:",
            "whatever you have told so far is kept.\n",
        )
    )


def trial_screen(result: ShownTrial) -> str:
    """A trial, to look at."""
    view = result.view
    trial = view.trial
    state = "" if trial.state is State.DONE else f", {trial.state.value}"
    first = f"Trial {trial.code}, {view.sheet.formula.label}, {revision_words(view.sheet)}{_of_day(trial)}"
    return blocks(
        "\n".join(filter(None, (wrap(f"{first}, by {trial.baker}{state}."), _late(trial)))),
        wrap(f"Question: {trial.question}") if trial.question else "",
        _shared(trial),
        wrap(f"Left out of rankings: {trial.left_out}") if trial.left_out else "",
        *bake_blocks(view, result.book),
        _photos(trial),
        plan_block(trial),
        _log(trial),
        _corrections(trial),
        unconfirmed(view),
        missing_words(view),
        findings_block(result.findings),
        next_block((*whose_marks(result), Next(f"ovenleaf rank {trial.formula}", "all its bakes"))),
    )


def _of_day(trial: Trial) -> str:
    """The day of baking; before that, the day on which it was begun; nothing for a bake that is planned."""
    if trial.bake_date or not trial.day:
        return f", {date_words(trial.bake_date)}" if trial.bake_date else ""
    return f", begun {date_words(trial.day)}"


def _shared(trial: Trial) -> str:
    code = trial.shares_dough_with
    return wrap(f"One dough with {code}: what was done up to dividing is told there, and shown here.") if code else ""


def _late(trial: Trial) -> str:
    """The day of baking and the day it was told are kept apart."""
    return wrap(f"Told late, on {date_words(trial.entered)}.") if is_late(trial) else ""


def bake_blocks(view: TrialView, book: BookPage) -> tuple[str, ...]:
    """A bake beside its plan, what was measured of it, and its marks."""
    return (_plan_table(view), _begun(view.trial), _measured(view), marks_block(view.trial, book))


def _plan_table(view: TrialView) -> str:
    if not view.rows:
        return ""
    lines = [(row.name, row.before or NOT_PLANNED, row.after, row.words) for row in view.rows]
    return rows(lines, "<>><", heading=("", "planned", "as it was", ""))


def _begun(trial: Trial) -> str:
    """When each step was begun, by the kitchen clock, where that was told."""
    times = [(step.name, str(clock)) for step in trial.steps if (clock := step.line.get("clock"))]
    return f"Begun, by the clock\n{rows(times, '<<')}" if times else ""


def _measured(view: TrialView) -> str:
    shown = {row.name for row in view.rows}
    lines = [(name, text, "") for name, text in view.trial.measured if name not in shown]
    if view.trial.batch:
        lines.insert(0, ("batch", view.trial.batch, ""))
    if view.loss is not None:
        lines.append(("bake loss", pct(view.loss), f"of {view.loss_of or 'the dough weight'}"))
    return rows(lines, "<<<") if lines else ""


def _photos(trial: Trial) -> str:
    return f"Pictures, as files of the book\n{rows([(file,) for file in trial.photos], '<')}" if trial.photos else ""


def plan_block(trial: Trial) -> str:
    """What a bake was to change knowingly, or ""."""
    return f"Planned for this bake\n{rows(trial.plan, '<<')}" if trial.plan else ""


def _log(trial: Trial) -> str:
    if not trial.log:
        return ""
    read = log_lines(trial.log)
    lines = [(f"{short_date(line.at.isoformat())}, {clock(line.at)}", _log_words(line)) for line in read]
    lines += [("without a time", entry) for entry in trial.log if log_line(entry) is None]
    return f"Log\n{rows(lines, '<<')}"


def _log_words(line: LogLine) -> str:
    """The words as they were said, and in brackets what is to be known of them."""
    told = ""
    if line.told is not None:
        day = "" if line.told.date() == line.at.date() else f"{short_date(line.told.isoformat())}, "
        told = f"told {day}{clock(line.told)}"
    aside = ", ".join(filter(None, (told, f"by {line.by}" if line.by else "", "" if line.counted else "as words only")))
    return f"{line.words}{f' ({aside})' if aside else ''}"


def _corrections(trial: Trial) -> str:
    if not trial.corrections:
        return ""
    return f"Put right\n{correction_lines(trial.corrections, {})}"


def whose_marks(result: Recorded | ShownTrial | Finished) -> tuple[Next, ...]:
    """Whose marks are still wanted: the baker's own, or those of somebody else who tastes in this book."""
    trial = result.view.trial
    if not trial.scores:
        return (Next(f"ovenleaf score {trial.code}", "when it is tasted"),)
    if not result.taster:
        return ()
    return (Next(f"ovenleaf score {trial.code} --taster {result.taster}", f"what {result.taster} says"),)


def card_next(name: str) -> Next:
    """A bake that weighed takes the place of what a card left to guess."""
    return Next(f"ovenleaf show {name} --card", "the card, with what this bake weighed")


def _after_recording(result: Recorded) -> Next:
    """A first bake asks for a change to try, a second to be set beside the one before."""
    name = result.view.trial.formula
    if result.card:
        return card_next(name)
    if result.beside:
        return Next(f"ovenleaf diff {name}", "the last two revisions, and their bakes")
    return (_a_tweak(result.view.sheet) if result.first else None) or Next(f"ovenleaf rank {name}", "all its bakes")


def _a_tweak(sheet: Sheet) -> Next | None:
    """More water, as the change that is tried most; None where none is poured or the page goes bowl by bowl."""
    items = {line.item for line in sheet.formula.ingredients}
    kinds = dict(sheet.kinds)
    water = next((s for s in sheet.worked.whole if kinds[s.item] is Kind.WATER and s.item in items), None)
    if water is None:
        return None
    more = plain(rounded(water.pct, 1) + 2)
    change = shlex.quote(f"{water.item}={more}%")
    return Next(f'ovenleaf tweak {sheet.formula.name} {change} --why "a moister crumb"', "one change to try")
