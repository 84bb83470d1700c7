"""Batches and bowls: how much of everything, as a real scale shows it."""

from __future__ import annotations

from decimal import Decimal as D

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders import QUICK, pantry, worked
from ovenleaf.domain.dilution import dilutions
from ovenleaf.domain.ingredients import Kind
from ovenleaf.domain.numbers import portion
from ovenleaf.domain.quantity import GRAMS_PER, Unit
from ovenleaf.domain.scaling import BadBatch, Scale, Wanted, as_weighed, batch, weigh_up
from ovenleaf.domain.together import builds_together, flours_together

STRAIGHT = "ingredients:\n  wheat flour: 100%\n  water: 68%\n  salt: 2%\n  instant yeast: 0.4%\n"
POOLISH = """
    ingredients:
      strong wheat flour: 100%
      water: 62%
      salt: 2%
      instant yeast: 0.62%
    preferments:
      poolish:
        takes: 20% of the flour
        strong wheat flour: 100%
        water: 100%
        instant yeast: 0.1%
    """
# The first build goes whole into the second, and that into the dough.
NESTED = """
    ingredients:
      strong wheat flour: 100%
      water: 70%
      salt: 2%
    preferments:
      first build:
        takes: 5% of the flour
        strong wheat flour: 90%
        water: 90%
        levain: 20%
      levain build:
        takes: 20% of the flour
        first build: all
        strong wheat flour: 75%
        water: 75%
    """
# In bowls: a levain of 450 g, of which 50 g stay back.
KEPT = """
    stages:
      levain:
        strong wheat flour: 200 g
        water: 200 g
        starter: 50 g
      dough:
        levain: all
        strong wheat flour: 800 g
        water: 500 g
        salt: 20 g
    kept_for_next_time:
      levain: 50 g
    """
PAGES = {"straight": STRAIGHT, "poolish": POOLISH, "kept": KEPT}


def near(value, expected, places=2):
    """Equal when shown to so many decimals."""
    assert round(float(value), places) == expected


def lines_of(bowl):
    """Items with their printed weight."""
    return {line.item: line.grams for line in bowl.lines}


# --- batches ---


def test_twelve_pieces_of_275_g():
    """Flour 1936.62, water 1316.90, salt 38.73, yeast 7.75 g, in all 3300 (computed)."""
    made = batch(Wanted(pieces=12, each=D(275)), worked(STRAIGHT).total)
    for share, grams in ((100, 1936.62), (68, 1316.90), (2, 38.73), ("0.4", 7.75)):
        near(portion(D(share), made.flour), grams)
    near(made.dough, 3300)


def test_a_published_scaling_example():
    """Flour 59.15 lb, 67.5 % water 39.95, salt 1.18, total 169.86 % 100.5 lb (a trade bakery page, 1.2).

    Printed figures are rounded: half of the last printed digit; its 0.22 lb of yeast is a slip for 0.21.
    """
    page = STRAIGHT.replace("68%", "67.5%").replace("0.4%", "0.36%")
    made = batch(Wanted(dough=D("100.50")), worked(page).total)
    assert abs(made.flour - D("59.15")) < D("0.02")
    assert abs(portion(D("67.5"), made.flour) - D("39.95")) < D("0.02")
    assert abs(portion(D(2), made.flour) - D("1.18")) < D("0.005")
    assert abs(portion(D("0.36"), made.flour) - D("0.21")) < D("0.005")


def test_a_batch_by_its_dough_and_by_its_flour_agree():
    """1000 g of dough of the poolish formula are 586.51 g of flour, and back (e-ISBN 9780062447937, exact; 1.4)."""
    total = D("170.5")
    by_dough = batch(Wanted(dough=D(1000)), total)
    near(by_dough.flour, 586.51)
    near(batch(Wanted(flour=by_dough.flour), total).dough, 1000)


