"""Marks, copies, formulas put away, previews, sentences, two bakes, two formulas."""

from __future__ import annotations

import json

import pytest

from refusals_support import reads_well, refused, snapshot

NOW = "2026-11-25T12:00:00+01:00"


@pytest.fixture
def run(oven, sample_book):
    """One command in a sample book of the test's own, which must go well."""

    def go(line):
        ran = oven(line, cwd=sample_book, now=NOW)
        assert ran.code == 0, ran.err
        return ran.out

    return go


def test_a_keeper_stands_wherever_a_revision_may(run):
    """show, diff, record and tweak take `keeper`; record alone takes the newest and says so where it does not."""
    assert "Market roll, revision 3" in run("show market-roll keeper")
    assert "revision 3 of 16 Sep and revision 4" in run("diff market-roll keeper r4")
    recorded = run("record market-roll keeper --crumb 8 --crust 8")
    assert "revision 3" in recorded
    assert "not the newest revision" in recorded
    assert "made from revision 3" in " ".join(run("tweak market-roll salt=1.9% --from keeper --why less").split())
    assert "revision 5" in run("record market-roll --crumb 8 --crust 8")


def test_weigh_takes_the_keeper_and_says_so(run):
    """A weigh-up without a revision is of the keeper."""
    assert "revision 3, your keeper" in run("weigh market-roll")


def test_a_mark_can_change_and_the_last_one_stands(run, golden):
    """A second keeper takes the place of the first; both marks stay on the page."""
    screen = run('mark market-roll r4 keeper --why "the stall likes it wetter"')
    reads_well(screen)
    golden("side_roads/mark", screen)
    assert "Market roll, revision 4" in run("show market-roll keeper")
    history = run("history market-roll")
    assert history.count("keeper") >= 1
    rows = json.loads(run("history market-roll --json"))["revisions"]
    assert [row["mark"] for row in rows] == ["superseded", None, "keeper", "keeper"]


def test_a_copy_goes_its_own_way(run, golden, sample_book):
    """A copy begins at revision 1, names its source, and leaves the old formula alone."""
    before = run("show market-roll r4")
    screen = run('copy market-roll evening-roll r4 --why "for Fridays"')
    golden("side_roads/copy", screen)
    run('tweak evening-roll water=69% --why "a little less water"')
    assert run("show market-roll r4") == before
    assert run("show evening-roll").startswith("Evening roll, revision 2")
    assert "source: market-roll r4.noor\n" in (sample_book / "formulas/evening-roll.yaml").read_text()


def test_a_formula_is_put_away_and_taken_out_again(run, golden):
    """Nothing of it is lost; the list shows it apart."""
    screen = run('retire olive-flatbread --why "too oily for the stall"')
    golden("side_roads/retire", screen)
    assert "Put away\n  olive-flatbread" in run("list")
    assert run("rank olive-flatbread")
    run('retire olive-flatbread --back --why "asked for again"')
    assert "Put away" not in run("list")


PREVIEWS = [
    "tweak market-roll water=70% --why x",
    "record market-roll crumb 7, crust 8, tight",
    "score A1 --taster petra --crumb 7",
    'mark market-roll r2 dropped --why "x"',
    "copy market-roll evening-roll",
    "retire market-roll --why x",
]


@pytest.mark.parametrize("line", PREVIEWS)
def test_a_preview_writes_nothing_and_says_what_would_be(line, oven, sample_book):
    """The book is byte for byte as before, and the real run says the same after the preview's first sentence."""
    before = snapshot(sample_book)
    shown = oven(f"{line} --preview", cwd=sample_book, now=NOW)
    assert shown.code == 0, shown.err
    assert snapshot(sample_book) == before
    first, _, rest = shown.out.partition("\n\n")
    assert first == "A preview: nothing was written. Without --preview it would be this."
    assert oven(line, cwd=sample_book, now=NOW).out == rest


SPOKEN = {
    "list": "list",
    "rank": "rank market-roll",
    "rank-by-revision": "rank market-roll --by revision",
    "diff": "diff market-roll r2 r3",
    "history": "history caraway-rye",
    "show": "show honey-milk-bun r2",
    "show-trial": "show A4",
    "weigh": "weigh market-roll",
}


