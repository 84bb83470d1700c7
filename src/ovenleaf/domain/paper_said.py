"""A filled-in sheet set against its formula: what a baker tells by it, and what is left over.

A ticked line without a weight says that the planned weight went in. A time in a step's blank is when the step was
begun; how long it took is worked out only where the next step's time is there too, and says up to what.
"""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain import benchline
from ovenleaf.domain.durations import Duration
from ovenleaf.domain.paper import heading
from ovenleaf.domain.paper_boxes import Doubt, Heard, Reader, heard_together, is_blank, is_unread, weight_in
from ovenleaf.domain.said import Said
from ovenleaf.domain.scaling import FINAL
from ovenleaf.domain.trial import CHANGED

if TYPE_CHECKING:
    from datetime import date

    from ovenleaf.domain.formula import Step
    from ovenleaf.domain.paper import Did, Paper, WentIn
    from ovenleaf.domain.percent import Worked
    from ovenleaf.domain.said import Pairs
    from ovenleaf.domain.sheet import Sheet

_DAY = 24 * 60
_AS_PLANNED = ("ok", "yes", "=", "✓", "x", "as planned", "all", "done")
_PRINTED_CLOCK = re.compile(r"\d\d:\d\d (?=\S)")
_POINT_CLOCK = re.compile(r"(\d{1,2})[.h]([0-5]\d)(?!\d)")
DONE = "done"
BAKE = "bake"


def headings(sheet: Sheet) -> dict[str, str]:
    """Each bowl's name with its heading as a sheet prints it."""
    return {**{part.name: heading(part.name, part.rest) for part in sheet.worked.parts}, FINAL: heading(FINAL, "")}


def heard_from(paper: Paper, sheet: Sheet, today: date, taster: str) -> Heard:
    """All that the sheet tells."""
    tasters = [box.text for box in paper.asked if box.name == "taster" and not is_blank(box.text)]
    named = next((text for text in tasters if not is_unread(text)), taster)
    ounces = any("oz" in weight.planned for weight in paper.weights)
    scored = any(box.name in ("crumb", "crust") and not is_blank(box.text) for box in paper.asked)
    reader = Reader(sheet=sheet, today=today, taster=named, ounces=ounces, scored=scored)
    heard = Heard(said=_printed(paper))
    for box in paper.asked:
        heard = heard_together(heard, reader.heard(box))
    heard = heard_together(heard, _weights(paper.weights, sheet, ounces=ounces))
    heard = heard_together(heard, _steps(paper.steps, sheet.formula.process))
    kept = tuple(sorted((*heard.kept, *paper.loose)))
    return replace(heard, kept=kept, said=replace(heard.said, steps=_one_bake(heard.said.steps)))


def _one_bake(steps: Pairs) -> Pairs:
    """The heat in the oven's box goes with the step that was baked in it, where the sheet has one."""
    bakes = [line for name, line in steps if name == BAKE]
    if len(bakes) < 2:
        return steps
    others = tuple((name, line) for name, line in steps if name != BAKE)
    heat, *done = bakes
    return (*others, (BAKE, ", ".join((*done, heat))))


def _printed(paper: Paper) -> Said:
    """What the weigh-up settled: how big the batch was, and what this bake has other than the formula."""
    plan = tuple((name, paper.fact(name)) for name in (CHANGED, "water") if paper.fact(name))
    return Said(batch=paper.fact("batch"), plan=plan)


# --- what went in -----------------------------------------------------------------------------


def _weights(weights: tuple[WentIn, ...], sheet: Sheet, *, ounces: bool) -> Heard:
    heard = Heard()
    ticked: list[str] = []
    untold = 0
    for weight in weights:
        item = _item(weight, sheet.worked)
        label = f"{item or weight.item} in the {weight.bowl}" if sheet.worked.parts else item or weight.item
        if is_blank(weight.text) or weight.text.lower() in _AS_PLANNED:
            if weight.ticked or weight.text.lower() in _AS_PLANNED:
                ticked.append(label)
            else:
                untold += 1
            continue
        untold += is_unread(weight.text)
        heard = heard_together(heard, _weight(weight, item, label, sheet.worked, ounces=ounces))
    return heard_together(heard, Heard(said=Said(as_planned=_as_planned(ticked, untold, bool(heard.said.weighed)))))


def _as_planned(ticked: list[str], untold: int, some_weighed: bool) -> str:
    """What the ticks confirm, in words."""
    if not ticked:
        return ""
    if untold:
        return f"{', '.join(ticked[:-1])} and {ticked[-1]}" if len(ticked) > 1 else ticked[0]
    return "all the rest" if some_weighed else "all of it"


