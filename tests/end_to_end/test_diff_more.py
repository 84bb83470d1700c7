"""Two bakes, two formulas: what differs, what is the same, and what nobody recorded are three things."""

from __future__ import annotations

import json

import pytest

from refusals_support import reads_well, refused

NOW = "2026-11-25T12:00:00+01:00"
ROLL = """
formula: market-roll
makes: 24 rolls of 85 g
ingredients:
  strong wheat flour: 100%
  water: 65%
  salt: 2%
  instant yeast: 0.6%
process:
  - mix: 9 min, medium, dough 25 C
  - bulk: 60 min at 26 C
  - bake: 18 min at 220 C
"""
PLAIN = """
formula: plain-roll
makes: 10 rolls of 90 g
ingredients:
  strong wheat flour: 500 g
  water: 340 g
  salt: 10 g
  fresh yeast: 9 g
process:
  - mix: 9 min, medium, dough 25 C
  - bulk: 90 min at 26 C
  - bake: 18 min at 220 C
"""


@pytest.fixture
def book(oven, tmp_path):
    """Two formulas and no bakes yet."""
    assert oven("start stall --baker noor", cwd=tmp_path).code == 0
    for page in (ROLL, PLAIN):
        assert oven("enter -", cwd=tmp_path / "stall", typed=page).code == 0
    return tmp_path / "stall"


@pytest.fixture
def run(oven, book):
    """One command, which must go well."""

    def go(line):
        ran = oven(line, cwd=book, now=NOW)
        assert ran.code == 0, ran.err
        return ran.out

    return go


def bakes_of(document):
    return {row["name"]: (row["from"], row["to"], row["gap"]) for row in document["bakes"]}


def test_marks_that_were_given_before_are_no_error(run, oven, book):
    """The same mark once more: nothing to add, exit 3, nothing written."""
    run("record market-roll --crumb 7 --crust 7")
    ran = oven("score A1 --crumb 7", cwd=book, now=NOW)
    assert (ran.code, ran.out) == (3, "")
    assert ran.err.startswith("Nothing to add: noor has told just this of trial A1 already: crumb 7.")


def test_a_formula_mistyped_is_offered_where_anything_may_be_shown(oven, book):
    """`show` looks among the formulas before it looks among ingredients."""
    said = " ".join(oven("show markt-roll", cwd=book, now=NOW).err.split())
    assert "Did you mean market-roll?" in said


def test_the_same_the_different_and_the_not_recorded_are_kept_apart(run, golden):
    """A row of each kind: the same on both sides, another figure, and only on one side, which is no difference."""
    run(
        'record market-roll --batch "600 g flour" --weighed water=396g --dough-temp 25C --step "bulk: 60 min"'
        " --kitchen room=21C --crumb 7 --crust 7"
    )
    run(
        'record market-roll --batch "1200 g flour" --weighed water=780g --dough-temp 26C --step "bulk: 60 min"'
        ' --flour "strong wheat flour=Mill Lane" --crumb 8 --crust 7'
    )
    screen = run("diff --trials A1 A2")
    reads_well(screen)
    golden("diff_more/trials", screen)
    assert bakes_of(json.loads(run("diff --trials A1 A2 --json"))) == {
        "water": ("66.0 %", "65.0 %", "1.0 points less"),
        "bulk": ("60 min", "60 min", "same"),
        "dough temperature": ("25 °C", "26 °C", "1 °C warmer"),
        "room": ("21 °C", None, None),
        "strong wheat flour, which": (None, "Mill Lane", None),
    }
    assert "Two things differ: water and dough temperature." in screen


def test_the_same_dough_in_another_batch_is_the_same(run):
    """Shares are compared, not grams: 396 g of 600 and 792 g of 1200 are one amount."""
    run('record market-roll --batch "600 g flour" --weighed water=396g --crumb 7 --crust 7')
    run('record market-roll --batch "1200 g flour" --weighed water=792g --crumb 8 --crust 7')
    assert bakes_of(json.loads(run("diff --trials A1 A2 --json")))["water"] == ("66.0 %", "66.0 %", "same")
    assert "Nothing that is recorded differs" in run("diff --trials A1 A2")


def test_a_bake_without_marks_has_no_outcome_to_compare(run):
    """Not scored is said so, and no lead is told."""
    run("record market-roll --crumb 7 --crust 7 --dough-temp 25C")
    run("record market-roll --dough-temp 26C")
    screen = run("diff --trials A1 A2")
    assert "crumb 7.0 not scored cannot be compared" in " ".join(screen.split())
    assert "ovenleaf score A2   " in screen
    assert "little to go by" not in screen
    document = json.loads(run("diff --trials A1 A2 --json"))
    assert document["outcome"]["to"] == {"doughs": 0, "crumb": None, "crust": None, "score": None}
    assert document["outcome"]["from"]["score"] == 7


