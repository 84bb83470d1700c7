"""A trial page to a Trial, and what a new trial page holds."""

from __future__ import annotations

import re
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING

from ovenleaf.domain.trial import Correction, Marks, ScoreScale, State, Trial
from ovenleaf.records.codec.formulas import read_steps
from ovenleaf.records.codec.reading import Reading, Where
from ovenleaf.records.nodes import MapNode
from ovenleaf.records.scalars import resolve
from ovenleaf.records.yaml_out import dump

if TYPE_CHECKING:
    from ovenleaf.records.nodes import Page, Plain

_SCALE = re.compile(r"(-?\d+(?:[.,]\d+)?) to (-?\d+(?:[.,]\d+)?)")


def read_trial(page: Page) -> Trial:
    """The trial on a kept page. Raises PageRefused with every fault that is found."""
    reading = Reading(page)
    trial = _trial(reading)
    for key in ("trial", "formula", "revision", "code"):
        if not reading.text(key):
            reading.fault((), "missing", f"This trial does not say its {key}.")
    reading.finish(f"{page.path} cannot be read as a trial.")
    return trial


def read_told(page: Page) -> Trial:
    """What a typed-up page tells of a bake; it need not name the trial, its code or its revision."""
    reading = Reading(page)
    trial = _trial(reading)
    reading.finish(f"{page.path} cannot be read as a trial.")
    return trial


def _trial(reading: Reading) -> Trial:
    scale = read_scale(reading, "scale")
    return Trial(
        name=reading.text("trial"),
        formula=reading.text("formula"),
        revision=reading.text("revision"),
        code=reading.text("code"),
        baker=reading.text("baker"),
        question=reading.text("question"),
        state=_state(reading),
        bake_date=_date(reading, "bake_date"),
        started=reading.text("started"),
        entered=reading.text("entered"),
        batch=reading.text("batch"),
        weighed=_weighed(reading),
        as_planned=reading.text("as_planned"),
        flours=reading.pairs("flours"),
        kitchen=reading.pairs("kitchen"),
        steps=read_steps(reading, "steps"),
        measured=reading.pairs("measured"),
        scale=scale,
        scores=tuple(_marks(reading, taster, scale) for taster in reading.keys("scores")),
        photos=reading.texts("photos"),
        log=reading.texts("log"),
        plan=reading.pairs("plan"),
        corrections=tuple(_correction(reading, where) for where, _ in reading.items("corrections")),
        left_out=reading.text("left_out"),
        shares_dough_with=reading.text("shares_dough_with"),
        pin=reading.text("pin"),
    )


def _state(reading: Reading) -> State:
    typed = reading.text("state") or State.DONE.value
    try:
        return State(typed)
    except ValueError:
        reading.fault(("state",), "state", f"state: {typed} is not one of {', '.join(State)}.")
        return State.DONE


def _date(reading: Reading, key: str) -> str:
    typed = reading.text(key)
    if typed:
        try:
            date.fromisoformat(typed)
        except ValueError:
            reading.fault((key,), "date", f"{key}: {typed} is not a day.", "Write it as 2026-11-18.")
    return typed


def read_scale(reading: Reading, *where: str | int) -> ScoreScale | None:
    """`0 to 10`, lowest first; None where nothing is said."""
    typed = reading.text(*where)
    if not typed:
        return None
    found = _SCALE.fullmatch(typed)
    low, high = (Decimal(end.replace(",", ".")) for end in found.groups()) if found else (Decimal(0), Decimal(0))
    if low >= high:
        reading.fault(
            where,
            "scale",
            f"scale: {typed} should be two numbers, the lower first.",
            "Write it like scale: 0 to 10",
        )
        return None
    return ScoreScale(low=low, high=high)


def _weighed(reading: Reading) -> tuple[tuple[str, str], ...]:
    """What was weighed: in all under its name, or under a bowl's name as `bowl:item`."""
    found: list[tuple[str, str]] = []
    for key in reading.keys("weighed"):
        if isinstance(reading.node(("weighed", key)), MapNode):
            found += [(f"{key}:{item}", text) for item, text in reading.pairs("weighed", key)]
        else:
            found.append((key, reading.text("weighed", key)))
    return tuple(found)


