"""Whether a bake could be repeated from its page, and what is missing for that.

The fields are the minimum for repeating a test bake: revision, batch, flour, weights, yeast,
dough temperature, bulk, proof, oven, bake (common practice, no source).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ovenleaf.domain.formula import Formula
    from ovenleaf.domain.trial import Trial


def missing(trial: Trial, formula: Formula, flours: tuple[str, ...]) -> tuple[str, ...]:
    """What the page does not say, in the order of the work, each as a baker would ask for it."""
    steps = {step.name for step in trial.steps}
    fields = {field.name for step in trial.steps for field in step.line.fields}
    measured = dict(trial.measured)
    plan = [step.name for step in formula.process]
    gaps = []
    if not trial.batch:
        gaps.append("how big a batch")
    gaps += [f"which {flour}" for flour in flours if flour not in dict(trial.flours)]
    if not trial.weighed and not trial.as_planned:
        gaps.append("whether all was weighed as planned")
    if "dough temperature" not in fields and "dough temperature" not in measured:
        gaps.append("dough temperature")
    gaps += [name for name in plan if name not in steps and _is_waiting(name)]
    if "bake" in plan and "bake" not in steps:
        gaps.append("the oven's heat and time")
    return tuple(gaps)


def _is_waiting(step: str) -> bool:
    """Bulk and proof: the steps in which time and warmth decide."""
    return any(word in step.lower() for word in ("bulk", "proof", "ferment"))
