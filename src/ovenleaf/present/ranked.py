"""What the screens of both rankings, by trial and by revision, have in common."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.errors import Next
from ovenleaf.present.marks import weights_words
from ovenleaf.present.screen import count, join_words, short_date, some_words, wrap

if TYPE_CHECKING:
    from collections.abc import Iterable

    from ovenleaf.domain.trial import Trial
    from ovenleaf.results import RankedTrials

MANY = 12  # from so many on, trials that one reason leaves out stand in one line
_TOGETHER = 4  # from so many on, trials that another scale leaves out stand in one line


def what_words(result: RankedTrials) -> str:
    """The formulas, as a sentence begins with them."""
    names = [name.replace("-", " ") for name in result.formulas]
    return join_words(names).capitalize() if names else "All formulas"


def aim(result: RankedTrials) -> str:
    """How the score is put together, and what the highest mark means."""
    top = f"; {result.book.scale.high} is {result.book.top}" if result.book.top and _own_scale(result) else ""
    return f"Score is {weights_words(result.weights)}{top}."


def _own_scale(result: RankedTrials) -> bool:
    return result.scale == result.book.scale


def scale_words(result: RankedTrials) -> str:
    """Which scale the marks are on, where that is not a matter of course."""
    if result.converted:
        return f"Marks of other scales are moved to {result.scale} in proportion, as you asked."
    return "" if _own_scale(result) else f"Only what was scored from {result.scale} counts here."


def tasters_line(result: RankedTrials) -> str:
    """Who tasted."""
    names = sorted({name for row in result.ranking.rows for name in row.outcome.tasters})
    if len(names) < 2:
        return f"One taster, {names[0]}." if names else ""
    return f"{count(len(names), 'taster').capitalize()}, {join_words(names)}, averaged within each trial."


def trial_words(result: RankedTrials, trial: Trial) -> str:
    """A trial in a row: its code, its day, its revision."""
    what = f"{trial.formula}, " if len(result.formulas) != 1 else ""
    return f"{trial.code}, {short_date(trial.day)}, {what}{spoken(result, trial.formula, trial.revision)}"


def spoken(result: RankedTrials, formula: str, revision: str) -> str:
    """A revision as this screen says it."""
    return dict(result.spoken).get((formula, revision), revision)


def left_out(result: RankedTrials) -> str:
    """The trials that could not be ranked, each with its reason; many on one other scale in one line."""
    if not result.ranking.left_out:
        return ""
    elsewhere = _elsewhere(result)
    grouped = {why: trials for why, trials in elsewhere.items() if len(trials) >= _TOGETHER}
    grouped |= together(result.ranking.left_out, MANY)
    lines = [
        wrap(f"{trial_words(result, trial)}: {why}", 2, hanging=2)
        for trial, why in result.ranking.left_out
        if why not in grouped
    ]
    return "\n".join(("Left out", *lines, *map(together_words, grouped.items())))


def together(left: Iterable[tuple[Trial, str]], least: int) -> dict[str, list[Trial]]:
    """The reasons that `least` trials or more share, each with those trials."""
    found: dict[str, list[Trial]] = {}
    for trial, why in left:
        found.setdefault(why, []).append(trial)
    return {why: trials for why, trials in found.items() if len(trials) >= least}


def together_words(of: tuple[str, list[Trial]]) -> str:
    """Trials that are left out for one reason, in one line."""
    why, trials = of
    return wrap(f"{count(len(trials), 'trial')}: {why}: {some_words([trial.code for trial in trials])}", 2, hanging=2)


def _elsewhere(result: RankedTrials) -> dict[str, list[Trial]]:
    """Trials left out for their scale, by the reason in words."""
    found: dict[str, list[Trial]] = {}
    for trial, why in result.ranking.left_out:
        if trial.scale is not None and trial.scale != result.scale and str(trial.scale) in why:
            found.setdefault(why, []).append(trial)
    return found


def of_other_scales(result: RankedTrials) -> tuple[Next, ...]:
    """How to rank what was scored on another scale: by itself, or converted."""
    scales = [trial.scale for trials in _elsewhere(result).values() for trial in trials]
    if not scales:
        return ()
    command = " ".join(
        ("ovenleaf rank", *result.formulas, *(("--by revision",) if result.revisions is not None else ()))
    )
    return (
        Next(f'{command} --scale "{scales[-1]}"', f"those scored from {scales[-1]}"),
        Next(f"{command} --convert", "all on one scale, in proportion"),
    )
