"""A made-up baker who follows `next` finds the better revision in fewer bakes than one who repeats the leader."""

from __future__ import annotations

import random
from decimal import Decimal
from statistics import mean

import pytest

from ovenleaf.domain.trial import Marks, ScoreScale, Trial
from ovenleaf.evidence.next import Known, leader, suggestions
from ovenleaf.evidence.standing import standings

pytestmark = pytest.mark.counted

EQUAL = (("crumb", Decimal(1)), ("crust", Decimal(1)))
TEN = ScoreScale(low=Decimal(0), high=Decimal(10))
BOOKS, MOST, SCATTER = 100, 12, 0.5
SURE = 0.9  # about 9 in 10 is called; what is called better wants two doughs of each, which would favour `next`
REVISIONS = ("r1.noor", "r2.noor")


def bake(lots, trials, revision, truth):
    """One more dough, half-point marks about the truth."""
    mark = Decimal(round(lots.gauss(truth[revision], SCATTER) * 2)) / 2
    code = f"A{len(trials) + 1}"
    marks = Marks(taster="noor", crumb=mark, crust=mark)
    trials.append(
        Trial(
            name=f"roll/{code}",
            formula="roll",
            revision=revision,
            code=code,
            bake_date="2026-11-12",
            scale=TEN,
            scores=(marks,),
        )
    )


def bakes_until_plain(seed, gap, choose):
    """How many bakes until one leads by about 9 in 10 (MOST where none does), and whether it is the better one."""
    lots = random.Random(seed)
    truth = {"r1.noor": 6.5, "r2.noor": 6.5 + gap * lots.choice((1, -1))}
    trials = []
    for revision in REVISIONS:
        bake(lots, trials, revision, truth)
    while len(trials) < MOST:
        found = standings(trials, EQUAL, TEN)
        if found.leader.chance >= SURE:
            return len(trials), leader(found).row.revision == max(truth, key=truth.get)
        bake(lots, trials, choose(found), truth)
    return MOST, None


def by_next(found):
    """The first that `next` suggests."""
    return suggestions(Known(standings=found, revisions=REVISIONS, base="r1.noor"))[0].revision


def by_leader(found):
    """The leader again, as long as it leads."""
    return leader(found).row.revision


@pytest.mark.parametrize("gap", [0.75, 1.5])
def test_following_next_is_sooner_done_and_no_less_right(gap):
    """Scatter half a mark, 200 books; prints how many bakes each baker needs and how often the answer is right."""
    found = {}
    for name, choose in (("follows next", by_next), ("repeats the leader", by_leader)):
        ran = [bakes_until_plain(seed, gap, choose) for seed in range(BOOKS)]
        called = [right for _, right in ran if right is not None]
        found[name] = mean(bakes for bakes, _ in ran), len(called), sum(called)
        told = found[name]
        print(f"gap {gap}, {name}: {told[0]:.1f} bakes, called {told[1]} of {BOOKS}, right {told[2]}")
    (mine, called, right), (theirs, their_called, _) = found["follows next"], found["repeats the leader"]

    assert mine < theirs
    assert called >= their_called
    assert right >= 0.85 * called