@pytest.mark.parametrize("name", SPOKEN)
def test_each_row_can_be_spoken_whole(name, run, golden):
    """With --sentences no row needs its column heads: each is a sentence of its own."""
    screen = run(f"{SPOKEN[name]} --sentences")
    reads_well(screen)
    golden(f"sentences/{name}", screen)
    told = screen.split("\nNext\n")[0]
    assert not any("     " in line.strip() for line in told.splitlines())


def test_two_bakes_side_by_side(run, golden):
    """Planned and actual of both; what is recorded on one side only is kept apart from what differs."""
    screen = run("diff --trials A4 A6")
    reads_well(screen)
    golden("side_roads/diff-trials", screen)
    document = json.loads(run("diff --trials A4 A6 --json"))
    assert document["outcome"]["from"]["doughs"] == document["outcome"]["to"]["doughs"] == 1
    gaps = {row["name"]: row for row in document["bakes"]}
    assert gaps["dough temperature"]["gap"] == "1.0 °C warmer"
    assert gaps["room"]["to"] is None
    assert gaps["room"]["gap"] is None


def test_two_formulas_side_by_side(run, golden):
    """Items that one has not are said to be not in it, never zero."""
    screen = run("compare market-roll honey-milk-bun")
    reads_well(screen)
    golden("side_roads/diff-formulas", screen)
    rows = json.loads(run("diff market-roll honey-milk-bun --json"))["ingredients"]
    assert next(row for row in rows if row["item"] == "honey")["from_pct"] is None


@pytest.mark.parametrize(("short", "item"), [("caraway=1%", "caraway seed"), ("sour=38%", "rye sour")])
def test_a_short_name_that_can_mean_one_thing_will_do(short, item, oven, sample_book):
    """`caraway=` is caraway seed; one that can mean two is refused with both."""
    ran = oven("tweak", "caraway-rye", short, "medium rye flour=rest", "--why", "x", cwd=sample_book, now=NOW)
    assert ran.code == 0, ran.err
    assert item in ran.out
    refused = oven("tweak", "caraway-rye", "flour=41%", "--why", "x", cwd=sample_book, now=NOW)
    assert refused.code == 3
    assert "medium rye flour" in refused.err
    assert "strong wheat flour" in refused.err


@pytest.mark.parametrize(
    ("short", "said"),
    [
        ("final.time=45min", "final proof, time 50 min 45 min 5 min shorter"),
        ("second.speed=low", "second mix, speed medium low changed"),
        ("proof=none", "final proof revision 5 no such step"),
        ("final=50 min at 27 C, covered, until a dent springs back slowly", "final proof, temperature 28 °C 27 °C"),
    ],
)
def test_a_short_name_of_a_step_will_do_as_well(short, said, oven, sample_book):
    """`final.time=` is that of the final proof, and one word is enough to write a step anew or leave it out."""
    ran = oven("tweak", "market-roll", short, "--why", "x", "--preview", cwd=sample_book, now=NOW)
    assert ran.code == 0, ran.err
    assert said in " ".join(ran.out.split())


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("mix.time=4min", "step-of-two"),
        ("fnal.time=45min", "step-misspelt"),
        ("dvide=90 g pieces", "step-line-misspelt"),
    ],
)
def test_a_step_that_is_not_one_alone_is_not_guessed(typed, name, oven, sample_book, golden):
    """A short name of two is refused with both in full, a misspelt one with the nearest."""
    golden(f"side_roads/refused-{name}", refused(oven, f"tweak market-roll '{typed}' --why x", sample_book, now=NOW))


def test_a_new_ingredient_is_not_taken_for_a_step(run):
    """An amount is an ingredient's, though a step may begin with the same word."""
    screen = run('tweak market-roll "final=2%" --why x --preview')
    assert "final not in it 2.0 % new" in " ".join(screen.split())


def test_a_mark_put_right_stays_visible(run):
    """The old mark, who changed it, when and why, stand in the trial."""
    run('score A1 --crumb 6 --why "typed the wrong mark"')
    shown = " ".join(run("show A1").split())
    assert "crumb, noor: was 5, now 6; 25 Nov, by noor: typed the wrong mark" in shown
