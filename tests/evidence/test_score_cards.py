"""Published score cards: points that sum to their stated totals, through the one rule for a weighted score.

A card gives each attribute so many points at most. A mark is the share of them that was given, on the
book's scale; the weights are the most points. Then sum of w x mark / sum of w is the card's own total.
"""

from __future__ import annotations

import json
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders import QUICK
from ovenleaf.domain.trial import Marks, ScoreScale, Trial
from ovenleaf.evidence.ranking import outcome, rank, weighted

NOW = "2026-11-25T12:00:00+01:00"
TEN = ScoreScale(low=Decimal(0), high=Decimal(10))

# The most points for each attribute, and the total that the source states.
CARDS = {
    # Teachers College card 1, in Kinne and Cooley, Foods and Household Management: general 15, internal 55, flavour 30
    "teachers-college-1": (
        {"shape": "2.5", "size": "2.5", "crust": 10, "depth of crust": 10, "texture": 15, "crumb": 30, "flavour": 30},
        100,
    ),
    # Teachers College card 2, same source: 20 (5, 5, 10), 50 (10, 20, 20), 30
    "teachers-college-2": (
        {"shape": 5, "size": 5, "crust": 10, "depth of crust": 10, "texture": 20, "crumb": 20, "flavour": 30},
        100,
    ),
    # A card of the 1920s: crust 8 is shade, uniformity, character and depth, 2 each
    "nineteen-twenties": (
        {
            "shape": 5,
            "size": 2,
            "shade": 2,
            "uniformity": 2,
            "character": 2,
            "depth": 2,
            "lightness": 20,
            "even gas": 10,
            "moisture": 5,
            "elasticity": 5,
            "colour": 15,
            "flavour": 30,
        },
        100,
    ),
    # A study sheet from China, each line in three bands
    "study-sheet": ({"appearance": 15, "colour": 10, "texture": 30, "grain": 15, "flavour": 30}, 100),
    # FAO food-processing appendix, the part on the loaf
    "fao-appendix": ({"external": 4, "crumb colour": 5, "cell structure": 8, "firmness": 8}, 25),
}
# FAO food-processing appendix, the two attributes that are given in bands
FAO_BANDS = {"crumb recovery": (8, 6, 4, 2), "crust": (5, 2, 0)}


def points(card):
    return {name: Decimal(most) for name, most in CARDS[card][0].items()}


def as_weights(most):
    return tuple(most.items())


def score_of(given_points, most):
    """The score on the book's scale of 0 to 10 for the points that a judge gave."""
    marks = {name: given_points[name] * 10 / most[name] for name in most}
    return weighted(marks, as_weights(most))


@pytest.mark.parametrize("card", CARDS)
def test_a_card_sums_to_its_stated_total(card):
    """The most points of all attributes together are the total that its source prints."""
    assert sum(points(card).values()) == CARDS[card][1]


@pytest.mark.parametrize("card", CARDS)
def test_full_points_and_no_points_are_the_ends_of_the_scale(card):
    """A perfect loaf scores 10, one that gets nothing 0."""
    most = points(card)
    assert score_of(most, most) == 10
    assert score_of(dict.fromkeys(most, Decimal(0)), most) == 0


@pytest.mark.parametrize("card", CARDS)
@QUICK
@given(data=st.data())
def test_a_weighted_score_is_the_card_s_own_sum(card, data):
    """Whatever half points a judge gives, sum of w x mark / sum of w times the total is the sum of the points."""
    most = points(card)
    got = {name: Decimal(data.draw(st.integers(0, int(top * 2)))) / 2 for name, top in most.items()}
    total = score_of(got, most) * CARDS[card][1] / 10
    assert abs(total - sum(got.values())) < Decimal("1e-20")


def test_a_card_read_by_its_groups_comes_to_the_same():
    """Teachers College card 1 by general 15, internal 55 and flavour 30 scores as by its seven lines."""
    most = points("teachers-college-1")
    got = dict(most, crumb=Decimal(24), crust=Decimal(7), texture=Decimal(9), flavour=Decimal(22))
    general, internal = ("shape", "size", "crust"), ("depth of crust", "texture", "crumb")
    grouped = {
        "general": sum(got[name] for name in general) * 10 / 15,
        "internal": sum(got[name] for name in internal) * 10 / 55,
        "flavour": got["flavour"] * 10 / 30,
    }
    weights = (("general", Decimal(15)), ("internal", Decimal(55)), ("flavour", Decimal(30)))
    assert abs(weighted(grouped, weights) - score_of(got, most)) < Decimal("1e-20")
    assert abs(score_of(got, most) - Decimal("7.7")) < Decimal("1e-20")  # 77 of 100: 12 + 43 + 22


@pytest.mark.parametrize("attribute", FAO_BANDS)
def test_bands_are_marks_like_others(attribute):
    """A band's points over its best band's are a mark; the best band is the top of the scale, in falling order."""
    bands = FAO_BANDS[attribute]
    marks = [weighted({attribute: Decimal(band) * 10 / bands[0]}, ((attribute, Decimal(bands[0])),)) for band in bands]
    assert marks[0] == 10
    assert [mark * bands[0] / 10 for mark in marks] == list(bands)
    assert marks == sorted(marks, reverse=True)