def test_pieces_as_baked():
    """A roll of 60 g baked at 15 % loss is 70.6 g of dough; a baguette of 250 g at 22 % is 320.5 (computed, 6.2)."""
    near(batch(Wanted(pieces=1, each=D(60), baked=True, bake_loss=D(15)), D(170)).each, 70.6, 1)
    near(batch(Wanted(pieces=1, each=D(250), baked=True, bake_loss=D(22)), D(170)).each, 320.5, 1)


def test_losses_multiply():
    """10 % on the bench and 20 % in the oven leave 72 % of the dough, not 70 (computed, 6)."""
    made = batch(Wanted(pieces=10, each=D(72), baked=True, bench_loss=D(10), bake_loss=D(20)), D(170))
    near(made.dough, 1000)
    near(made.lost, 100)


def test_a_published_sum_of_losses_is_put_right():
    """500 lb of bread, 2 % lost before the oven and 11 % in it: 573.3 lb of dough, for losses chain to 12.78 %; a
    trade page adds them to 13 % and comes to 574.7."""
    made = batch(Wanted(pieces=500, each=D(1), baked=True, bench_loss=D(2), bake_loss=D(11)), D(170))
    assert round(made.dough, 1) == D("573.3")
    assert round(100 - 50000 / made.dough, 2) == D("12.78")
    assert round(500 / D("0.87"), 1) == D("574.7")


def test_a_bench_loss_comes_off_a_batch_of_dough_or_flour():
    """Of 2000 g of dough 40 g stay on bowl and bench; all of it is still 2000 g."""
    assert batch(Wanted(dough=D(2000), bench_loss=D(2)), D(170)).lost == 40
    made = batch(Wanted(flour=D(1000), bench_loss=D(2)), D(170))
    assert (made.dough, made.lost) == (1700, 34)


@given(
    pieces=st.integers(1, 500),
    each=st.decimals(D(20), D(1500), places=1),
    bench=st.decimals(0, 20, places=1),
    bake=st.decimals(0, 40, places=1),
)
@QUICK
def test_pieces_read_back_as_pieces_times_weight(pieces, each, bench, bake):
    """What is left of the dough after both losses is the pieces times what each was to weigh baked."""
    made = batch(Wanted(pieces=pieces, each=each, baked=True, bench_loss=bench, bake_loss=bake), D("167.62"))
    shelf = made.dough * (100 - bench) / 100 * (100 - bake) / 100
    assert abs(shelf - pieces * each) < D("1e-15")
    assert abs(portion(D("167.62"), made.flour) - made.dough) < D("1e-15")


@pytest.mark.parametrize(
    ("wanted", "why"),
    [
        (Wanted(pieces=0, each=D(85)), "a piece at least"),
        (Wanted(pieces=12, each=D(0)), "weigh something"),
        (Wanted(pieces=12, each=D(85), bench_loss=D(100)), "bench loss of 100 % leaves nothing"),
        (Wanted(pieces=12, each=D(85), bake_loss=D(120)), "bake loss of 120 % leaves nothing"),
        (Wanted(pieces=12, each=D(85), bake_loss=D(-1)), "zero or more"),
        (Wanted(flour=D(0)), "some dough"),
        (Wanted(dough=D(0)), "some dough"),
    ],
)
def test_a_batch_that_cannot_be(wanted, why):
    """Nothing to make, or a loss that leaves nothing, and it is said which."""
    with pytest.raises(BadBatch) as caught:
        batch(wanted, D(170))
    assert why in caught.value.why


# --- bowls ---


def test_a_published_poolish_on_a_scale():
    """Flour 587, of it 194 in the poolish and 393 in the dough, salt 12 (e-ISBN 9780062447937, 33 % prefermented, 1.4).

    The book rounds each line alone and prints 194 and 204 of water; exact is 193.55 and 205.28. Here water takes
    up what the other lines were rounded, so that each bowl is as heavy as it should be.
    """
    page = POOLISH.replace(" 62%", " 68%").replace("0.62%", "0.5%").replace("20%", "33%")
    bowls = weigh_up(worked(page), D("586.51"), Scale(step=D(1), fine=D(1), below=D(0)), pantry())
    poolish, final = (lines_of(bowl) for bowl in bowls)
    assert (poolish["strong wheat flour"], final["strong wheat flour"]) == (194, 393)
    assert (poolish["water"], final["water"]) == (193, 205)
    assert final["salt"] == 12
    assert abs(bowls[-1].total - 1000) < D("0.5")


