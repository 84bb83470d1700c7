"""Two pages that came of one, combined: symmetric, without a clock and without a side of our own.

Which rule holds where is the data below; the truth table is that of `three_ways`. What was changed in
two ways keeps the ancestor's value and becomes a question with both proposals.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.compare.policies import AMOUNTS, FLOURS, ORDER, WHOLE, Policy, Rule
from ovenleaf.compare.step_lines import combine_lines
from ovenleaf.compare.three_ways import GONE, Case, Decision, Gone, Side, Tree, alike, decide, order_of, woven
from ovenleaf.compare.united import united
from ovenleaf.domain.quantity import Amount, AmountFault, amount, split_note

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from ovenleaf.compare.three_ways import Path


@dataclass(frozen=True, slots=True, kw_only=True)
class Combined:
    """What the page says now, and every decision that led there."""

    tree: dict[str, Tree]
    decisions: tuple[Decision, ...]

    @property
    def questions(self) -> tuple[Decision, ...]:
        """The decisions that only the bakers can take."""
        return tuple(decision for decision in self.decisions if decision.is_question)


def combine(
    before: Mapping[str, Tree] | None, one: dict[str, Tree], other: dict[str, Tree], policy: Policy
) -> Combined:
    """The page that holds what both changed. `before` is None for a page that both put in.

    `one` and `other` are told apart by order only in how things are written, never in what they mean;
    whoever calls puts the two in an order that does not hang on whose they are.
    """
    work = _Work(policy=policy, decisions=[])
    start: Side = GONE if before is None else dict(before)
    tree = _names(work, (), start, one, other)
    if policy.amounts_whole:
        tree = _amounts_whole(work, tree, start, one, other)
    assert isinstance(tree, dict)
    return Combined(tree=tree, decisions=tuple(work.decisions))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Work:
    policy: Policy
    decisions: list[Decision]

    def rule(self, path: Path) -> Rule | None:
        for pattern, rule in self.policy.rules:
            if len(pattern) == len(path) and all(p in ("*", q) for p, q in zip(pattern, path, strict=True)):
                return rule
        return None

    def note(self, path: Path, case: Case, before: Side, one: Side, other: Side) -> None:
        if case is not Case.UNTOUCHED:
            self.decisions.append(Decision(path=path, case=case, before=before, one=one, other=other))


def _place(work: _Work, path: Path, before: Side, one: Side, other: Side) -> Side:
    """What stands at one place of the page."""
    rule = work.rule(path)
    if rule is Rule.STAMP:
        return other if one is GONE else one
    if work.policy.amounts_whole and path[0] in AMOUNTS and len(path) == 1:
        return before
    if rule is Rule.ASKED:
        return _asked(before, one, other)
    if alike(one, other) or alike(one, before) or alike(other, before):
        return _whole(work, path, before, one, other)
    sides = [side for side in (before, one, other) if side is not GONE]
    taken_out = before is not GONE and GONE in (one, other)
    if all(isinstance(side, dict) for side in sides) and not (taken_out and rule is Rule.PART):
        work.note(path, Case.WITHIN, GONE, GONE, GONE)
        return _names(work, path, before, one, other, lines=rule in (Rule.LINES, Rule.PART))
    if all(isinstance(side, list) for side in sides) and rule is not None and not taken_out:
        lists = [side if isinstance(side, list) else [] for side in (before, one, other)]
        work.note(path, Case.UNITED, GONE, GONE, GONE)
        if rule is Rule.STEPS:
            return _steps(work, path, *lists)
        return united(lists[1], lists[2], timed=rule is Rule.TIMED)
    return _whole(work, path, before, one, other)


def _whole(work: _Work, path: Path, before: Side, one: Side, other: Side) -> Side:
    case, stands = decide(before, one, other, means_same=means_same)
    work.note(path, case, before, one, other)
    return one if case is Case.PUT_IN_TWICE and work.policy.stands_in else stands


def _names(work: _Work, path: Path, before: Side, one: Side, other: Side, *, lines: bool = False) -> Side:
    """Names one by one. Names that come to nothing are no names at all."""
    was, left, right = (side if isinstance(side, dict) else {} for side in (before, one, other))
    flours = _flours(work, path, was, left, right) if lines else None
    stands: dict[str, Tree] = {}
    for key in woven(woven(left, right), was):
        if flours is not None and key in work.policy.flours:
            found: Side = flours.get(key, GONE)
        else:
            found = _place(work, (*path, key), was.get(key, GONE), left.get(key, GONE), right.get(key, GONE))
        if not isinstance(found, Gone) and found not in ({}, []):
            stands[key] = found
    return stands if stands or not path else GONE


def _flours(
    work: _Work, path: Path, was: dict[str, Tree], left: dict[str, Tree], right: dict[str, Tree]
) -> dict[str, Tree]:
    """All the flours of a block as one item: two who each make room for a flour of theirs would come to 105 %."""
    before, one, other = (
        {key: value for key, value in side.items() if key in work.policy.flours} for side in (was, left, right)
    )
    case, stands = decide(before, one, other, means_same=_same_lines)
    if case is not Case.UNTOUCHED:
        work.note((*path, FLOURS), case, before, one, other)
    assert isinstance(stands, dict)
    return stands


def _same_lines(one: Side, other: Side) -> bool:
    if not isinstance(one, dict) or not isinstance(other, dict) or one.keys() != other.keys():
        return False
    return all(means_same(one[key], other[key]) for key in one)


def means_same(one: Side, other: Side) -> bool:
    """True if two values differ in how they are written at most: `65%` and `65.0 %`."""
    if not isinstance(one, str) or not isinstance(other, str):
        return alike(one, other)
    said = _amount(one)
    return " ".join(one.split()) == " ".join(other.split()) or (said is not None and said == _amount(other))


def _amount(text: str) -> tuple[Amount, str] | None:
    head, note = split_note(text)
    try:
        return amount(head), note
    except AmountFault:
        return None


def _amounts_whole(work: _Work, tree: Side, before: Side, one: Side, other: Side) -> Side:
    """All amounts as one question: together they would not come out."""
    was, left, right = (
        {key: side[key] for key in AMOUNTS if key in side} if isinstance(side, dict) else GONE
        for side in (before, one, other)
    )
    work.note((WHOLE,), Case.PUT_IN_TWICE if was is GONE else Case.TWO_WAYS, was, left, right)
    stands = left if isinstance(was, Gone) else was
    assert isinstance(tree, dict)
    assert isinstance(stands, dict)
    rest = {key: value for key, value in tree.items() if key not in AMOUNTS}
    order = woven(tuple(one) if isinstance(one, dict) else (), (*rest, *stands))
    return {key: stands[key] if key in stands else rest[key] for key in order if key in stands or key in rest}


# --- steps ------------------------------------------------------------------------------------------


def _steps(work: _Work, path: Path, before: list[Tree], one: list[Tree], other: list[Tree]) -> list[Tree]:
    """Steps by name, each by its fields; where the order itself was changed in two ways, the ancestor's stands."""
    was, left, right = (dict(_named(steps)) for steps in (before, one, other))
    order, clear = order_of(tuple(was), tuple(left), tuple(right))
    if not clear:
        work.note((*path, ORDER), Case.TWO_WAYS, list(was), list(left), list(right))
    found = []
    for name in order:
        stands = _step(work, (*path, name), was.get(name, GONE), left.get(name, GONE), right.get(name, GONE))
        if not isinstance(stands, Gone):
            found.append(stands)
    return found


