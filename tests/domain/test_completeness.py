"""What a trial's page lacks for repeating the bake."""

from __future__ import annotations

from builders import formula, trial
from ovenleaf.domain.completeness import missing

ROLL = formula(
    """
    ingredients:
      wheat flour: 90%
      rye flour: 10%
      water: 65%
    process:
      - first mix: 3 min
      - bulk: 60 min at 26 C
      - final proof: 50 min at 28 C
      - bake: 18 min at 220 C
    """
)
FLOURS = ("wheat flour", "rye flour")

WHOLE = """
    batch: 600 g flour
    as_planned: all the rest
    flours:
      wheat flour: Mill Lane, lot B-114
      rye flour: Mill Lane, lot 0610
    steps:
      - second mix: 9 min, dough 25.5 C
      - bulk: 58 min at 26 C
      - final proof: 47 min
      - bake: 19 min at 220 C
    """


def test_a_bake_that_is_told_whole_lacks_nothing():
    """It could be repeated from its page."""
    assert missing(trial(WHOLE), ROLL, FLOURS) == ()


def test_a_bake_in_one_line_lacks_nearly_everything():
    """In the order of the work."""
    gaps = missing(trial("scores:\n  noor:\n    crumb: 5\n"), ROLL, FLOURS)

    assert gaps[:3] == ("how big a batch", "which wheat flour", "which rye flour")
    assert gaps[3:6] == ("whether all was weighed as planned", "dough temperature", "bulk")
    assert gaps[6] == "final proof"
    assert len(gaps) == 8


def test_a_dough_temperature_may_stand_in_a_step_or_by_itself():
    """Either says it."""
    page = WHOLE.replace(", dough 25.5 C", "")

    assert missing(trial(page), ROLL, FLOURS) == ("dough temperature",)
    assert missing(trial(page + "measured:\n      dough temperature: 25.5 C\n"), ROLL, FLOURS) == ()


def test_each_gap_is_told_alone():
    """Only what is not said."""
    page = WHOLE.replace("rye flour: Mill Lane, lot 0610", "caraway: fresh").replace(
        "- bulk: 58 min at 26 C", "- fold: 1"
    )

    assert missing(trial(page), ROLL, FLOURS) == ("which rye flour", "bulk")
