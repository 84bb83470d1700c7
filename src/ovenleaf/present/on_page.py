"""How whole a bake's page is, as text: what it was read from, when it was told, and what it lacks."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.present.screen import day_words, join_words, rows, wrap

if TYPE_CHECKING:
    from ovenleaf.compare.trial_view import TrialView
    from ovenleaf.domain.trial import Trial
    from ovenleaf.results import OnPaper, Recorded


def read_from(result: Recorded) -> tuple[str, ...]:
    """The sheet it was read from: what was seen and when it was told are kept apart."""
    if result.paper is None:
        return ()
    printed = f", printed on {day_words(result.paper.printed)}" if result.paper.printed else ""
    entered = result.view.trial.entered
    told = f" Told late, on {day_words(entered)} at {entered[11:16]}; the times are those of the sheet."
    late = told if is_late(result.view.trial) else ""
    return (wrap(f"Read from the sheet {result.paper.source}{printed}.{late}"),)


def kept_from(paper: OnPaper | None) -> str:
    """What of a sheet could not be read, and what no place was found for."""
    if paper is None:
        return ""
    unread = f"Could not be read, so not recorded: {join_words(paper.unread)}." if paper.unread else ""
    kept = rows([(f"line {line}", words) for line, words in paper.kept], "<<")
    return "\n".join(filter(None, (wrap(unread), f"Kept word for word, as no box holds it\n{kept}" if kept else "")))


def is_late(trial: Trial) -> bool:
    """True for a bake that was told on another day than that of baking."""
    return bool(trial.entered) and not trial.entered.startswith(trial.bake_date)


def unconfirmed(view: TrialView) -> str:
    """What of the weights was confirmed, or that none was."""
    trial = view.trial
    if trial.weighed or trial.as_planned or trial.shares_dough_with:
        return wrap(f"As planned, confirmed: {trial.as_planned}.") if trial.as_planned else ""
    return wrap("No weights were given, so all amounts stand as planned, not confirmed.")


def missing_words(view: TrialView) -> str:
    """Whether the bake could be repeated from its page and compared with others, and what is missing for that."""
    besides = [gap.words for gap in view.gaps if gap.compare and not gap.repeat]
    if not view.gaps:
        return "This bake can be repeated from its page, and compared with others."
    repeat = "This bake can be repeated from its page."
    if view.missing:
        repeat = f"To bake this again from its page you would also want: {join_words(view.missing)}."
    compare = "It can be compared with others as it is."
    if besides:
        start = "And to compare it with others" if view.missing else "To compare it with others you would want"
        compare = f"{start}: {join_words(besides)}."
    elif view.missing_to_compare:
        compare = "With that it can be compared with others too."
    return "\n".join((wrap(repeat), wrap(compare)))
