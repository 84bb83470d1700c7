"""Marks on revisions, the keeper wherever a revision may stand, copies, and formulas put away."""

from __future__ import annotations

import json

import pytest

from refusals_support import offered, reads_well, refused

NOW = "2026-11-25T12:00:00+01:00"


@pytest.fixture
def run(oven, sample_book):
    """One command in a sample book of the test's own, which must go well; its screen on one line where asked."""

    def go(line, *, flat=False):
        ran = oven(line, cwd=sample_book, now=NOW)
        assert ran.code == 0, ran.err
        return " ".join(ran.out.split()) if flat else ran.out

    return go


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("show market-roll keeper", "Market roll, revision 3"),
        ("weigh market-roll keeper", "revision 3, your keeper"),
        ("diff market-roll keeper", "revision 3 of 16 Sep and revision 4"),
        ("diff market-roll r1 keeper", "revision 1 of 2 Sep and revision 3"),
        ("record market-roll keeper crumb 8, crust 8", "Market roll, revision 3"),
        ("tweak market-roll salt=1.9% --from keeper --why less", "made from revision 3"),
        ("copy market-roll evening-roll keeper", "begun from market roll, revision 3"),
        ("show market-roll KEEPER", "Market roll, revision 3"),
    ],
)
def test_keeper_stands_where_a_revision_may(line, said, run):
    """The word is as good as the number."""
    assert said in run(line, flat=True)


def test_record_takes_the_newest_and_says_so(run, golden):
    """The keeper is named where it is another; nothing is said of it where it is the newest or one was named."""
    screen = run("record market-roll --crumb 8 --crust 8 --preview")
    reads_well(screen)
    golden("marks/record-beside-a-keeper", screen)
    assert "The keeper is revision 3." in screen
    assert "The keeper" not in run("record market-roll r4 --crumb 8 --crust 8 --preview")
    assert "The keeper" not in run("record seeded-roll --crumb 8 --crust 8 --preview")
    run('mark market-roll r4 keeper --why "wetter sells"')
    assert "The keeper" not in run("record market-roll --crumb 8 --crust 8 --preview")


@pytest.mark.parametrize("mark", ["superseded", "dropped"])
def test_a_mark_that_is_not_keeper(mark, run, golden):
    """It says what was marked, when, by whom and why; nothing of the keeper."""
    screen = run(f'mark market-roll r2 {mark} --why "too tight to sell"')
    reads_well(screen)
    golden(f"marks/{mark}", screen)
    assert f"Revision 2, {mark}" in run("history market-roll")


def test_the_mark_that_stands_is_the_last_one_given(run, sample_book):
    """History, list and JSON show it; the page keeps every mark with its reason."""
    assert "keeper r3" in run("list")
    run("mark market-roll r3 superseded --why 'r4 took its place'")
    assert "keeper" not in run("history market-roll")
    assert [line for line in run("list").splitlines() if "market-roll" in line and "keeper" in line] == []
    assert "Revision 3, superseded" in run("history market-roll")
    rows = json.loads(run("history market-roll --json"))["revisions"]
    assert [row["mark"] for row in rows][2] == "superseded"
    page = (sample_book / "formulas/market-roll/marks.yaml").read_text()
    assert page.index("mark: keeper") < page.index("mark: superseded\n")
    assert "r4 took its place" in page


def test_a_keeper_that_was_dropped_is_no_keeper_any_more(run, oven, sample_book):
    """Then `keeper` means nothing, weigh takes the newest, and a new one can be marked."""
    run("mark market-roll r3 dropped --why 'the mill stopped'")
    said = refused(oven, "show market-roll keeper", sample_book, now=NOW)
    assert offered(said) == ['mark market-roll r4 keeper --why "..."']
    assert "revision 4" in run("weigh market-roll", flat=True)
    run("mark market-roll r3 keeper --why 'the mill is back'")
    assert "Market roll, revision 3" in run("show market-roll keeper")


REFUSED = {
    "no-such-mark": "mark market-roll r2 best --why x",
    "no-why": "mark market-roll r2 dropped",
    "no-such-revision": "mark market-roll r9 keeper --why x",
    "no-such-formula": "mark market-rol r3 keeper --why x",
    "marked-already": "mark market-roll r3 keeper --why again",
    "dropped-already": "mark caraway-rye r4 dropped --why again",
    "no-keeper": "weigh seeded-roll keeper",
    "copy-onto-a-taken-name": "copy market-roll caraway-rye",
    "copy-onto-itself": "copy market-roll market-roll",
    "copy-to-no-name": "copy market-roll !!!",
    "copy-of-nothing": "copy no-such-roll evening-roll",
    "retire-without-why": "retire olive-flatbread",
    "back-without-why": "retire olive-flatbread --back",
    "back-already": "retire olive-flatbread --back --why x",
    "tweak-from-nothing": "tweak market-roll salt=1.9% --from r9 --why x",
}


@pytest.mark.parametrize("name", REFUSED)
def test_a_mark_that_cannot_be_is_refused(name, oven, sample_book, golden):
    """Exit 3, a golden message, and the book byte for byte as before."""
    golden(f"marks/refused-{name}", refused(oven, REFUSED[name], sample_book, now=NOW))


def test_a_formula_put_away_twice_is_refused(run, oven, sample_book, golden):
    """The way back is offered."""
    run("retire olive-flatbread --why 'too oily'")
    said = refused(oven, "retire olive-flatbread --why again", sample_book, now=NOW)
    golden("marks/refused-away-already", said)
    assert oven(offered(said)[0].replace("...", "asked for"), cwd=sample_book, now=NOW).code == 0


def test_put_away_and_taken_out_again(run, golden):
    """Away it stands apart in the list and can still be shown, ranked and compared; back it is as before."""
    before = run("list")
    run("retire olive-flatbread --why 'too oily'")
    golden("marks/list-with-one-away", run("list"))
    for line in ("show olive-flatbread", "rank olive-flatbread", "diff olive-flatbread", "history olive-flatbread"):
        assert run(line)
    screen = run("retire olive-flatbread --back --why 'asked for again'")
    reads_well(screen)
    golden("marks/taken-out-again", screen)
    assert run("list") == before


def test_a_copy_is_a_formula_of_its_own(run, sample_book):
    """Revision 1 of the new one says what the old one says but for its name, title and source; bakes stay behind."""
    run('copy market-roll evening-roll r2 --title "Evening roll, for Fridays" --why "for Fridays"')
    assert "Evening roll, for Fridays, revision 1" in run("show evening-roll", flat=True)
    of_both = [json.loads(run(f"show {name} --json")) for name in ("market-roll r2", "evening-roll")]
    assert of_both[0]["ingredients"] == of_both[1]["ingredients"]
    assert of_both[0]["preferments"] == of_both[1]["preferments"]
    page = (sample_book / "formulas/evening-roll.yaml").read_text()
    assert "source: market-roll r2.noor" in page
    assert "why: for Fridays" in page
    assert (
        "no trials" in run("history evening-roll", flat=True) or "not yet baked" in run("history evening-roll").lower()
    )
    assert run("check")


def test_a_revision_made_from_an_older_one(run, golden):
    """`tweak --from` counts on from the newest number, and changes what the older one says."""
    screen = run("tweak market-roll salt=1.8% --from r2 --why 'less salt, from the tighter dough'")
    reads_well(screen)
    golden("marks/tweak-from", screen)
    assert "revision 5" in screen
    shares = {row["item"]: row["pct"] for row in json.loads(run("show market-roll r5 --json"))["ingredients"]}
    assert (shares["water"], shares["salt"]) == (65, 1.8)