def test_a_published_biga():
    """Biga flour 4, water 2.4; final 16, 12.2, 0.4, 0.24 and 6.4 lb (King Arthur Flour, Bakery Formulas sheet, 1.5)."""
    page = """
        ingredients:
          strong wheat flour: 100%
          water: 73%
          salt: 2%
          instant yeast: 1.2%
        preferments:
          biga:
            takes: 20% of the flour
            strong wheat flour: 100%
            water: 60%
        """
    bowls = weigh_up(worked(page), D(20), Scale(step=D("0.01"), fine=D("0.01")), pantry())
    assert lines_of(bowls[0]) == {"strong wheat flour": 4, "water": D("2.4")}
    assert sorted(lines_of(bowls[1]).values()) == sorted([D(16), D("12.2"), D("0.4"), D("0.24"), D("6.4")])
    assert bowls[1].total == D("35.24")


def test_a_published_levain():
    """Levain 360 g; final 740, 60, 620, 21, 2: 1803 g both ways (K. Forkish, Flour Water Salt Yeast, 2012; 1.7)."""
    page = """
        ingredients:
          strong wheat flour: 90%
          whole wheat flour: 10%
          water: 78%
          salt: 2.1%
          instant yeast: 0.2%
        preferments:
          levain:
            strong wheat flour: 16%
            whole wheat flour: 4%
            water: 16%
        """
    bowls = weigh_up(worked(page), D(1000), Scale(), pantry())
    assert bowls[0].total == 360
    assert lines_of(bowls[1]) == {
        "strong wheat flour": 740,
        "whole wheat flour": 60,
        "water": 620,
        "levain": 360,
        "salt": 21,
        "instant yeast": 2,
    }
    assert bowls[1].total == 1803


@pytest.mark.parametrize(("water", "poured", "final"), [("60%", 120, 580), ("100%", 200, 500), ("125%", 250, 450)])
def test_three_hydrations_of_one_preferment_leave_the_whole_alone(water, poured, final):
    """F 1000, hydration 70 %, 20 % prefermented: 1720 g whichever the preferment's water (computed, 1.9)."""
    page = f"""
        ingredients:
          strong wheat flour: 100%
          water: 70%
          salt: 2%
        preferments:
          poolish:
            takes: 20% of the flour
            strong wheat flour: 100%
            water: {water}
        """
    bowls = weigh_up(worked(page), D(1000), Scale(), pantry())
    assert (lines_of(bowls[0])["water"], lines_of(bowls[1])["water"], bowls[1].total) == (poured, final, 1720)


def test_a_starter_inside_a_levain():
    """F 1000, 30 % in the levain, the starter a tenth of its flour: 60, new flour and water 270, final 700 and 400
    (computed, 1.9)."""
    page = """
        ingredients:
          strong wheat flour: 100%
          water: 70%
        preferments:
          build:
            takes: 30% of the flour
            strong wheat flour: 90%
            water: 90%
            levain: 20%
        """
    build, final = weigh_up(worked(page), D(1000), Scale(), pantry())
    assert lines_of(build) == {"strong wheat flour": 270, "water": 270, "levain": 60}
    assert lines_of(final) == {"strong wheat flour": 700, "water": 400, "build": 600}


def test_a_nested_preferment_goes_into_the_one_that_takes_it():
    """The first build is weighed first, goes whole into the second, and only that into the dough."""
    first, second, final = weigh_up(worked(NESTED), D(1000), Scale(), pantry())
    assert (first.name, first.into, second.into) == ("first build", "levain build", "")
    assert lines_of(second)["first build"] == pytest.approx(first.total, abs=D("0.1"))
    assert "first build" not in lines_of(final)
    assert lines_of(final)["levain build"] == pytest.approx(second.total, abs=D("0.5"))
    weighed = dict(as_weighed((first, second, final), pantry(), worked(NESTED).whole))
    assert set(weighed) == {"strong wheat flour", "water", "salt"}
    assert abs(weighed["water"] - 70) < D("0.1")  # the starter's water is counted


