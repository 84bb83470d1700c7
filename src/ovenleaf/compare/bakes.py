"""Bakes compared: what was planned with what was done, and two bakes with each other.

"Not recorded" is never "as planned" and never "the same".
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from ovenleaf.domain import benchline
from ovenleaf.domain.batch import flour_in_batch
from ovenleaf.domain.bench_plan import Kind, kind_of, plan_of
from ovenleaf.domain.bench_unplanned import DONE
from ovenleaf.domain.benchvalues import Field, Heat, Value, alike, gap, joined, show
from ovenleaf.domain.durations import Duration
from ovenleaf.domain.figures import pct, shown_pct
from ovenleaf.domain.formula import Step
from ovenleaf.domain.measures import grams
from ovenleaf.domain.numbers import CONTEXT, HUNDRED, ZERO, rounded, share_of
from ovenleaf.domain.quantity import Amount, AmountFault, Unit, amount, split_note
from ovenleaf.domain.scaling import FINAL

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Mapping
    from decimal import Decimal

    from ovenleaf.domain.ingredients import Pantry
    from ovenleaf.domain.percent import Share, Worked
    from ovenleaf.domain.sheet import Sheet
    from ovenleaf.domain.trial import Trial

DOUGH_TEMPERATURE = "dough temperature"
_IN_THE_OVEN = "time in the oven"
_CORE = "core temperature"
_WEIGHED = " weighed"


@dataclass(frozen=True, slots=True, kw_only=True)
class Condition:
    """One thing that was planned or done: its name on a screen, its value and the words for it."""

    name: str
    value: Value
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BakeRow:
    """One condition on two sides; "" is not recorded (or not planned). `words` tells the gap."""

    name: str
    before: str
    after: str
    words: str

    @property
    def differs(self) -> bool:
        """True only where both sides are known and are not the same."""
        return bool(self.before and self.after) and self.words != "same"


def planned(sheet: Sheet) -> tuple[Condition, ...]:
    """What the formula plans, condition by condition: shares, what stands ahead, the process."""
    worked = sheet.worked
    shares = [_share(share.item, share.pct) for share in worked.whole]
    inner = [_share(f"{line.item} in {name}", line.pct) for name, lines in _bowls(worked).items() for line in lines]
    ahead = (step for step in plan_of(sheet) if step.kind is Kind.AHEAD)
    rests = tuple(Step(name=step.name, line=step.line) for step in ahead if step.line.typed)
    return (*shares, *inner, *_steps(rests), *_steps(sheet.formula.process))


def done(trial: Trial, worked: Worked, pantry: Pantry) -> tuple[Condition, ...]:
    """What a trial records as done, condition by condition."""
    flour = flour_in_batch(trial.batch, worked) or _flour_weighed(trial, worked, pantry) or worked.flour_g
    return (
        *_in_all(trial, flour, worked, pantry),
        *weighed(trial, flour, pantry),
        *_steps(trial.steps),
        *(c for field, text in trial.measured for c in _measured(field, text)),
        *(worded(_IN_KITCHEN.get(field, field), text) for field, text in trial.kitchen),
        *(worded(f"{flour_name}, which", text) for flour_name, text in trial.flours),
    )


def weighed(trial: Trial, flour: Decimal | None, pantry: Pantry) -> tuple[Condition, ...]:
    """What was weighed, as shares of all the flour where the batch is known, otherwise as it stands."""
    found = []
    for name, text in trial.weighed:
        bowl, _, item = name.rpartition(":")
        label = f"{item} in {bowl}" if bowl else item
        weight = _weight(text, item, pantry)
        if weight is None or flour is None:
            found.append(Condition(name=f"{label}{_WEIGHED}", value=text, text=text))
        else:
            found.append(_share(label, share_of(weight, flour)))
    return tuple(found)


def _flour_weighed(trial: Trial, worked: Worked, pantry: Pantry) -> Decimal | None:
    """All the flour of a bake in g, where each flour of the formula was weighed in all and nothing else brings any."""
    told = dict(trial.weighed)
    total = ZERO
    for share in worked.whole:
        if not pantry.get(share.item).flour:
            continue
        weight = _weight(told.get(share.item, ""), share.item, pantry)
        if weight is None or pantry.get(share.item).flour != HUNDRED:
            return None
        total += weight
    return total or None


def _in_all(trial: Trial, flour: Decimal | None, worked: Worked, pantry: Pantry) -> tuple[Condition, ...]:
    """What an item came to in all, where each bowl that it goes into was weighed, or confirmed as planned."""
    if flour is None or any(part.kept for part in worked.parts):
        return ()
    told = dict(trial.weighed)
    found = []
    for share in worked.whole:
        shares = [
            (f"{name}:{line.item}" in told, _share_in(told.get(f"{name}:{line.item}", ""), line, flour, trial, pantry))
            for name, lines in _bowls(worked).items()
            for line in lines
            if line.item == share.item
        ]
        weighed_some = any(was_weighed for was_weighed, _ in shares)
        if len(shares) > 1 and weighed_some and share.item not in told and all(pct is not None for _, pct in shares):
            found.append(_share(share.item, sum((pct for _, pct in shares if pct is not None), ZERO)))
    return tuple(found)


def _share_in(text: str, line: Share, flour: Decimal, trial: Trial, pantry: Pantry) -> Decimal | None:
    """What of an item went into one bowl, in percent of all the flour; None where nothing says it."""
    if not text:
        return line.pct if trial.as_planned in ALL_PLANNED else None
    weight = _weight(text, line.item, pantry)
    return None if weight is None else share_of(weight, flour)


def _bowls(worked: Worked) -> dict[str, tuple[Share, ...]]:
    return {**{part.name: part.lines for part in worked.parts}, FINAL: worked.final}


def _weight(text: str, item: str, pantry: Pantry) -> Decimal | None:
    try:
        return grams(amount(split_note(text)[0], bare=Unit.G), pantry.get(item))
    except AmountFault:
        return None


def _share(name: str, share: Decimal) -> Condition:
    """A share as it is shown, so that the gap between two is that between the figures on the screen."""
    shown = shown_pct(share)
    tenth = rounded(shown, 1)
    return Condition(name=name, value=Amount(tenth if tenth == shown else shown, Unit.SHARE), text=pct(share))


def worded(name: str, text: str) -> Condition:
    """A condition whose text may hold a temperature, so that a gap can be told in degrees."""
    read = benchline.read(text)
    value: Value = read.fields[0].value if len(read.fields) == 1 and not read.words else text
    if isinstance(value, Heat) and len(value.temperatures) == 1:
        value = value.temperatures[0]  # a heat of one temperature is that temperature, wherever it was written
    return Condition(name=name, value=value, text=_shown(name, value, text))


def _shown(name: str, value: Value, text: str) -> str:
    return text if isinstance(value, str) else show(Field(name=name, value=value))


# How warm a thing was, and which oven it was, never share a row with how much of the thing, and how hot.
_IN_KITCHEN = {**{name: f"{name}, how warm" for name in ("flour", "water", "preferment")}, "oven": "oven, which"}
ALL_PLANNED = ("all the rest", "all of it")
_OUTCOMES = frozenset({"pieces", "dough weight", "baked weight", "cooled", "height", "width", "volume"})


def _measured(field: str, text: str) -> tuple[Condition, ...]:
    """What was measured, unless it is how the bread came out."""
    return () if field in _OUTCOMES else (worded(field, text),)


def _steps(steps: tuple[Step, ...]) -> tuple[Condition, ...]:
    found: dict[str, Condition] = {}
    for step in steps:
        for name in dict.fromkeys(field.name for field in step.line.fields):
            value = step.line.get(name)
            if value is None or name in ("clock", "ago", "until"):
                continue
            label = condition_name(step.name, name)
            made = Condition(name=label, value=value, text=show(Field(name=name, value=value)))
            again = _again(found[label], made) if label in found else made
            while again is None and (label := _next_name(label)):
                again = None if label in found else replace(made, name=label)
            assert again is not None
            found[label] = again
    return (*found.values(), *_only_done(steps, found))


def _only_done(steps: tuple[Step, ...], told: Collection[str]) -> Iterator[Condition]:
    """Steps that the page of the formula does not have, of which nothing is known but that they were done."""
    for name in dict.fromkeys(step.name for step in steps if step.line.typed == DONE):
        if name not in told:
            yield Condition(name=name, value=DONE, text=DONE)


def _again(old: Condition, new: Condition) -> Condition | None:
    """Two lines of one step as one row: a bake that was taken up again; None where each wants a row of its own."""
    if isinstance(old.value, Duration) and isinstance(new.value, Duration) and new.name == _IN_THE_OVEN:
        low, high = (CONTEXT.add(getattr(old.value, end), getattr(new.value, end)) for end in ("low", "high"))
        return replace(new, value=Duration(low=low, high=high), text=f"{old.text} and {new.text}")
    if alike(old.value, new.value) or new.name in (DOUGH_TEMPERATURE, _CORE):
        return new
    if new.name == "oven" and isinstance(old.value, Heat) and isinstance(new.value, Heat):
        course = joined(old.value, new.value)
        return replace(new, value=course, text=show(Field(name="oven", value=course)))
    return None


def _next_name(label: str) -> str:
    """The name of the next step of one name: `rest 2` after `rest`, `rest 2, temperature` after `rest, temperature`."""
    step, comma, field = label.partition(",")
    name, _, number_of = step.rpartition(" ")
    after = f"{name} {int(number_of) + 1}" if number_of.isdigit() and name else f"{step} 2"
    return f"{after}{comma}{field}"


def condition_name(step: str, field: str) -> str:
    """What a field of a step is called where bakes are compared.

    >>> condition_name("bake", "time"), condition_name("bulk", "time"), condition_name("bulk", "temperature")
    ('time in the oven', 'bulk', 'bulk, temperature')
    """
    if field == DOUGH_TEMPERATURE:  # that at the end of mixing, but in a step that waits
        return f"{step}, {field}" if kind_of(step) is Kind.WAIT else field
    if field == "core":
        return _CORE
    if field == "time":
        return _IN_THE_OVEN if step == "bake" else step
    if step == "bake" and field in ("temperature", "oven"):
        return "oven"
    return f"{step}, {field}"


def against_plan(plan: tuple[Condition, ...], actual: tuple[Condition, ...]) -> tuple[BakeRow, ...]:
    """What was recorded, beside what was planned; conditions that were not recorded have no row."""
    by_name = {condition.name: condition for condition in plan}
    return tuple(_row_of_plan(by_name, made) for made in actual)


def _row_of_plan(plan: Mapping[str, Condition], made: Condition) -> BakeRow:
    """What was weighed of an unknown batch stands beside its planned share, and cannot be told from it."""
    share = plan.get(made.name.removesuffix(_WEIGHED))
    if made.name.endswith(_WEIGHED) and share is not None:
        return BakeRow(name=made.name, before=share.text, after=made.text, words="of an unknown batch")
    return _row(plan.get(made.name), made)


def two_bakes(one: tuple[Condition, ...], other: tuple[Condition, ...]) -> tuple[BakeRow, ...]:
    """Two bakes, condition by condition; recorded on one side only is not different."""
    left = {condition.name: condition for condition in one}
    right = {condition.name: condition for condition in other}
    return tuple(_row(left.get(name), right.get(name)) for name in dict.fromkeys((*left, *right)))


def _row(before: Condition | None, after: Condition | None) -> BakeRow:
    present = after or before
    assert present is not None
    return BakeRow(
        name=present.name,
        before=before.text if before else "",
        after=after.text if after else "",
        words=_words(before, after),
    )


def _words(before: Condition | None, after: Condition | None) -> str:
    if before is None or after is None:
        return ""
    if alike(before.value, after.value):
        return "same"
    return gap(before.name, before.value, after.value)
