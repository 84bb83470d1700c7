"""What a baker asks of a few bakes, and an answer that a baker and a statistician can both live with."""

from __future__ import annotations

import json
import shlex

import pytest

from refusals_support import reads_well, refused

NOW = "2026-11-25T12:00:00+01:00"
LOAF = """
formula: country-loaf
makes: 2 loaves of 800 g
ingredients:
  strong wheat flour: 100%
  water: 72%
  salt: 2%
  instant yeast: 0.5%
process:
  - mix: 9 min, medium, dough 24 C
  - bulk: 90 min at 26 C
  - final proof: 60 min at 26 C
  - bake: 40 min at 230 C
"""


@pytest.fixture
def book(oven, tmp_path):
    """One formula and no bakes yet."""
    assert oven("start stall --baker noor", cwd=tmp_path).code == 0
    assert oven("enter -", cwd=tmp_path / "stall", typed=LOAF).code == 0
    return tmp_path / "stall"


@pytest.fixture
def run(oven, book):
    """One command, which must go well."""

    def go(line):
        ran = oven(line, cwd=book, now=NOW)
        assert ran.code == 0, ran.err
        return ran.out

    return go


@pytest.fixture
def bake(run):
    """`bake(REVISION, DAY, CRUMB, CRUST, MORE)` records a bake by noor; tomas says the same unless `alone`."""

    def go(revision, day, crumb, crust, more="", *, alone=False):
        run(f"record country-loaf {revision} --baked-on 2026-11-{day:02} --crumb {crumb} --crust {crust} {more}")
        if not alone:
            run(f"score last --taster tomas --crumb {crumb} --crust {crust}")

    return go


def flat(screen):
    return " ".join(screen.split())


def test_this_week_s_water_beside_last_week_s(run, bake, golden):
    """One bake each: what changed in points and grams, what else differed, and that it cannot be told from chance."""
    conditions = '--step "mix: 9 min, dough {}" --step "final proof: {} min"'
    bake("r1", 12, 6, 7.5, conditions.format("24 C", 60))
    run('tweak country-loaf water=75% --why "a more open crumb"')
    bake("r2", 19, 7, 7, conditions.format("25.5 C", 40))
    screen = run("diff country-loaf")

    reads_well(screen)
    golden("evidence/one-bake-each", screen)
    said = flat(screen)
    assert "up 3.0 points" in said
    assert "1.5 °C warmer" in said
    assert "20 min shorter" in said
    assert "crumb 6.0 7.0 up 1.0" in said
    assert "crust 7.5 7.0 down 0.5" in said
    assert "Three things differ: water, dough temperature and final proof" in said
    assert "cannot tell" in said
    assert "One dough each is little to go by; a repeat could turn it round." in said
    assert "No two bakes differ in one of them alone." in said
    assert "bake revision 2 once more with dough temperature 24 °C and final proof 60 min" in said


@pytest.mark.counted
def test_a_taster_of_one_bake_puts_nothing_ahead(run, bake):
    """One who tasted the first bake alone marks it higher: by those who tasted both they are alike, and it says so."""
    bake("r1", 12, 7, 7, alone=True)
    run("score A1 --taster tomas --crumb 9 --crust 9")
    run('tweak country-loaf water=75% --why "softer"')
    bake("r2", 19, 7, 7, alone=True)
    said = flat(run("rank country-loaf --by revision"))
    assert "revision 1 1 8.00" in said
    assert "Nothing is ahead: by the marks that are compared, revision 1 and revision 2 came out the same." in said
    assert "The means that are compared so: 7.00 for revision 1." in said


def test_last_year_s_bakes_are_told_with_their_year(bake, book, oven):
    """Read in the year after, in a ranking as in the list; in their own year without."""
    bake("r1", 4, 6, 7)
    rows = [oven(line, cwd=book, now="2027-01-05T08:00:00+01:00").out for line in ("rank country-loaf", "list")]
    assert all("4 Nov 2026" in screen for screen in rows)
    assert "4 Nov 2026" not in oven("rank country-loaf", cwd=book, now="2026-12-05T08:00:00+01:00").out