def test_what_is_kept_for_next_time_is_made_too():
    """All 450 g of levain are made, 50 g stay back, 400 g go into the dough; what stays does not count in it."""
    page = worked(KEPT)
    levain, dough = weigh_up(page, page.flour_g, Scale(), pantry())
    assert (levain.total, levain.kept, levain.used) == (450, 50, 400)
    assert lines_of(levain) == {"strong wheat flour": 200, "water": 200, "starter": 50}
    assert lines_of(dough)["levain"] == 400
    assert dough.total == 1720
    weighed = dict(as_weighed((levain, dough), pantry(), page.whole))
    for share in page.whole:
        assert abs(weighed[share.item] - share.pct) < D("0.05")


@given(page=st.sampled_from(sorted(PAGES)), flour=st.integers(200, 20000), step=st.sampled_from(["0.1", "1", "2", "5"]))
@QUICK
def test_water_takes_up_the_rounding(page, flour, step):
    """Lines add up to their bowl; salt and yeast are the nearest the scale can show; the dough is as heavy as it
    should be to within the water's own step."""
    known, scale, page = pantry(), Scale(step=D(step), fine=D("0.1")), worked(PAGES[page])
    bowls = weigh_up(page, D(flour), scale, known)
    for bowl in bowls:
        assert bowl.total == sum(line.grams for line in bowl.lines)
        for line in bowl.lines:
            if known.get(line.item).kind in (Kind.SALT, Kind.YEAST) and not line.few:
                assert abs(line.grams - line.exact) <= scale.step_at(line.exact) / 2
                assert line.grams % scale.step_at(line.grams) == 0
    assert abs(bowls[-1].total - portion(page.total, D(flour))) <= D(step) / 2 + D("0.1")


@given(flour=st.integers(100, 5000), step=st.sampled_from(["0.1", "1", "5"]))
@QUICK
def test_the_rounding_is_worked_back(flour, step):
    """What the printed weights come to is the formula again, as near as the scale allows."""
    known, page = pantry(), worked(POOLISH)
    shares = dict(as_weighed(weigh_up(page, D(flour), Scale(step=D(step), fine=D("0.1")), known), known, page.whole))
    allowed = D(300) * D(step) / flour + D("0.05")
    for share in page.whole:
        assert abs(shares[share.item] - share.pct) <= allowed


def test_ounces_add_up_as_ounces():
    """On a scale in ounces every weight is a whole number of its steps."""
    ounce = GRAMS_PER[Unit.OZ]
    scale = Scale(step=ounce / 10, fine=ounce / 100, below=ounce * 4, per=ounce)
    for bowl in weigh_up(worked(POOLISH), D(1200), scale, pantry()):
        shown = [line.grams / ounce for line in bowl.lines if not line.few]
        assert all(abs(round(value, 2) - value) < D("1e-20") for value in shown)


def test_butter_on_a_coarse_scale_is_rounded_to_it():
    """What does not dissolve is weighed as the scale can, though it has few steps for it; never as nothing."""
    page = worked(STRAIGHT + "  butter: 3%\n  caraway seed: 0.1%\n")
    (final,) = weigh_up(page, D(200), Scale(step=D(1), fine=D(1), below=D(0)), pantry())
    butter, seed = (next(line for line in final.lines if line.item == item) for item in ("butter", "caraway seed"))
    assert (butter.grams, butter.few) == (6, True)
    assert (seed.grams, seed.few) == (D("0.20"), True)


# --- dilutions ---


def test_what_is_too_little_for_the_scale_is_diluted():
    """0.24 g of yeast on a scale of 0.1 g: 1 g into 99 g of water, 24 g of that, and as much less water as that
    brings."""
    bowls = weigh_up(worked(POOLISH), D(1200), Scale(), pantry())
    (one,) = dilutions(bowls, Scale(), pantry())
    assert (one.bowl, one.item, one.grams) == ("poolish", "instant yeast", D("0.24"))
    assert (one.stir, one.water, one.take, one.less) == (1, 99, 24, D("23.8"))


