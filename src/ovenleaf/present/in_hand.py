"""What is in hand and what is due next, for whoever looks up from the bench."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from ovenleaf.errors import Next
from ovenleaf.present.bench_words import running, when
from ovenleaf.present.screen import rows, wrap
from ovenleaf.present.words import in_degrees

if TYPE_CHECKING:
    from ovenleaf.domain.bench_plan import PlanStep
    from ovenleaf.domain.held import Held
    from ovenleaf.domain.trial import Trial


def in_hand_block(held: tuple[Held, ...], now: str) -> str:
    """Each bake in hand: what runs since when, when to look at it, and what comes next; "" where none is."""
    if not held:
        return ""
    at = datetime.fromisoformat(now)
    return "\n".join(("In hand", *(_bake(one, at) for one in held)))


def planned_block(planned: tuple[Trial, ...]) -> str:
    """Each bake that is planned, with what it is to answer; "" where none is."""
    lines = [(trial.code, trial.formula, trial.question or "no question said") for trial in planned]
    return f"Planned\n{rows(lines, '<<<', as_named=True)}" if lines else ""


def _bake(one: Held, now: datetime) -> str:
    state = "; ".join(running(begun, now) for begun in one.running) or _waiting(one, now)
    label = f"{one.label[:1].lower()}{one.label[1:]}"
    head = wrap(f"{one.trial.code}, {label}, {one.spoken}: {state}", 2, hanging=2)
    coming = wrap(f"next: {planned_words(one.coming)}", 4, hanging=2) if one.coming else ""
    return "\n".join(filter(None, (head, coming)))


def _waiting(one: Held, now: datetime) -> str:
    if one.out is not None:
        return f"out of the oven since {when(one.out, now)}, to be weighed cold, tasted and finished"
    return f"begun {when(datetime.fromisoformat(one.trial.started), now)}" if one.trial.started else "begun"


def planned_words(step: PlanStep) -> str:
    """A step of the plan in a line: `first mix, 3 min, low`."""
    return ", ".join(filter(None, (step.said, in_degrees(step.line.typed))))


def next_in_hand(held: tuple[Held, ...]) -> tuple[Next, ...]:
    """What can be typed next: a line, or what closes a bake whose bread is out."""
    out = [one for one in held if one.out is not None and not one.running]
    closing = tuple(Next(f"ovenleaf finish {one.trial.code}", "close it; its marks may follow") for one in out)
    return (Next("ovenleaf jot", "the bench prompt, one line at a time"), *closing[:2])
