"""A bake that was closed: as it came out beside its plan, or why it was cut short or given up."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ovenleaf.domain.trial import State
from ovenleaf.errors import Next
from ovenleaf.present.formula import revision_words
from ovenleaf.present.on_page import missing_words, unconfirmed
from ovenleaf.present.screen import blocks, date_words, join_words, next_block, wrap
from ovenleaf.present.trial import bake_blocks, card_next, whose_marks
from ovenleaf.present.writing import ahead

if TYPE_CHECKING:
    from ovenleaf.domain.trial import Trial
    from ovenleaf.results import Finished

_CLOSED = {State.CUT_SHORT: "Cut short", State.GIVEN_UP: "Given up"}


def finished_screen(result: Finished) -> str:
    """A bake was closed."""
    view = result.view
    trial = view.trial
    label = f"trial {trial.code}, {view.sheet.formula.label}, {revision_words(view.sheet)}"
    if trial.state in _CLOSED:
        head = f"{_CLOSED[trial.state]}: {label}, {date_words(trial.bake_date)}."
    else:
        head = f"Finished: {label}, baked {date_words(trial.bake_date)}."
    held = f"Still in hand: {join_words(result.others)}." if result.others else ""
    return blocks(
        ahead(result),
        "\n".join(filter(None, (wrap(head), _kept_out(trial), held))),
        *bake_blocks(view, result.book),
        unconfirmed(view),
        "" if trial.state in _CLOSED else missing_words(view),
        next_block(_after_closing(result)),
    )


def _kept_out(trial: Trial) -> str:
    if not trial.left_out:
        return ""
    if trial.state is State.DONE:
        return wrap(f"Left out of rankings: {trial.left_out}.")
    return wrap(f"Because: {trial.left_out}. It is kept, and is left out of rankings, which say so.")


def _after_closing(result: Finished) -> tuple[Next, ...]:
    trial = result.view.trial
    if trial.state in _CLOSED:
        return (
            Next(f"ovenleaf jot --trial {trial.code} in the oven", "to go on with it"),
            Next(f"ovenleaf finish {trial.code}", "to finish it as it came out"),
        )
    after = card_next(trial.formula) if result.card else Next(f"ovenleaf rank {trial.formula}", "all its bakes")
    return (*whose_marks(result), after)