def test_two_changes_and_the_older_pair_that_separates_them(run, bake, golden):
    """A new flour and more water at once: not separable, and two older bakes that differ in the flour alone."""
    lot = '--flour "strong wheat flour=Mill Lane, lot {}"'
    bake("r1", 2, 6, 6, lot.format("B1"))
    bake("r1", 4, 7, 6, lot.format("B2"))
    bake("r1", 6, 6, 6, lot.format("B1"))
    run('tweak country-loaf water=75% --why "new flour, so more water"')
    bake("r2", 12, 8, 7, lot.format("B3"))
    run('tweak country-loaf water=76% --why "once more"')
    bake("r3", 14, 8, 7, lot.format("B2"))
    screen = run("diff country-loaf r1 r2")
    older = run("diff --trials A1 A5")

    reads_well(older)
    golden("evidence/separated", older)
    assert "Two things differ: water and which strong wheat flour. These bakes cannot say" in flat(screen)
    assert "differ in which strong wheat flour alone" in flat(older)
    pairs = {pair["thing"]: pair for pair in json.loads(run("diff --trials A1 A5 --json"))["separating"]}
    flour = pairs["strong wheat flour, which"]
    assert (flour["from_trial"], flour["to_trial"]) == ("A2", "A3")
    assert (flour["from_value"], flour["to_value"]) == ("Mill Lane, lot B2", "Mill Lane, lot B1")
    assert (pairs["water"]["from_trial"], pairs["water"]["to_trial"]) == ("A2", "A5")


def test_two_changes_in_the_formula_and_the_bake_that_would_separate_them(run, oven, book, bake):
    """Where no older pair helps the bake that would is named, and its command can be typed as it stands."""
    bake("r1", 2, 6, 6)
    run('tweak country-loaf water=75% salt=1.8% --why "softer"')
    bake("r2", 12, 8, 7)
    screen = run("diff country-loaf")

    assert "bake revision 1 with water 75 % and nothing else changed" in flat(screen)
    command = next(line.strip() for line in screen.splitlines() if line.strip().startswith("ovenleaf tweak"))
    assert oven(*shlex.split(command)[1:], cwd=book, now=NOW).code == 0
    bake("r3", 20, 7, 7)
    assert "(revision 1) and A3 of 20 Nov (revision 3) differ in water alone (72.0 % and 75.0 %)" in flat(
        run("diff country-loaf r1 r2")
    )


def test_recorded_on_one_side_only_is_not_different(run, bake):
    """A room that only one bake tells of is named among them in the document, and counts for nothing."""
    bake("r1", 2, 6, 6, "--kitchen room=21C")
    run('tweak country-loaf water=75% --why "softer"')
    bake("r2", 12, 8, 7)
    document = json.loads(run("diff country-loaf --json"))

    assert document["things"] == ["water"]
    assert document["recorded_on_one_side"] == ["room"]
    assert document["separating"] == []
    assert "One thing that is recorded differs: water." in flat(run("diff country-loaf"))


def test_a_lead_of_four_tenths_after_three_bakes_each(run, bake, golden):
    """Is it noise? The book's scatter, a range that reaches past nothing, a chance, how many more doughs would help."""
    for day, (crumb, crust) in enumerate(((6, 6), (7, 7), (6.5, 6.5)), start=1):
        bake("r1", day, crumb, crust)
    run('tweak country-loaf water=75% --why "softer"')
    for day, (crumb, crust) in enumerate(((6.5, 6.5), (7.5, 7.5), (6.7, 6.7)), start=11):
        bake("r2", day, crumb, crust)
    screen = run("rank country-loaf --by revision")

    reads_well(screen)
    golden("evidence/is-it-noise", screen)
    said = flat(screen)
    assert "by four repeats in this book" in said
    assert "The means of revision 2 and revision 1 are 0.4 apart; the true gap may be anything from" in said
    assert "the other way" in said
    assert "cannot be told yet" in said
    assert "more doughs of each" in said
    assert "signific" not in said + run("diff country-loaf")
    row, other = json.loads(run("rank country-loaf --by revision --json"))["rows"]
    assert row["low"] < other["high"]
    assert 0.5 < row["chance_best"] < 0.975


@pytest.mark.counted
def test_which_of_nine_is_the_keeper(run, book, bake, golden):
    """Nine revisions, people who came and went, a scale that changed: the two scales stand apart until asked for
    together, the weights are the book's, and the choice is hers, with a sentence."""
    page = book / "book.yaml"
    page.write_text(page.read_text().replace("scale: 0 to 10", "scale: 1 to 5"))
    run("save")
    for number in (1, 2, 3):
        bake(f"r{number}", number, 3, 3 + number % 2, alone=number == 2)
        run(f'tweak country-loaf water={72 + number}% --why "a little more"')
    page.write_text(page.read_text().replace("scale: 1 to 5", "scale: 0 to 10").replace("  crumb: 1\n", "  crumb: 2\n"))
    run("save")
    for number in range(4, 10):
        bake(f"r{number}", 2 * number, 5 + number % 4, 7)
        bake(f"r{number}", 2 * number + 1, 5.5 + number % 4, 7, alone=number == 8)
        if number < 9:
            run(f'tweak country-loaf water={72 + number}% --why "a little more"')
    screen = run("rank country-loaf --by revision")

    reads_well(screen)
    golden("evidence/nine-revisions", screen)
    said = flat(screen)
    assert "six revisions, 12 doughs" in said
    assert "Score is 2 parts crumb and 1 part crust" in said
    assert "scored on another scale, 1 to 5" in said
    assert "Not everyone tasted every dough" in said
    assert '--scale "1 to 5"' in screen
    assert [row["revision"] for row in json.loads(run('rank country-loaf --scale "1 to 5" --json'))["rows"]] != []
    alone = run('rank country-loaf --by revision --scale "1 to 5"')
    assert "three revisions, three doughs" in flat(alone)
    assert "Only what was scored from 1 to 5 counts here." in flat(alone)
    together = json.loads(run("rank country-loaf --by revision --convert --json"))
    assert len(together["rows"]) == 9
    assert together["converted"] is True
    assert {row["revision"]: row["mean"] for row in together["rows"]}["r2.noor"] == 5
    assert "moved to 0 to 10 in proportion" in flat(run("rank country-loaf --convert"))
    run('mark country-loaf r7 keeper --why "two bakes, none under 7.5"')
    assert "revision 7, your keeper" in run("weigh country-loaf")