def test_a_coarse_scale_dilutes_less():
    """7 g of yeast on a scale of 1 g: 10 g into 90 g of water, for 1 part in 100 would be a bucket."""
    scale = Scale(step=D(1), fine=D(1), below=D(0))
    bowls = weigh_up(worked(STRAIGHT), D(1750), scale, pantry())
    (one,) = dilutions(bowls, scale, pantry())
    assert (one.stir, one.water, one.take, one.less) == (10, 90, 70, 63)


@pytest.mark.parametrize(
    ("flour", "again", "take"),
    [(1200, 1, 24), (600, 1, 12), (300, 1, 6), (12000, 0, 24)],
)
def test_a_coarse_scale_dilutes_twice_sooner_than_into_a_bucket(flour, again, take):
    """0.24 g of yeast on a scale of 1 g: 10 g into 90 g of water, 10 g of that into 90 g, 24 g of the last; where
    the bowl has not the water for a third time, it stays at two."""
    scale = Scale(step=D(1), fine=D(1), below=D(0))
    found = dilutions(weigh_up(worked(POOLISH), D(flour), scale, pantry()), scale, pantry())
    one = next(one for one in found if one.bowl == "poolish")
    assert (one.stir, one.water, one.again, one.take) == (10, 90, again, take)


@given(flour=st.integers(50, 3000), step=st.sampled_from(["0.1", "0.5", "1"]))
@QUICK
def test_a_dilution_keeps_the_bowl_as_it_was(flour, step):
    """The mixture holds as much of the item as the bowl wants and its bowl has the water; the bowl stays as heavy
    and there is enough of the mixture."""
    known, scale = pantry(), Scale(step=D(step), fine=D(step), below=D(0))
    bowls = {bowl.name: bowl for bowl in weigh_up(worked(POOLISH), D(flour), scale, known)}
    for one in dilutions(tuple(bowls.values()), scale, known):
        parts = ((one.stir + one.water) / one.stir) ** (one.again + 1)
        brings = one.take / parts
        assert one.stir + one.water <= 250
        assert abs(brings - one.exact) <= D(step) / 2 / parts + D("1e-20")
        assert one.take <= one.stir + one.water + D(step)
        assert abs(one.take - one.less - one.exact) <= D(step)
        assert one.less < lines_of(bowls[one.bowl])["water"]


def test_no_dilution_without_water():
    """Where a bowl pours no water there is nothing to take less of."""
    page = worked("ingredients:\n  wheat flour: 100%\n  whole milk: 60%\n  instant yeast: 0.1%\n")
    bowls = weigh_up(page, D(500), Scale(), pantry())
    assert dilutions(bowls, Scale(), pantry()) == ()


# --- several doughs at once ---


def test_several_doughs_have_one_flour_list_and_one_levain_build():
    """Flours add up over all bowls; a preferment made alike is built once, one made otherwise is not."""
    known, page = pantry(), worked(POOLISH)
    one, other = (weigh_up(page, D(flour), Scale(), known) for flour in (1000, 500))
    assert flours_together([one, other], known) == (("strong wheat flour", D(1500)),)
    (build,) = builds_together([one, other], known)
    assert (build.name, lines_of(build)["strong wheat flour"]) == ("poolish", 300)
    stiff = weigh_up(worked(POOLISH.replace("water: 100%", "water: 60%")), D(500), Scale(), known)
    assert builds_together([one, stiff], known) == ()


def test_ripe_cultures_are_built_at_once():
    """A culture that stands among the ingredients of both doughs is one build."""
    page = worked("ingredients:\n  strong wheat flour: 80%\n  levain: 40%\n  water: 45%\n  salt: 2%\n")
    one, other = (weigh_up(page, D(flour), Scale(), pantry()) for flour in (1000, 500))
    (build,) = builds_together([one, other], pantry())
    assert (build.name, build.total) == ("levain", 600)
