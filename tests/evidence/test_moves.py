"""What a changed mark moves: only what stands elsewhere, or on another score, than before."""

from __future__ import annotations

from decimal import Decimal

from builders import trial
from ovenleaf.domain.trial import ScoreScale
from ovenleaf.evidence.moves import Standing, revision_moves, trial_moves

TEN = ScoreScale(low=Decimal(0), high=Decimal(10))
ALIKE = (("crumb", Decimal(1)), ("crust", Decimal(1)))


def bake(code, revision, crumb, crust, more=""):
    """A scored trial."""
    return trial(
        f"code: {code}\ntrial: loaf/2026-11-12-{code.lower()}\nrevision: {revision}.noor\n{more}"
        f"scale: 0 to 10\nscores:\n  noor:\n    crumb: {crumb}\n    crust: {crust}\n"
    )


BEFORE = (bake("A1", "r1", 7, 7), bake("A2", "r1", 6, 6), bake("A3", "r2", 5, 5), bake("A4", "r2", 5, 4))


def place(number, score, *, tied=False):
    """A place with its score."""
    return Standing(place=number, tied=tied, score=Decimal(score))


def test_the_trial_and_those_it_passes_have_moved():
    """A3 rises from third past A2 to second; the first and the last stay where they were."""
    after = (*BEFORE[:2], bake("A3", "r2", "6.5", "6.5"), BEFORE[3])
    moved = {move.name: (move.before, move.after) for move in trial_moves(BEFORE, after, ALIKE, TEN)}
    assert moved == {"A3": (place(3, 5), place(2, "6.5")), "A2": (place(2, 6), place(3, 6))}


def test_a_place_that_comes_to_be_shared_has_moved():
    """The other of the two is no longer alone where it was."""
    after = (*BEFORE[:2], bake("A3", "r2", 6, 6), BEFORE[3])
    moved = {move.name: move.after for move in trial_moves(BEFORE, after, ALIKE, TEN)}
    assert moved == {"A2": place(2, 6, tied=True), "A3": place(2, 6, tied=True)}


def test_what_is_left_out_leaves_its_place():
    """The trial is not ranked any more, and those below it move up."""
    after = (bake("A1", "r1", 7, 7, "left_out: the power failed\n"), *BEFORE[1:])
    moved = {move.name: (move.before, move.after) for move in trial_moves(BEFORE, after, ALIKE, TEN)}
    assert moved["A1"] == (place(1, 7), None)
    assert moved["A2"] == (place(2, 6), place(1, 6))


def test_a_revision_moves_by_its_mean():
    """r2 overtakes nobody but stands on another mean; r1 does not move."""
    after = (*BEFORE[:3], bake("A4", "r2", 6, 6))
    moved = revision_moves(BEFORE, after, ALIKE, TEN)
    assert [(move.name, move.before, move.after) for move in moved] == [
        ("r2.noor", place(2, "4.75"), place(2, "5.5")),
    ]


def test_nothing_moves_where_nothing_changed():
    """Weights that went into the bowl do not rank a bread."""
    after = (bake("A1", "r1", 7, 7, "weighed:\n  water: 396 g\n"), *BEFORE[1:])
    assert trial_moves(BEFORE, after, ALIKE, TEN) == revision_moves(BEFORE, after, ALIKE, TEN) == ()