def test_weights_on_any_footing_give_the_same_score():
    """10/5/1 points (ASB) or a tenth of them: only their proportion counts."""
    means = {"crumb": Decimal(8), "crust": Decimal(6), "flavour": Decimal(3)}
    score = weighted(means, (("crumb", Decimal(10)), ("crust", Decimal(5)), ("flavour", Decimal(1))))
    assert score == Decimal("7.0625")  # (80 + 30 + 3) / 16
    tenth = (("crumb", Decimal(1)), ("crust", Decimal("0.5")), ("flavour", Decimal("0.1")))
    assert weighted(means, tenth) == score


def test_an_attribute_with_weight_that_nobody_scored_leaves_no_score():
    """A blank line of a card is not zero points: the card has no total then."""
    assert weighted({"crumb": Decimal(7), "crust": None}, (("crumb", Decimal(30)), ("crust", Decimal(10)))) is None
    assert weighted({"crumb": Decimal(7), "crust": None}, (("crumb", Decimal(30)), ("crust", Decimal(0)))) == 7


def test_a_score_on_another_scale_is_left_out_with_its_reason():
    """9-point hedonic marks (Peryam and Pilgrim 1957, from memory) are never put among marks of 0 to 10."""
    nine = ScoreScale(low=Decimal(1), high=Decimal(9))
    one = Marks(taster="noor", crumb=Decimal(8), crust=Decimal(7))
    facts = {"formula": "roll", "revision": "r1.noor", "bake_date": "2026-11-12", "scores": (one,)}
    ours = Trial(name="roll/2026-11-12-noor", code="A1", scale=TEN, **facts)
    theirs = Trial(name="roll/2026-11-12-noor-2", code="A2", scale=nine, **facts)
    equal = (("crumb", Decimal(1)), ("crust", Decimal(1)))
    found = rank([theirs, ours], equal, TEN)
    assert [row.trial.code for row in found.rows] == ["A1"]
    assert [(trial.code, why) for trial, why in found.left_out] == [("A2", "scored on another scale, 1 to 9")]
    assert outcome((one,), equal).score == Decimal("7.5")


@pytest.fixture
def card_book(oven, tmp_path):
    """A roll whose three bakes were judged by the three lines of Teachers College card 1 that the book knows."""
    assert oven("start stall --baker noor", cwd=tmp_path).code == 0
    page = "formula: roll\ningredients:\n  strong wheat flour: 100%\n  water: 65%\n  salt: 2%\n"
    book = tmp_path / "stall"
    assert oven("enter -", cwd=book, typed=page).code == 0
    for crumb, crust, flavour in JUDGED:
        line = f"record roll --crumb {Decimal(crumb) / 3} --crust {crust} --flavour {Decimal(flavour) / 3}"
        assert oven(line, cwd=book, now=NOW).code == 0
    return book


# Points of 30 for crumb, 10 for crust, 30 for flavour.
JUDGED = (("24", "7", "18"), ("21", "9", "24"), ("27", "4", "15"))


def test_a_card_through_rank(card_book, oven):
    """`rank --weights` puts the bakes in the order of their points; its score is their share of 70, out of 10."""
    ran = oven("rank roll --weights crumb=30,crust=10,flavour=30 --json", cwd=card_book, now=NOW)
    rows = {row["code"]: (row["place"], row["score"]) for row in json.loads(ran.out)["rows"]}
    totals = {code: sum(map(Decimal, judged)) for code, judged in zip(("A1", "A2", "A3"), JUDGED, strict=True)}
    assert totals == {"A1": 49, "A2": 54, "A3": 46}
    assert {code: place for code, (place, _) in rows.items()} == {"A2": 1, "A1": 2, "A3": 3}
    for code, (_, score) in rows.items():
        assert score == pytest.approx(float(totals[code] / 7), abs=1e-6)


def test_weights_change_the_order_and_are_said(card_book, oven):
    """With the crust alone the same bakes stand otherwise; the screen says what the score is made of."""
    ran = oven("rank roll --weights crust=1 --json", cwd=card_book, now=NOW)
    assert [row["code"] for row in json.loads(ran.out)["rows"]] == ["A2", "A1", "A3"]
    screen = oven("rank roll --weights crumb=30,crust=10,flavour=30", cwd=card_book, now=NOW).out
    assert "Score is 30 parts crumb, 10 parts crust and 30 parts flavour" in " ".join(screen.split())
    alone = oven("rank roll --weights crumb=1,crust=0", cwd=card_book, now=NOW).out
    assert "Score is crumb alone" in alone


def test_a_book_that_changes_its_scale_keeps_the_two_apart(card_book, oven):
    """Older bakes stay on theirs, are left out with the reason, and still take marks on their own scale only."""
    page = card_book / "book.yaml"
    page.write_text(page.read_text().replace("scale: 0 to 10", "scale: 1 to 100"))
    assert oven("save", cwd=card_book, now=NOW).code == 0
    assert oven("record roll --crumb 85 --crust 70", cwd=card_book, now=NOW).code == 0
    document = json.loads(oven("rank roll --json", cwd=card_book, now=NOW).out)
    assert [row["code"] for row in document["rows"]] == ["A4"]
    assert {row["why"] for row in document["left_out"]} == {"scored on another scale, 0 to 10"}
    refused = oven("score A1 --taster tomas --crumb 85", cwd=card_book, now=NOW)
    assert refused.code == 3
    assert "crumb 85 is off the scale of trial A1, 0 to 10." in refused.err
    scored = oven("score A1 --taster tomas --crumb 8.5", cwd=card_book, now=NOW)
    assert "8.5 of 10" in scored.out
    assert "off the scale of this book, 1 to 100" in oven("score A4 --crumb 101", cwd=card_book, now=NOW).err
