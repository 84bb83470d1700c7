"""What a trial's page lacks for repeating the bake."""

from __future__ import annotations

import pytest

from builders import formula, trial
from ovenleaf.domain.completeness import gaps, missing

ROLL = formula(
    """
    ingredients:
      wheat flour: 90%
      rye flour: 10%
      water: 65%
    process:
      - first mix: 3 min
      - bulk: 60 min at 26 C, until half as big again
      - final proof: 50 min at 28 C
      - bake: 18 min at 220 C
    """
)
FLOURS = ("wheat flour", "rye flour")

WHOLE = """
    baker: noor
    bake_date: 2026-11-12
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
    told = missing(trial("scores:\n  noor:\n    crumb: 5\n"), ROLL, FLOURS)

    assert told[:5] == ("who baked", "the day of baking", "how big a batch", "which wheat flour", "which rye flour")
    assert told[5:7] == ("whether all was weighed as planned", "dough temperature")
    assert told[7:] == ("how long the bulk took", "how long the final proof took", "the oven's heat and time")


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

    assert missing(trial(page), ROLL, FLOURS) == ("which rye flour", "how long the bulk took")


def test_a_step_that_was_only_ticked_has_no_time():
    """Done is not how long: not recorded is not as planned."""
    page = WHOLE.replace("- bulk: 58 min at 26 C", "- bulk: done")

    assert missing(trial(page), ROLL, FLOURS) == ("how long the bulk took",)


def test_the_sign_by_which_bulk_ended_may_be_the_formula_s_own():
    """Where neither the formula nor the page has one, it is asked for, and only for repeating."""
    no_sign = formula("ingredients:\n  wheat flour: 100%\n  water: 65%\nprocess:\n  - bulk: 60 min\n")
    page = WHOLE.replace("58 min at 26 C", "58 min")

    [gap] = [gap for gap in gaps(trial(page), no_sign, FLOURS) if gap.repeat]
    assert (gap.words, gap.compare) == ("how the bulk looked when it ended", False)
    for sign in ("58 min, until half as big again", "58 min, rise 60%", "58 min, pH 4.2", "58 min, domed"):
        assert missing(trial(page.replace("58 min", sign)), no_sign, FLOURS) == ()


@pytest.mark.parametrize(
    ("line", "gap"),
    [
        ("bake: 19 min", "the oven's heat"),
        ("bake: at 220 C", "the time in the oven"),
        ("bake: done", "the oven's heat and time"),
    ],
)
def test_of_the_oven_both_are_wanted(line, gap):
    """Heat and time, each told of alone."""
    page = WHOLE.replace("bake: 19 min at 220 C", line)

    assert missing(trial(page), ROLL, FLOURS) == (gap,)


def test_comparing_wants_a_question_the_cold_weight_and_marks():
    """Besides what repeating wants; a mark that is missing is named."""
    told = [gap.words for gap in gaps(trial(WHOLE), ROLL, FLOURS)]
    assert told == ["the question it was to answer", "the weight when cold", "marks for crumb and crust"]

    more = (
        "question: more water?\n    measured:\n      baked weight: 884 g\n    scores:\n      noor:\n        crumb: 7\n"
    )
    page = WHOLE + more
    assert [gap.words for gap in gaps(trial(page), ROLL, FLOURS)] == ["marks for crust"]


def test_a_bake_from_a_shared_dough_is_asked_for_its_own_part_alone():
    """What was mixed stands on the other page."""
    page = "baker: noor\nbake_date: 2026-11-12\nshares_dough_with: D1\n"

    assert missing(trial(page), ROLL, FLOURS) == ("how long the final proof took", "the oven's heat and time")
