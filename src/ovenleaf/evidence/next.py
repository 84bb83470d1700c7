"""What to bake next: at most three bakes, each with its reason and the number it would make better.

What is known of a gap between two revisions goes by its standard error, scatter x sqrt(1/n + 1/m): the bake
that makes it smallest comes first. The rest are the usual questions of a test baker (common practice, no source).
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from typing import TYPE_CHECKING

from ovenleaf.domain.figures import pct
from ovenleaf.domain.numbers import CONTEXT, HUNDRED, ZERO, rounded
from ovenleaf.evidence.distributions import normal_quantile
from ovenleaf.evidence.verdicts import FEW, Call

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ovenleaf.domain.varied import Varied
    from ovenleaf.evidence.standing import Standing, Standings

MOST = 3
SURE = 0.95  # on one side; a range goes from there to the other, so that it is right nine times in ten
_NARROWER = Decimal("0.95")
_PART = Decimal(2) / 3  # of the last step: a second one is smaller than the first


class Kind(StrEnum):
    """Why a bake is worth its flour."""

    FIRST = "first"  # nothing is known yet
    REPEAT = "repeat"  # the leader again
    CONTROL = "control"  # what the leader was made from, or the keeper
    RIVAL = "rival"  # another that may be the best
    SEPARATE = "separate"  # one of several changes alone
    STEP = "step"  # further in the direction that rose


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """What is known of a formula. `revisions` are all kept ones, oldest first; `base` is what the leader was made
    from, "" for none; `keeper` likewise; `varied` is what differs between base and leader; `beyond` says of an item
    whether a bake lies further than the leader in the direction it went; `tried` are (revision, plan) of trials that
    are planned already; `separated` is True where one of the changes was baked alone."""

    standings: Standings | None
    revisions: tuple[str, ...]
    base: str = ""
    keeper: str = ""
    varied: tuple[Varied, ...] = ()
    beyond: frozenset[str] = frozenset()
    separated: bool = False
    tried: frozenset[tuple[str, tuple[tuple[str, str], ...]]] = frozenset()


@dataclass(frozen=True, slots=True, kw_only=True)
class Suggestion:
    """One bake: of `revision`, with what it changes knowingly in `plan`.

    `beside` is the revision it is set beside, "" for none; `doughs` of the revision so far; `now` and `then` how far
    either way the gap of the two is known, in marks, nine times in ten, before and after one more dough, None where
    there is no gap to know; `things` what differs, of which `plan` takes one; `rise` what the last step brought.
    """

    kind: Kind
    revision: str
    beside: str = ""
    plan: tuple[tuple[str, str], ...] = ()
    doughs: int = 0
    now: Decimal | None = None
    then: Decimal | None = None
    things: tuple[str, ...] = ()
    last: Varied | None = None
    rise: Decimal | None = None


def suggestions(known: Known) -> tuple[Suggestion, ...]:
    """At most three, the one that tells most first; those that are planned already are left out."""
    if known.standings is None or not known.standings.rows:
        newest = known.revisions[-1:]
        found = [Suggestion(kind=Kind.FIRST, revision=name) for name in newest]
    else:
        found = _of(known, known.standings)
    return tuple(one for one in found if (one.revision, one.plan) not in known.tried)[:MOST]


def _of(known: Known, standings: Standings) -> list[Suggestion]:
    lead = leader(standings)
    found = [one for one in _doughs(known, standings, lead) if _shows(one)]
    found += [*_separate(known, lead), *_step(known, standings, lead)]
    control = _control(known, standings, lead)
    if control is not None and all(control.revision != one.revision or one.plan for one in found):
        found.append(control)
    if all(one.revision != lead.row.revision or one.plan for one in found):
        found += [one for one in _again(standings, lead) if _is_worth_it(one)]
    return found


def _shows(one: Suggestion) -> bool:
    """True if a dough more changes the figure that is told of the gap."""
    return one.now is None or one.then is None or rounded(one.now, 2) != rounded(one.then, 2)


def _is_worth_it(one: Suggestion) -> bool:
    """True if a dough more makes a gap narrower by a twentieth at least."""
    return one.now is None or one.then is None or one.then <= one.now * _NARROWER


def leader(standings: Standings) -> Standing:
    """The likeliest best; the only one where there is but one."""
    return standings.first or standings.rows[0]


def rival(standings: Standings, lead: Standing) -> Standing | None:
    """The next likeliest to be the best, or None."""
    others = [row for row in standings.rows if row is not lead]
    return max(others, key=lambda row: row.chance or ZERO, default=None)


def _doughs(known: Known, standings: Standings, lead: Standing) -> list[Suggestion]:
    """Another dough of the leader or of its rival, whichever has fewer, until it is plain which is better."""
    other = rival(standings, lead)
    if other is None:
        return _alone(known, standings, lead)
    if standings.leader is not None and standings.leader.call is Call.BETTER:
        return []
    if other.row.doughs < lead.row.doughs:
        kind = Kind.CONTROL if other.row.revision in (known.base, known.keeper) else Kind.RIVAL
        return [_more(kind, standings, other, lead)]
    return [_more(Kind.REPEAT, standings, lead, other)]


def _alone(known: Known, standings: Standings, lead: Standing) -> list[Suggestion]:
    """One revision only was scored: the next one that was not, else it once more to learn how doughs scatter."""
    unbaked = [name for name in known.revisions if name != lead.row.revision]
    if unbaked:
        return [Suggestion(kind=Kind.FIRST, revision=unbaked[-1], beside=lead.row.revision)]
    return _again(standings, lead) if lead.row.doughs < FEW else []


def _again(standings: Standings, lead: Standing) -> list[Suggestion]:
    other = rival(standings, lead)
    if other is not None:
        return [_more(Kind.REPEAT, standings, lead, other)]
    number = lead.row.doughs
    return [
        Suggestion(
            kind=Kind.REPEAT,
            revision=lead.row.revision,
            doughs=number,
            now=_either_way(standings.reckoned, number),
            then=_either_way(standings.reckoned, number + 1),
        )
    ]


def _more(kind: Kind, standings: Standings, which: Standing, other: Standing) -> Suggestion:
    mine, theirs = which.row.doughs, other.row.doughs
    return Suggestion(
        kind=kind,
        revision=which.row.revision,
        beside=other.row.revision,
        doughs=mine,
        now=_either_way(standings.reckoned, mine, theirs),
        then=_either_way(standings.reckoned, mine + 1, theirs),
    )


def _either_way(scatter: Decimal, *doughs: int) -> Decimal:
    """How far either way a mean, or the gap of two, is known nine times in ten: z x scatter x sqrt(sum of 1/n)."""
    total = sum((CONTEXT.divide(Decimal(1), Decimal(number)) for number in doughs), ZERO)
    return Decimal(normal_quantile(SURE)) * scatter * CONTEXT.sqrt(total)


def _control(known: Known, standings: Standings, lead: Standing) -> Suggestion | None:
    """What the leader was made from, where it was baked less often than twice."""
    if not known.base:
        return None
    row = next((row for row in standings.rows if row.row.revision == known.base), None)
    if row is None:
        return Suggestion(kind=Kind.CONTROL, revision=known.base, beside=lead.row.revision)
    return _more(Kind.CONTROL, standings, row, lead) if row.row.doughs < FEW else None


def _separate(known: Known, lead: Standing) -> list[Suggestion]:
    """Of several things that changed at once, one alone."""
    if len(known.varied) < 2 or known.separated or not known.base:
        return []
    names = tuple(thing.name for thing in known.varied)
    formula = [thing for thing in known.varied if thing.in_formula and thing.after]
    if sum(thing.in_formula for thing in known.varied) > 1 and formula:
        # one change of the formula alone, on what it was made from
        one, revision, text = formula[0], known.base, formula[0].after
    else:
        one = next((thing for thing in known.varied if not thing.in_formula), known.varied[0])
        revision, text = lead.row.revision, one.before  # the leader, with the condition as it was before
    if not text:
        return []
    return [
        Suggestion(
            kind=Kind.SEPARATE,
            revision=revision,
            beside=known.base if revision != known.base else lead.row.revision,
            plan=((one.name, text),),
            doughs=lead.row.doughs,
            things=names,
            last=one,
        )
    ]


def _step(known: Known, standings: Standings, lead: Standing) -> list[Suggestion]:
    """A further, smaller step of the one item that changed, where it rose and nothing lies beyond."""
    base = next((row for row in standings.rows if row.row.revision == known.base), None)
    shares = [thing for thing in known.varied if thing.shares is not None]
    if base is None or len(shares) != 1 or sum(thing.in_formula for thing in known.varied) != 1:
        return []
    thing = shares[0]
    rise = lead.compared - base.compared
    if rise <= 0 or thing.name in known.beyond or thing.shares is None:
        return []
    further = _further(*thing.shares)
    if not ZERO < further <= HUNDRED * 2:
        return []
    return [
        Suggestion(
            kind=Kind.STEP,
            revision=lead.row.revision,
            beside=known.base,
            plan=((thing.name, pct(further)),),
            doughs=lead.row.doughs,
            last=thing,
            rise=rise,
        )
    ]


def _further(before: Decimal, after: Decimal) -> Decimal:
    """Two thirds of the last step further, to half a point, or for a small step to a tenth of its size: 72, 75, 77."""
    step = (after - before) * _PART
    grain = Decimal("0.5") if abs(step) >= 1 else Decimal(1).scaleb(step.adjusted() - 1)
    return after + rounded(CONTEXT.divide(step, grain), 0) * grain


def question(suggestion: Suggestion, names: Sequence[tuple[str, str]]) -> str:
    """The one-sentence question that a planned trial carries; `names` say revisions as a screen does."""
    said = dict(names)
    mine, other = said.get(suggestion.revision, suggestion.revision), said.get(suggestion.beside, suggestion.beside)
    match suggestion.kind:
        case Kind.FIRST:
            return f"how does {mine} come out{f' beside {other}' if other else ''}?"
        case Kind.REPEAT:
            return f"does {mine} come out so well again?" if other else f"how far do doughs of {mine} scatter?"
        case Kind.CONTROL:
            return f"is {other} above {mine}, or was it the day?"
        case Kind.RIVAL:
            return f"does {mine} come up to {other}?"
        case Kind.SEPARATE:
            return f"is it the {suggestion.plan[0][0]} alone?"
        case Kind.STEP:
            return f"does it go on rising with {suggestion.plan[0][0]} at {suggestion.plan[0][1]}?"
