"""Steps that bakers do though the page has none of that name: a pre-shape, a bench rest, an autolyse.

Knows what they are called and where they stand among the steps of a plan; knows no log and no clock.
"""

from __future__ import annotations

import re
from functools import cache

from ovenleaf.domain import benchline
from ovenleaf.domain.bench_plan import Kind, PlanStep, following

DONE = "done"  # how the page says that such a step was done, where nothing more was told of it

# What bakers say for each, where the page has no step with one of the words in its name.
_SAID = (
    ("autolyse", Kind.WAIT, r"autolysed?|autolyse rest", ("autolyse",)),
    ("divide", Kind.HAND, r"divided?|dividing", ("divide", "scale", "split")),
    ("pre-shape", Kind.HAND, r"pre ?shap(?:ed?|ing)", ("preshape", "round")),
    ("rest", Kind.WAIT, r"(?:bench )?rest(?:ed|ing)?", ("rest",)),
    ("shape", Kind.HAND, r"shap(?:ed?|ing)|moulded|molded|panned", ("shape", "mould", "mold", "pan")),
)
OF_THE_DOUGH = ("autolyse",)  # those of them that come before the dough is divided
_SHAPING = ("shape", "mould", "mold")


def unplanned(low: str, plan: tuple[PlanStep, ...]) -> tuple[PlanStep, str] | None:
    """The step that words in small letters begin with, and the rest of them; None where they are of none such."""
    for name, kind, pattern, words in _SAID:
        found = _compiled(rf"(?:{pattern})(?: (?P<rest>.+))?").fullmatch(low)
        planned = any(_is_called(step, words) for step in plan if step.kind is not Kind.AHEAD)
        if found is not None and not planned:
            return _step(name, kind), found["rest"] or ("done" if name == "rest" and "rested" in low else "")
    return None


@cache
def _compiled(pattern: str) -> re.Pattern[str]:
    return re.compile(pattern)


@cache
def _step(name: str, kind: Kind) -> PlanStep:
    return PlanStep(name=name, said=name, kind=kind, line=benchline.read(""), planned=False)


def _is_called(step: PlanStep, words: tuple[str, ...]) -> bool:
    name = step.name.lower().replace("-", "").replace(" ", "")
    shape_only = words == _SAID[-1][3] and name.startswith("pre")
    return not shape_only and any(word in name for word in words)


def goes_beside(step: PlanStep) -> bool:
    """True for a wait that no page planned: it ends nothing, and whatever comes next ends it."""
    return not step.planned and step.kind is Kind.WAIT


def place(plan: tuple[PlanStep, ...], step: PlanStep) -> int:
    """Where a step stands: those of the plan ten apart, work of the hand that is not in it between two of them."""
    if step.planned:
        return 10 * plan.index(step) + 9
    if goes_beside(step):
        return -1
    order = next(order for order, (name, *_) in enumerate(_SAID) if name == step.name)
    return 10 * plan.index(coming) + order if (coming := _anchor(plan, step)) else 10 * len(plan) + order


def _anchor(plan: tuple[PlanStep, ...], step: PlanStep) -> PlanStep | None:
    """The step of the plan that work of the hand stands right before: the shaping, the proof or the bake."""
    mixed = max((n for n, one in enumerate(plan) if one.kind in (Kind.MIX, Kind.AHEAD)), default=-1)
    waits = [n for n, one in enumerate(plan) if n > mixed and one.kind is Kind.WAIT]
    later = plan[waits[0] + 1 if waits else mixed + 1 :]
    shapes = [one for one in later if any(word in one.name.lower() for word in _SHAPING)]
    return next((one for one in later if _is_waited_for(one) or (step.name != "shape" and one in shapes)), None)


def _is_waited_for(step: PlanStep) -> bool:
    return step.kind is Kind.BAKE or (step.kind is Kind.WAIT and "rest" not in step.name.lower())


def comes_before(plan: tuple[PlanStep, ...], one: PlanStep, other: PlanStep) -> bool:
    """True if `one` stands before `other`."""
    return place(plan, one) < place(plan, other)


def next_to(plan: tuple[PlanStep, ...], one: PlanStep, other: PlanStep) -> bool:
    """True if the plan has no step between `one` and the later `other`."""
    between = range(place(plan, one) + 1, place(plan, other))
    return not any(place(plan, step) in between for step in plan)


def then(plan: tuple[PlanStep, ...], step: PlanStep) -> PlanStep | None:
    """The step that begins by itself when this one ends, if that is one to wait for."""
    if step.planned:
        return following(plan, step)
    return _anchor(plan, step) if step.name == "shape" else None
