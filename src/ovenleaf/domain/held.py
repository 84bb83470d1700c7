"""A bake in hand, as it is told to whoever looks up: what of it runs, and what is due next."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from datetime import datetime

    from ovenleaf.domain.bench_echo import Begun
    from ovenleaf.domain.bench_plan import PlanStep
    from ovenleaf.domain.trial import Trial


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """A bake in hand: what of it runs, what comes next (None where all is done), and when the bread came out."""

    trial: Trial
    label: str
    spoken: str
    running: tuple[Begun, ...]
    coming: PlanStep | None
    out: datetime | None = None
