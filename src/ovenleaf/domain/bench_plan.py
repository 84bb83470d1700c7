"""The steps of a dough in the order of the bench: what is made ahead, then the process. Knows no line and no clock."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from ovenleaf.domain import benchline
from ovenleaf.domain.benchvalues import Heat
from ovenleaf.domain.ingredients import Kind as Item

if TYPE_CHECKING:
    from ovenleaf.domain.benchline import BenchLine
    from ovenleaf.domain.sheet import Sheet


class Kind(StrEnum):
    """What becomes of time in a step: it stands ahead, is mixed, waited for, baked, or done and over."""

    AHEAD = "ahead"
    MIX = "mix"
    WAIT = "wait"
    BAKE = "bake"
    HAND = "hand"


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanStep:
    """One step. `name` is that of the page, `said` how it is spoken of: a second fold is `fold 2`, a
    preferment's hyphens are spaces. `planned` is False for one that the page does not have."""

    name: str
    said: str
    kind: Kind
    line: BenchLine
    planned: bool = True

    @property
    def is_cold(self) -> bool:
        """True for a step that stands in the cold, by its name or its temperature."""
        if any(word in self.name.lower() for word in _COLD):
            return True
        heat = self.line.get("temperature")
        return isinstance(heat, Heat) and heat.temperatures[-1].celsius <= _FRIDGE


_COLD = ("cold", "fridge", "retard", "chill")
_FRIDGE = 10  # °C
_KINDS = (
    (Kind.BAKE, ("bake", "baking", "oven")),
    (Kind.WAIT, ("bulk", "proof", "prove", "ferment", "rest", "autolyse", "rise", *_COLD)),
    (Kind.MIX, ("mix", "knead")),
)
# What a page without steps is taken to go through.
_USUAL = ("mix", "bulk", "divide", "shape", "final proof", "bake")


def kind_of(name: str) -> Kind:
    """The kind of a process step by its name.

    >>> kind_of("second mix"), kind_of("cold proof"), kind_of("shape")
    (<Kind.MIX: 'mix'>, <Kind.WAIT: 'wait'>, <Kind.HAND: 'hand'>)
    """
    low = name.lower()
    return next((kind for kind, words in _KINDS if any(word in low for word in words)), Kind.HAND)


def plan_of(sheet: Sheet) -> tuple[PlanStep, ...]:
    """All steps: what stands ahead, which are preferments, soakers, bowls and cultures fed for it; then the process.

    A culture is one where its line says how long it stands: `rye sour: 40%, ripe, 14 h at 26 C`.
    """
    cultures = {item for item, kind in sheet.kinds if kind is Item.CULTURE}
    fed = [(share.item, share.note) for share in sheet.worked.final if share.item in cultures and _stands(share.note)]
    ahead = (
        *(_ahead(part.name, part.name.replace("-", " "), part.rest) for part in sheet.worked.parts),
        *(_ahead(f"{item} ripening", item, note) for item, note in fed),  # the item itself is a weight
    )
    steps = [(step.name, step.line) for step in sheet.formula.process] or [
        (name, benchline.read("")) for name in _USUAL
    ]
    seen: Counter[str] = Counter()
    process = []
    for name, line in steps:
        seen[name] += 1
        said = name if seen[name] == 1 else f"{name} {seen[name]}"
        process.append(PlanStep(name=name, said=said, kind=kind_of(name), line=line))
    return (*ahead, *process)


def _ahead(name: str, said: str, rest: str) -> PlanStep:
    return PlanStep(name=name, said=said, kind=Kind.AHEAD, line=benchline.read(rest))


def _stands(note: str) -> bool:
    return benchline.read(note).get("time") is not None


def following(plan: tuple[PlanStep, ...], step: PlanStep) -> PlanStep | None:
    """The step after this one; after what stands ahead, the first of the process."""
    process = [one for one in plan if one.kind is not Kind.AHEAD]
    if step.kind is Kind.AHEAD:
        return process[0] if process else None
    place = process.index(step) + 1
    return process[place] if place < len(process) else None
