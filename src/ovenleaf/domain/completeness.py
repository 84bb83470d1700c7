"""Whether a bake could be repeated from its page and compared with others, and what is missing for that.

The fields are the least that a test bake's page needs for repeating: who and when, revision, batch, flour,
weights, dough temperature, bulk and the sign by which it ended, proof, oven, bake; for comparing, also the question
it was to answer, the bake loss and marks (common practice, no source). A fault or a mishap that is not written down
cannot be seen to be missing. Nothing here says that a bake is wrong.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.domain.benchvalues import Heat

if TYPE_CHECKING:
    from collections.abc import Iterator

    from ovenleaf.domain.formula import Formula, Step
    from ovenleaf.domain.trial import Trial


@dataclass(frozen=True, slots=True, kw_only=True)
class Gap:
    """One thing a page does not say: as a baker would ask for it, what it is needed for, and how it may be told.

    `say` is an example of a bench line that fills it; "" where it is told in another way.
    """

    words: str
    repeat: bool = True
    compare: bool = True
    say: str = ""


def gaps(trial: Trial, formula: Formula, flours: tuple[str, ...]) -> tuple[Gap, ...]:
    """What the page does not say, in the order of the work, marks last."""
    return tuple(_gaps(trial, formula, flours))


def missing(trial: Trial, formula: Formula, flours: tuple[str, ...]) -> tuple[str, ...]:
    """What is missing for repeating the bake, in words."""
    return tuple(gap.words for gap in gaps(trial, formula, flours) if gap.repeat)


def _gaps(trial: Trial, formula: Formula, flours: tuple[str, ...]) -> Iterator[Gap]:
    if not trial.baker:
        yield Gap(words="who baked")
    if not trial.bake_date:
        yield Gap(words="the day of baking")
    if not trial.question:
        yield Gap(words="the question it was to answer", repeat=False)
    if not trial.shares_dough_with:  # else it stands on the page of the bake it was mixed for
        yield from _mixing(trial, flours)
    yield from _waits(trial, formula)
    yield from _oven(trial, formula)
    yield from _outcome(trial)


def _mixing(trial: Trial, flours: tuple[str, ...]) -> Iterator[Gap]:
    measured = dict(trial.measured)
    fields = {field.name for step in trial.steps for field in step.line.fields}
    if not trial.batch and "dough weight" not in measured:
        yield Gap(words="how big a batch", say="12 rolls of 85 g")
    known = dict(trial.flours)
    for flour in flours:
        if flour not in known:
            yield Gap(words=f"which {flour}", say=f"{flour} lot B-114")
    if not trial.weighed and not trial.as_planned:
        yield Gap(words="whether all was weighed as planned")
    if "dough temperature" not in fields and "dough temperature" not in measured:
        yield Gap(words="dough temperature", say="dough 25 C")


def _waits(trial: Trial, formula: Formula) -> Iterator[Gap]:
    """How long each bulk and proof took; and the sign by which bulk ended, where not even the formula has one."""
    done = _done(trial)
    for step in formula.process:
        shared = trial.shares_dough_with and "proof" not in step.name.lower()
        if shared or not is_waiting(step.name):
            continue
        fields = {field.name for line in done.get(step.name, ()) for field in line.line.fields}
        if "time" not in fields:
            yield Gap(words=f"how long the {step.name} took", say=f"{step.name} 58 min")
        elif "proof" not in step.name.lower() and not _has_sign(step, done[step.name]):
            yield Gap(words=f"how the {step.name} looked when it ended", compare=False, say=f"{step.name} end 60%")


def _has_sign(planned: Step, done: list[Step]) -> bool:
    """True where a sign is told: a look, a rise, a pH; the formula's own look counts, since it was waited for."""
    fields = {field.name for step in done for field in step.line.fields}
    return planned.line.get("until") is not None or bool(
        fields & {"until", "rise", "ph", "folds"} or any(step.line.words for step in done)
    )


def _oven(trial: Trial, formula: Formula) -> Iterator[Gap]:
    if not any(step.name == "bake" for step in formula.process):
        return
    lines = [step.line for step in _done(trial).get("bake", ())]
    heats = [field for line in lines for field in line.fields if isinstance(field.value, Heat)]
    times = [field for line in lines for field in line.fields if field.name == "time"]
    if not heats and not times:
        yield Gap(words="the oven's heat and time", say="in the oven at 220 C")
    elif not heats:
        yield Gap(words="the oven's heat", say="in the oven at 220 C")
    elif not times:
        yield Gap(words="the time in the oven", say="baked 19 min")


def _outcome(trial: Trial) -> Iterator[Gap]:
    """What only a comparison needs."""
    measured = dict(trial.measured)
    if "baked weight" not in measured:
        yield Gap(words="the weight when cold", repeat=False, say="12 rolls 884 g cold")
    scored = [name for name in ("crumb", "crust") if any(getattr(marks, name) is not None for marks in trial.scores)]
    if not scored:
        yield Gap(words="marks for crumb and crust", repeat=False)
    elif len(scored) == 1:
        yield Gap(words=f"marks for {'crust' if scored == ['crumb'] else 'crumb'}", repeat=False)


def _done(trial: Trial) -> dict[str, list[Step]]:
    found: dict[str, list[Step]] = {}
    for step in trial.steps:
        found.setdefault(step.name, []).append(step)
    return found


def is_waiting(step: str) -> bool:
    """Bulk and proof: the steps in which time and warmth decide."""
    return any(word in step.lower() for word in ("bulk", "proof", "ferment"))
