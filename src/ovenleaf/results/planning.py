"""What to bake next, and a bake that was planned."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.results.common import Written

if TYPE_CHECKING:
    from ovenleaf.domain.trial import Trial
    from ovenleaf.evidence.next import Suggestion
    from ovenleaf.evidence.standing import Standings
    from ovenleaf.findings import Finding


@dataclass(frozen=True, slots=True, kw_only=True)
class NextBakes:
    """At most three bakes of a formula that would tell something, the one that tells most first.

    `alike` names for each the bake whose other conditions it should keep, "" for none; `spoken` says revisions as a
    screen does; `planned` are trials that are planned already.
    """

    name: str
    title: str
    suggestions: tuple[Suggestion, ...]
    alike: tuple[str, ...]
    standings: Standings | None
    spoken: tuple[tuple[str, str], ...]
    planned: tuple[Trial, ...]
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BakePlanned(Written):
    """A suggestion that was kept as a planned trial. `tweaks` are what of its plan makes a revision of its own first,
    `typed` the revision it is made from as it may be typed."""

    trial: Trial
    title: str
    spoken: str
    tweaks: tuple[tuple[str, str], ...] = ()
    typed: str = ""