def _marks(reading: Reading, taster: str, scale: ScoreScale | None) -> Marks:
    where: Where = ("scores", taster)
    reading.keys(*where)
    for attribute in ("crumb", "crust", "flavour"):
        mark = reading.number(*where, attribute)
        if mark is not None and scale is not None and not scale.low <= mark <= scale.high:
            reading.fault((*where, attribute), "off-scale", f"{attribute}: {mark} is off the scale of {scale}.")
    return Marks(
        taster=taster,
        crumb=reading.number(*where, "crumb"),
        crust=reading.number(*where, "crust"),
        flavour=reading.number(*where, "flavour"),
        bake_again=reading.truth(*where, "bake_again"),
        faults=reading.texts(*where, "faults"),
        hours_after=reading.number(*where, "hours_after"),
        blind=reading.truth(*where, "blind"),
        note=reading.text(*where, "note"),
    )


def _correction(reading: Reading, where: Where) -> Correction:
    return Correction(
        field=reading.text(*where, "field"),
        was=reading.text(*where, "was"),
        now=reading.text(*where, "now"),
        by=reading.text(*where, "by"),
        at=reading.text(*where, "at"),
        why=reading.text(*where, "why"),
    )


def marks_data(marks: Marks) -> dict[str, Plain]:
    """One taster's marks as they go on a page: only what was said."""
    said: dict[str, Plain] = {
        "crumb": number_data(marks.crumb),
        "crust": number_data(marks.crust),
        "flavour": number_data(marks.flavour),
        "bake_again": marks.bake_again,
        "faults": list(marks.faults) or None,
        "hours_after": number_data(marks.hours_after),
        "blind": marks.blind,
        "note": marks.note or None,
    }
    return {key: value for key, value in said.items() if value is not None}


def number_data(value: Decimal | None) -> int | Decimal | None:
    """A number as a page holds it: whole numbers without a point."""
    if value is None:
        return None
    return int(value) if value == value.to_integral_value() else value.normalize()


def trial_data(trial: Trial) -> dict[str, Plain]:
    """What a new trial page holds, in the order of the page; only what was said."""
    said: dict[str, Plain] = {
        "format": "trial/1",
        "trial": trial.name,
        "formula": trial.formula,
        "revision": trial.revision,
        "code": trial.code,
        "baker": trial.baker,
        "question": trial.question,
        "state": trial.state.value,
        "bake_date": trial.bake_date,
        "started": trial.started,
        "entered": trial.entered,
        "batch": trial.batch,
        "shares_dough_with": trial.shares_dough_with,
        "plan": dict(trial.plan),
        "weighed": _weighed_data(trial.weighed),
        "as_planned": trial.as_planned,
        "flours": dict(trial.flours),
        "kitchen": dict(trial.kitchen),
        "steps": [{step.name: step.line.typed} for step in trial.steps],
        "measured": {field: resolve(text) for field, text in trial.measured},
        "scale": str(trial.scale) if trial.scale else "",
        "scores": {marks.taster: marks_data(marks) for marks in trial.scores},
        "photos": list(trial.photos),
        "log": list(trial.log),
        "left_out": trial.left_out,
    }
    return {key: value for key, value in said.items() if value}


def trial_text(trial: Trial) -> str:
    """The text of a new trial page. The pin stands last and quoted: some ids would read as numbers."""
    return f'{dump(trial_data(trial))}pin: "{trial.pin}"\n'


def _weighed_data(weighed: tuple[tuple[str, str], ...]) -> dict[str, Plain]:
    data: dict[str, Plain] = {}
    for name, text in weighed:
        bowl, colon, item = name.partition(":")
        if colon:
            inner = data.setdefault(bowl, {})
            assert isinstance(inner, dict)
            inner[item] = text
        else:
            data[name] = text
    return data