def _named(steps: list[Tree]) -> Iterator[tuple[str, Tree]]:
    """Steps by name, told apart where one comes twice: `fold`, `fold 2`."""
    seen: Counter[str] = Counter()
    for step in steps:
        name = str(next(iter(step), "")) if isinstance(step, dict) else str(step)
        seen[name] += 1
        yield (name if seen[name] == 1 else f"{name} {seen[name]}"), step


def _step(work: _Work, path: Path, before: Side, one: Side, other: Side) -> Side:
    lines = [_line(side) for side in (before, one, other)]
    if any(line is None for line in lines) or any(
        alike(a, b) for a, b in ((one, other), (one, before), (other, before))
    ):
        return _whole(work, path, before, one, other)
    told = combine_lines(*(line or "" for line in lines))
    if told is None:
        return _whole(work, path, before, one, other)
    for asked in told.asked:
        sides = (side or GONE for side in (asked.before, asked.one, asked.other))
        work.note((*path, asked.field), Case.TWO_WAYS, *sides)
    if not told.asked:
        work.note(path, Case.WITHIN, GONE, GONE, GONE)
    assert isinstance(one, dict)
    return {next(iter(one)): told.line}


def _line(side: Side) -> str | None:
    """The line of a step of one name; None for one that is not there, is words alone or has its fields written out."""
    if not isinstance(side, dict) or len(side) != 1:
        return None
    line = next(iter(side.values()))
    return line if isinstance(line, str) else None


# --- questions ----------------------------------------------------------------------------------------


def _asked(before: Side, one: Side, other: Side) -> Side:
    """Open questions: one is gone when either settled it and the other left it; proposals unite."""
    was, left, right = (side if isinstance(side, dict) else {} for side in (before, one, other))
    open_now: dict[str, Tree] = {}
    for item in sorted({*left, *right}):
        mine, theirs, old = left.get(item, GONE), right.get(item, GONE), was.get(item, GONE)
        if isinstance(mine, dict) and isinstance(theirs, dict) and not alike(mine, old):
            open_now[item] = mine if alike(theirs, old) else theirs | mine
        elif isinstance(theirs, dict) and not alike(theirs, old):
            open_now[item] = theirs
        elif isinstance(mine, dict) and (not alike(mine, old) or theirs is not GONE):
            open_now[item] = mine
    return open_now or GONE
