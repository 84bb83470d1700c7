"""Words at the bench that say a step begins, ends or is done: `mixed`, `bulk end`, `in the oven`, `fold`.

Knows the plan's names and what bakers say for them; knows no clock and no figures.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from typing import TYPE_CHECKING

from ovenleaf.domain.bench_plan import Kind, PlanStep
from ovenleaf.domain.bench_unplanned import unplanned

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator


class Says(StrEnum):
    """What a clause says of a step. NAMED is its name alone: what that means depends on what runs."""

    BEGINS = "begins"
    ENDS = "ends"
    NAMED = "named"
    FOLD = "fold"


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """What was said of which step; `step` is None for a fold, which is of whatever runs. `folds` are how many."""

    says: Says
    step: PlanStep | None
    folds: int = 0


_BEGIN = r"(?:(?:is |has |was )?(?:start(?:s|ed|ing)?|beg(?:an|un|ins?|inning)|going|on|running|in|now))"
_END = (
    r"(?:(?:is |has |was )?(?:end(?:s|ed|ing)?|done|over|finish(?:ed)?|stop(?:s|ped)?|completed?|up|through|off|out"
    r"|used|ripe|ready))"
)
# The same in front: `start mixing`, `end of bulk`.
_FIRST = r"(?:start(?:s|ed|ing)?|beg(?:an|un|ins?|inning)|end(?:s|ed|ing)?|finish(?:ed)?|stop(?:s|ped)?)"
_MADE = r"(?:mixed|made|fed|built|set|stirred|refreshed|soaked|started|begun)"
_LEAD = r"(?:(?:and|now|then|just|the|all|dough|is|was|it'?s|so|back) )*"
_TAIL = r"(?: (?:now|just now|again|at last|all|it|them|dough|the dough))?"
# What goes into an oven and comes out of it.
_BREAD = r"(?:bread|breads|loaf|loaves|rolls|buns|batch|tins?|trays?|first one|they)(?: is| are|'s)?"
_COUNTS = {"a": 1, "one": 1, "two": 2, "three": 3, "four": 4, "once": 1, "twice": 2}

_SAYINGS: tuple[tuple[str, Says, Callable[[PlanStep], bool]], ...] = (
    (r"(?:mixed|kneaded)(?: up| in)?", Says.ENDS, lambda step: step.kind is Kind.MIX),
    (r"(?:(?:in|into) the mixer|mixing|kneading)", Says.BEGINS, lambda step: step.kind is Kind.MIX),
    (rf"(?:(?:{_BREAD} )?(?:in|into) (?:the )?oven|{_BREAD} (?:gone |went )?in|loaded|oven in|baking)", Says.BEGINS,
     lambda step: step.kind is Kind.BAKE),
    (rf"(?:(?:{_BREAD} )?(?:came )?out(?: of)?(?: the)?(?: oven)?|baked(?: off| through)?|unloaded)", Says.ENDS,
     lambda step: step.kind is Kind.BAKE),
    (r"(?:in|into) (?:the )?(?:fridge|cold|cooler|retarder|cold room)", Says.BEGINS, lambda step: step.is_cold),
    (r"(?:out of|from) (?:the )?(?:fridge|cold|cooler|retarder|cold room)", Says.ENDS, lambda step: step.is_cold),
)  # fmt: skip
_BY_HAND = (
    ("preshape", r"pre-?\s?shap(?:ed?|ing)|rounded"),
    ("divide", r"divided?|dividing|scaled|cut"),
    ("shape", r"shap(?:ed?|ing)|moulded|molded|panned"),
    ("score", r"scored|slashed"),
)
# What bakers say for a step whose own name is longer.
_ALSO = (
    (r"bulk(?: ferment(?:ation)?)?|(?:first )?ferment(?:ation)?|first rise", ("bulk", "ferment")),
    (r"final proof|proof(?:ing)?|proving|prove|second rise", ("proof", "prove")),
    (r"autolyse|rest(?:ing)?", ("autolyse", "rest")),
    (r"mix(?:ing)?|knead(?:ing)?", ("mix", "knead")),
    (r"bake|baking", ("bake",)),
    (r"fridge|cold|retard(?:ing)?", ("cold", "fridge", "retard")),
)
_FOLD = r"(?:(?P<count>\d|a|one|two|three|four) )?(?:\d(?:st|nd|rd|th) |first |second |third |fourth |last )?" \
    r"(?:coil |stretch(?:ed)? (?:and|&) |letter )?(?:fold(?:s|ed)?|s ?& ?f)" \
    r"(?: (?P<times>\d|once|twice)| (?:no\.?|nr\.?|number|#) ?\d)?"  # fmt: skip


def event(words: str, plan: tuple[PlanStep, ...]) -> tuple[Event, str] | None:
    """What the words of one clause say of a step, and the words that are left; None where they say nothing of one.

    Words that tell more than a name and a verb are left alone: `bulk looks slow` is a remark.
    """
    low = " ".join(words.lower().replace("-", " ").strip(" .!:").split())
    for read in (_of_folds, _of_made, _of_sayings, _of_hands, _of_names, _of_unplanned):
        found = next(read(low, plan), None)
        if found is not None:
            return found
    return None


@cache
def _compiled(pattern: str) -> re.Pattern[str]:
    return re.compile(pattern)


def _said(pattern: str, low: str) -> re.Match[str] | None:
    """All the words are the pattern, but for small words before and behind it."""
    return _compiled(rf"{_LEAD}(?:{pattern}){_TAIL}").fullmatch(low)


def _of_folds(low: str, plan: tuple[PlanStep, ...]) -> Iterator[tuple[Event, str]]:
    found = _said(_FOLD, low)
    if found:
        said = found["count"] or found["times"] or "1"
        yield Event(says=Says.FOLD, step=None, folds=_COUNTS.get(said) or int(said)), ""


def _of_made(low: str, plan: tuple[PlanStep, ...]) -> Iterator[tuple[Event, str]]:
    """`poolish mixed`, `fed the levain`: what stands ahead begins to stand when it is made."""
    ahead = [step for step in plan if step.kind is Kind.AHEAD]
    for step in ahead:
        for name in _called(step, ahead):
            if _said(rf"{name} {_MADE}|{_MADE} (?:the )?{name}|{name} (?:is )?{_BEGIN}", low):
                yield Event(says=Says.BEGINS, step=step), ""


def _called(step: PlanStep, ahead: list[PlanStep]) -> Iterator[str]:
    """What stands ahead by its name, by the last word of it where no other has it, or by what bakers call them all."""
    name = step.said.lower().replace("-", " ")
    yield re.escape(name)
    last = name.split()[-1]
    if sum(other.said.lower().split()[-1] == last for other in ahead) == 1:
        yield re.escape(last)
    if len(ahead) == 1:
        yield "(?:preferment|levain|leaven|starter|sour|culture|sponge)"


def _of_sayings(low: str, plan: tuple[PlanStep, ...]) -> Iterator[tuple[Event, str]]:
    for pattern, says, fits in _SAYINGS:
        if _said(pattern, low):
            steps = [step for step in plan if step.kind is not Kind.AHEAD and fits(step)]
            # mixing is over with the last mix; anything else begins with the first step that fits
            if steps:
                yield Event(says=says, step=steps[-1] if "knead" in pattern and says is Says.ENDS else steps[0]), ""


def _of_hands(low: str, plan: tuple[PlanStep, ...]) -> Iterator[tuple[Event, str]]:
    """`shaped`, `divided`: done and over, where the page has such a step."""
    for name, pattern in _BY_HAND:
        if _said(pattern, low):
            known = [step for step in plan if step.kind is Kind.HAND and _stem(step.name).startswith(name)]
            if known:
                yield Event(says=Says.ENDS, step=known[0]), ""


def _stem(name: str) -> str:
    return name.lower().replace("-", "").replace(" ", "")


def _of_names(low: str, plan: tuple[PlanStep, ...]) -> Iterator[tuple[Event, str]]:
    """A step's own name, or what bakers say for it, with or without a verb behind it."""
    for name, step, last in _names(plan):
        verb = rf"(?:(?P<verb>{_FIRST}) (?:of |with )?(?:the )?)?"
        found = _compiled(rf"{_LEAD}{verb}{name}(?: (?P<rest>.+))?").fullmatch(low)
        if found is None or (found["verb"] and found["rest"]):
            continue
        rest = found["verb"] or found["rest"] or ""
        if not rest:
            yield Event(says=Says.NAMED, step=step), ""
        elif _compiled(_END).fullmatch(rest):
            yield Event(says=Says.ENDS, step=last), ""
        elif _compiled(_BEGIN).fullmatch(rest):
            yield Event(says=Says.BEGINS, step=step), ""