def test_a_bake_beside_itself_is_the_same_throughout(run):
    """No row differs and nothing is ahead."""
    run('record market-roll --batch "600 g flour" --weighed water=396g --dough-temp 25C --crumb 7 --crust 7')
    document = json.loads(run("diff --trials A1 a1 --json"))
    assert {row["gap"] for row in document["bakes"]} == {"same"}
    assert (document["from_trial"], document["to_trial"]) == ("A1", "A1")
    assert document["changes"] == 0


def test_marks_of_two_scales_are_not_compared(run, book, golden):
    """Where the book's scale changed between two bakes, both are shown and nothing is said of up or down."""
    run("record market-roll --crumb 7 --crust 8")
    page = book / "book.yaml"
    page.write_text(page.read_text().replace("scale: 0 to 10", "scale: 1 to 9"))
    run("save")
    run("record market-roll --crumb 8 --crust 7")
    screen = run("diff --trials A1 A2")
    reads_well(screen)
    golden("diff_more/two-scales", screen)
    assert "up" not in screen.split()
    assert "down" not in screen.split()
    assert "Two scales: A1 from 0 to 10 and A2 from 1 to 9." in screen


def test_a_longer_bulk_that_was_planned_and_done_is_one_change(run):
    """The plan and the bake tell of the same thing; it is not counted twice."""
    run('record market-roll --step "bulk: 60 min" --crumb 7 --crust 7')
    run('tweak market-roll bulk.time=90min --why "more flavour"')
    run('record market-roll --step "bulk: 90 min" --crumb 8 --crust 7')
    assert "One thing that is recorded differs: bulk time." in run("diff market-roll")


def test_two_formulas_for_the_same_dough(run, golden):
    """Percent pages and gram pages compare; what one has not is not in it, and weighs none, never 0."""
    screen = run("diff market-roll plain-roll")
    reads_well(screen)
    golden("diff_more/formulas", screen)
    document = json.loads(run("diff market-roll plain-roll --json"))
    assert (document["from_formula"], document["formula"]) == ("market-roll", "plain-roll")
    assert (document["from"], document["to"]) == ("r1.noor", "r1.noor")
    assert (document["from_trial"], document["to_trial"]) == (None, None)
    rows = {row["item"]: (row["from_pct"], row["to_pct"], row["change_points"]) for row in document["ingredients"]}
    assert rows == {
        "strong wheat flour": (100, 100, 0),
        "water": (65, 68, 3),
        "salt": (2, 2, 0),
        "instant yeast": (0.6, None, -0.6),
        "fresh yeast": (None, 1.8, 1.8),
    }
    weights = screen[screen.index("For 900 g of dough") :].split("\n\n")[0]
    assert " 0 g" not in weights
    assert weights.count("none") == 2


def test_either_formula_may_be_of_an_older_revision(run):
    """`diff A r1 B`, `diff A B r1` and `compare` take the revision that stands behind each name."""
    run('tweak market-roll water=68% --why "softer"')
    run('tweak plain-roll salt=1.8% --why "less salt"')

    def sides(line):
        document = json.loads(run(f"{line} --json"))
        return document["from_formula"], document["from"], document["formula"], document["to"]

    assert sides("diff market-roll r1 plain-roll") == ("market-roll", "r1.noor", "plain-roll", "r2.noor")
    assert sides("diff market-roll plain-roll r1") == ("market-roll", "r2.noor", "plain-roll", "r1.noor")
    assert sides("compare market-roll r1 plain-roll r1") == ("market-roll", "r1.noor", "plain-roll", "r1.noor")
    assert sides("diff plain-roll market-roll") == ("plain-roll", "r2.noor", "market-roll", "r2.noor")


def test_one_dough_written_in_grams_and_in_percent_is_the_same(run, oven, book):
    """What differs is how the page is written, and that is no change."""
    page = PLAIN.replace("plain-roll", "percent-roll").replace("500 g", "100%").replace("340 g", "68%")
    page = page.replace("10 g", "2%").replace("9 g\n", "1.8%\n")
    assert oven("enter -", cwd=book, typed=page.replace("rolls of 90%", "rolls of 90 g")).code == 0
    document = json.loads(run("diff plain-roll percent-roll --json"))
    assert [row["change_points"] for row in document["ingredients"]] == [0, 0, 0, 0]
    assert document["changes"] == 0
    assert "The formula is the same on both sides." in run("diff plain-roll percent-roll")


REFUSED = {
    "one-revision": "diff market-roll",
    "three-things": "diff market-roll r1 plain-roll r1 r1",
    "no-such-trial": "diff --trials A1 Z9",
    "no-such-formula": "diff market-roll plane-roll",
    "no-such-revision": "diff market-roll r9 plain-roll",
}


@pytest.mark.parametrize("name", REFUSED)
def test_what_cannot_be_compared_is_refused(name, oven, book, golden):
    """With what to type instead, and nothing touched."""
    golden(f"diff_more/refused-{name}", refused(oven, REFUSED[name], book, now=NOW))
