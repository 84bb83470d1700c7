"""Formulas weighed up."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from datetime import datetime
    from decimal import Decimal

    from ovenleaf.domain.dilution import Dilution
    from ovenleaf.domain.household import Taken
    from ovenleaf.domain.losses import Loss
    from ovenleaf.domain.scaling import Batch, Bowl, Scale, Wanted
    from ovenleaf.domain.schedule import Slot
    from ovenleaf.domain.sheet import Sheet
    from ovenleaf.domain.temperature import WaterAnswer
    from ovenleaf.domain.yeast import Swap
    from ovenleaf.findings import Finding


@dataclass(frozen=True, slots=True, kw_only=True)
class WeighUp:
    """One formula weighed up."""

    sheet: Sheet
    wanted: Wanted
    batch: Batch
    bench: Loss
    bake: Loss
    scale: Scale
    bowls: tuple[Bowl, ...]
    dilutions: tuple[Dilution, ...]
    weighed: tuple[tuple[str, Decimal], ...]
    keeper: bool
    older: str = ""  # the revision as it is typed, where it is not the newest
    newer_draft: bool = False  # the page has been edited since this revision and is not saved
    swaps: tuple[Swap, ...] = ()
    other_swaps: tuple[str, ...] = ()
    household: tuple[tuple[str, str], ...] = ()
    measures: tuple[Taken, ...] = ()  # what the cups and spoons of `household` are taken to weigh
    water: WaterAnswer | None = None
    slots: tuple[Slot, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Weighed:
    """What `weigh` worked out: one formula or several; `flours` adds up what all of them need, in g, and
    `builds` are the preferments that can be made once for all. `now` is on the kitchen's clock."""

    ups: tuple[WeighUp, ...]
    flours: tuple[tuple[str, Decimal], ...]
    now: datetime
    builds: tuple[Bowl, ...] = ()
    unit: str = "g"
    water_alone: bool = False  # nothing but the water's temperature was asked for
    calendar: str = ""
    sheet_path: str = ""
    findings: tuple[Finding, ...] = ()