def _of_unplanned(low: str, plan: tuple[PlanStep, ...]) -> Iterator[tuple[Event, str]]:
    """A step that the page does not have, where bakers often do one: `pre-shaped`, `bench rest`, `autolyse`."""
    found = unplanned(_compiled(rf"{_LEAD}(?P<said>.*?){_TAIL}").fullmatch(low)["said"], plan)  # type: ignore[index]
    if found is None:
        return
    step, rest = found
    if not rest:
        yield Event(says=Says.NAMED, step=step), ""
    elif _compiled(_END).fullmatch(rest):
        yield Event(says=Says.ENDS, step=step), ""
    elif _compiled(_BEGIN).fullmatch(rest):
        yield Event(says=Says.BEGINS, step=step), ""


def _names(plan: tuple[PlanStep, ...]) -> Iterator[tuple[str, PlanStep, PlanStep]]:
    """Each name with the step that begins under it, and the one that ends under it: all mixing ends with the last."""
    ahead = [step for step in plan if step.kind is Kind.AHEAD]
    for step in sorted(plan, key=lambda step: -len(step.said)):
        called = _called(step, ahead) if step in ahead else (re.escape(step.said.lower().replace("-", " ")),)
        for name in called:
            yield name, step, step
    for pattern, words in _ALSO:
        fits = [s for s in plan if s.kind is not Kind.AHEAD and any(word in s.name.lower() for word in words)]
        if fits:
            first = fits[-1] if "proof" in words else fits[0]
            yield f"(?:{pattern})", first, fits[-1] if "mix" in words else first