def test_halves_of_one_dough_count_once_and_are_not_weighed_against_each_other(run, bake, book):
    """Half baked today and half after a cold night: one dough in the ranking, and no chance of one over the other."""
    bake("r1", 2, 6, 6, '--step "final proof: 60 min"')
    bake("r1", 3, 8, 8, '--step "final proof: 16 h"')
    page = book / "trials/country-loaf/2026-11-03-noor.yaml"
    page.write_text(page.read_text().replace("baker: noor\n", "baker: noor\nshares_dough_with: A1\n"))
    run("save")

    (row,) = json.loads(run("rank country-loaf --by revision --json"))["rows"]
    assert (row["doughs"], row["mean"], row["chance_best"]) == (1, 7, None)
    screen = run("diff --trials A1 A2")
    assert "How sure that is" not in screen
    assert "For the formula they count as one dough." in flat(screen)


def test_a_baker_with_two_handles_is_one_person(run, bake, book):
    """Marks and bakes under a second copy's name are those of the same person."""
    bake("r1", 2, 6, 6, alone=True)
    run("score A1 --taster noor-shop --new-taster --crumb 8 --crust 8")
    page = book / "book.yaml"
    page.write_text(page.read_text().replace("bakers:\n", "bakers:\n  noor-shop:\n    person: noor\n"))
    run("save")

    (row,) = json.loads(run("rank country-loaf --json"))["rows"]
    assert (row["tasters"], row["crumb"]) == (["noor"], 7)
    assert "One taster, noor." in run("rank country-loaf --by revision")


def test_whether_the_tasters_knew_is_said(run, bake):
    """Blind, knowing, and not recorded are three things."""
    bake("r1", 2, 6, 6, alone=True)
    assert "Whether the tasters knew which was which is not recorded." in flat(run("rank country-loaf --by revision"))
    run("score A1 --taster tomas --crumb 6 --crust 6 --blind")
    assert "Of two sets of marks, one blind and one not recorded." in flat(run("rank country-loaf --by revision"))


def test_before_anything_was_baked_twice_the_scatter_is_not_known(run, bake):
    """Said so, and what is assumed instead."""
    bake("r1", 2, 6, 6)
    said = flat(run("rank country-loaf --by revision"))

    assert "how far doughs of one revision scatter in this book is not known" in said
    assert "0.5 either side of their mean is assumed until then" in said
    assert "There is no other revision with scored doughs to set beside it." in said


@pytest.mark.parametrize("typed", ["five", "5 to 1", "1 to", "1 to 1", "0 to nan"])
def test_a_scale_that_is_none_is_refused(oven, book, bake, typed, golden):
    """With what a scale looks like."""
    bake("r1", 2, 6, 6)
    said = refused(oven, f'rank country-loaf --scale "{typed}"', book, now=NOW)
    assert f"{typed} is not a scale of marks." in said
    if typed == "five":
        golden("evidence/refused-scale", said)


def test_nothing_scored_yet_is_said_and_the_next_step_named(run):
    """No table without rows, no figure that is none."""
    run("record country-loaf --note 'nobody ate it'")
    screen = run("rank country-loaf --by revision")

    assert "Country loaf: nothing scored yet." in screen
    assert "ovenleaf score A1" in screen
    assert not {"nan", "inf", "none"} & set(screen.lower().split())


def test_all_the_same_puts_nothing_ahead(run, bake):
    """Two revisions with the same marks share the first place, and neither leads."""
    bake("r1", 2, 7, 7)
    run('tweak country-loaf water=75% --why "softer"')
    bake("r2", 12, 7, 7)
    said = flat(run("rank country-loaf --by revision"))

    assert "Nothing is ahead: revision 1 and revision 2 came out the same" in said
    assert "Ahead so far" not in said