def _weight(weight: WentIn, item: str, label: str, worked: Worked, *, ounces: bool) -> Heard:
    if is_unread(weight.text):
        partly = re.search(r"\d", weight.text)
        return Heard(unread=(label,), kept=((weight.line, f"{label}: {weight.text}"),) if partly else ())
    text, doubt = weight_in(weight.text, label, weight.line, ounces=ounces)
    if doubt:
        return Heard(doubts=(doubt,))
    if not text or not item:
        return Heard(kept=((weight.line, f"{label}: {weight.text}{'' if item else ' went in'}"),))
    alone = item in {share.item for share in worked.whole} and len(_bowls_with(item, worked)) == 1
    return Heard(said=Said(weighed=((item if alone else f"{weight.bowl}:{item}", text),)))


def _item(weight: WentIn, worked: Worked) -> str:
    """The formula's own name for what was weighed, or "" where the formula has no such thing."""
    part = worked.part(weight.bowl)
    items = [line.item for line in (part.lines if part else worked.final)]
    meant = [item for item in items if weight.item == item or weight.item.startswith(f"{item}, ")]
    return max(meant, key=len, default="")


def _bowls_with(item: str, worked: Worked) -> list[str]:
    bowls = {**{part.name: part.lines for part in worked.parts}, FINAL: worked.final}
    return [name for name, lines in bowls.items() if any(line.item == item for line in lines)]


# --- the steps --------------------------------------------------------------------------------


def _steps(steps: tuple[Did, ...], process: tuple[Step, ...]) -> Heard:
    heard = Heard()
    left = list(range(len(process)))
    begun: dict[int, tuple[str, int]] = {}
    lines: dict[int, str] = {}
    for did in steps:
        name = _PRINTED_CLOCK.sub("", did.words, count=1).partition(":")[0].strip()
        place = next((n for n in left if process[n].name == name), None)
        if place is None:
            heard = heard_together(heard, Heard(kept=((did.line, f"{did.words} {did.text}".strip()),)))
            continue
        left.remove(place)
        line, clock, more = _done(did, name)
        heard = heard_together(heard, more)
        if clock:
            begun[place] = (clock, did.line)
        if line:
            lines[place] = line
    for place in sorted(lines):
        heard = heard_together(heard, _with_length(lines[place], process, place, begun))
    return heard


def _done(did: Did, name: str) -> tuple[str, str, Heard]:
    """A step as done, when it was begun, and what else there is to say of its blank."""
    if is_blank(did.text):
        return (DONE if did.ticked else ""), "", Heard()
    if is_unread(did.text):
        return (DONE if did.ticked else ""), "", Heard(unread=(f"when the {name} was begun",))
    text = _POINT_CLOCK.sub(r"\1:\2", did.text)
    read = benchline.read(text)
    if read.doubts:
        what, _, how = read.doubts[0].partition("; ")
        return "", "", Heard(doubts=(Doubt(line=did.line, about=name, what=what, how=how or "write it again"),))
    if not read.fields:
        return (DONE if did.ticked else ""), "", Heard(kept=((did.line, f"{name}: {did.text}"),))
    clock = str(read.get("clock") or "")
    return (f"at {text}" if re.match(r"\d{1,2}:", text) else text), clock, Heard()


def _with_length(line: str, process: tuple[Step, ...], place: int, begun: dict[int, tuple[str, int]]) -> Heard:
    """The step as done, with how long it took where its plan has a length and the next step's time is there."""
    step = process[place]
    as_it_is = Heard(said=Said(steps=((step.name, line),)))
    planned = step.line.get("time")
    if not isinstance(planned, Duration) or place not in begun or place + 1 not in begun:
        return as_it_is
    if benchline.read(line).get("time") is not None:
        return as_it_is
    (start, _), (end, at) = begun[place], begun[place + 1]
    gap = (_minutes(end) - _minutes(start)) % _DAY
    # A cold night and a day: the clock alone does not say how many days, so the plan does.
    took = min((gap + _DAY * days for days in range(8)), key=lambda minutes: abs(minutes - planned.high))
    after = process[place + 1].name
    if took - planned.high > _DAY / 2:
        told = f"the {after} was begun at {end}, before the {step.name} at {start}"
        return Heard(doubts=(Doubt(line=at, about=after, what=told, how="put the two times right"),))
    length = Duration(low=Decimal(took), high=Decimal(took))
    return Heard(said=Said(steps=((step.name, f"{line}, {length} to the {after}"),)))


def _minutes(clock: str) -> int:
    hours, minutes = clock.split(":")
    return int(hours) * 60 + int(minutes)
