"""Who tasted, what was weighed where, and when: slips in what is told of a bake, and books with next to nothing in."""

from __future__ import annotations

import json

import pytest

from refusals_support import offered, reads_well, refused

pytestmark = pytest.mark.counted

NOW = "2026-11-25T12:00:00+01:00"
LOAF = "formula: x-loaf\ningredients:\n  strong wheat flour: 100%\n  water: 65%\n  salt: 2%\n"


@pytest.fixture
def run(oven, sample_book):
    """One command in a sample book of the test's own, which must go well."""

    def go(line, **world):
        ran = oven(line, cwd=sample_book, now=NOW, **world)
        assert ran.code == 0, ran.err
        return ran.out

    return go


# --- tasters ---

MISSPELT = {
    "record": ("record market-roll --crumb 7 --crust 8 --taster tomsa", ""),
    "words": ("record market-roll --taster tomsa crumb 7, crust 8, tight", ""),
    "page": ("record market-roll --from -", "scores:\n  tomass:\n    crumb: 7\n    crust: 8\n"),
    "score": ("score B3 --taster petar --crumb 7", ""),
    "baker": ("score B3 --taster noro --crumb 7", ""),
}


@pytest.mark.parametrize("name", MISSPELT)
def test_a_taster_s_name_with_a_slip_in_it_is_asked_about(name, oven, sample_book, golden):
    """The known name is offered with the whole command, and how to say that it is somebody else."""
    line, typed = MISSPELT[name]
    golden(f"bad/bakes/taster-{name}", refused(oven, line, sample_book, now=NOW, typed=typed))


@pytest.mark.parametrize("name", ["record", "words", "score"])
def test_the_taster_that_is_offered_is_taken(name, oven, sample_book):
    """The command under Next can be typed as it stands."""
    said = refused(oven, MISSPELT[name][0], sample_book, now=NOW)
    ran = oven(offered(said)[0], cwd=sample_book, now=NOW)
    assert ran.code == 0, ran.err


def test_a_taster_who_is_somebody_else_is_taken_when_that_is_said(run):
    """--new-taster is wanted once; from then on the name is known."""
    assert "tomsa" in run("record market-roll --crumb 7 --crust 8 --taster tomsa --new-taster")
    assert "tomsa" in run("score B3 --taster tomsa --crumb 7")


def test_a_new_name_unlike_any_other_is_taken(run):
    """Nobody has to be introduced."""
    assert "lena" in run("record market-roll --crumb 7 --crust 8 --taster lena")
    page = run("record market-roll --from -", typed="scores:\n  ivo:\n    crumb: 7\n  tomas:\n    crumb: 8\n")
    assert "ivo" in page


def test_a_known_taster_in_capitals_is_the_same_one(run):
    """Tomas and tomas are one taster, on the page and in the ranking."""
    run("record market-roll --crumb 7 --crust 8 --taster Tomas")
    document = json.loads(run("rank market-roll --json"))
    assert {name for row in document["rows"] for name in row["tasters"]} == {"noor", "petra", "tomas"}


def test_a_taster_that_the_book_names_is_known(oven, sample_book):
    """book.yaml may name tasters who have not tasted yet."""
    page = sample_book / "book.yaml"
    page.write_text(page.read_text() + "tasters:\n  wilhelmina: {}\n")
    assert oven("save", cwd=sample_book, now=NOW).code == 0
    said = refused(oven, "score B3 --taster wilhelmia --crumb 7", sample_book, now=NOW)
    assert "Did you mean wilhelmina?" in said
    assert oven(offered(said)[0], cwd=sample_book, now=NOW).code == 0


# --- what was weighed ---


def test_an_item_that_stands_in_two_bowls_counts_in_all_unless_a_bowl_is_named(run):
    """Water stands in the poolish and in the dough: a bare amount is all of it, `poolish:water` is that bowl's."""
    run('record market-roll --batch "600 g flour" --weighed water=426g --crumb 7 --crust 8')
    assert "water 71.0 % 71.0 % same" in " ".join(run("show last").split())
    run(
        'record market-roll --batch "600 g flour" --weighed water=432g --weighed poolish:water=120g'
        ' --weighed "poolish:instant yeast=0.12 g" --crumb 7 --crust 8 --preview'
    )
    shown = " ".join(
        run(
            'record market-roll --batch "600 g flour" --weighed water=432g --weighed poolish:water=126g'
            " --crumb 7 --crust 8"
        ).split()
    )
    assert "water 71.0 % 72.0 % 1.0 points more" in shown
    assert "water in poolish 20.0 % 21.0 % 1.0 points more" in shown


# --- when ---


def test_a_bake_older_than_the_newest_revision_asks_which_it_was(oven, sample_book, golden):
    """The revision in force on that day is offered first, then the newest; both commands work."""
    line = 'record market-roll --crumb 7 --crust 8 --baked-on 2026-09-20 --note "a bit tight"'
    said = refused(oven, line, sample_book, now=NOW)
    golden("bad/bakes/older-than-the-revision", said)
    commands = offered(said)
    assert [command.split(" ")[2] for command in commands] == ["r3", "r4"]
    for command, revision in zip(commands, ("revision 3", "revision 4"), strict=True):
        ran = oven(command, cwd=sample_book, now=NOW)
        assert ran.code == 0, ran.err
        assert f"{revision}, baked Sunday 20 September 2026" in " ".join(ran.out.split())


@pytest.mark.parametrize(
    ("line", "revision"),
    [
        ("record market-roll --crumb 7 --baked-on 2026-08-01", "revision 4"),  # before there was any
        ("record market-roll --crumb 7 --baked-on 2026-09-30", "revision 4"),  # on the day it was saved
        ("record market-roll --crumb 7 --baked-on 2026-10-01", "revision 4"),
        ("record market-roll r1 --crumb 7 --baked-on 2026-09-20", "revision 1"),
        ("record market-roll keeper --crumb 7 --baked-on 2026-09-20", "revision 3"),
        ("record olive-flatbread --crumb 7 --baked-on 2026-10-05", "revision 2"),
    ],
)
def test_a_day_that_leaves_no_doubt_asks_nothing(line, revision, run):
    """A revision that was named, or the only one that can have been baked, is taken."""
    assert revision in " ".join(run(line).split())


@pytest.mark.parametrize("day", ["20261108", "2026-W46-1", "2026-11-8", "8.11.2026", "2026-11-08T10:00"])
def test_a_day_in_another_form_is_refused(day, oven, sample_book):
    """Only one form goes on a page, so that days sort as they stand."""
    said = refused(oven, f"record market-roll r4 --crumb 7 --baked-on {day}", sample_book, now=NOW)
    assert f"{day} is not a day." in said


# --- next to nothing ---


@pytest.fixture
def small(oven, tmp_path):
    """A book of one formula and no bake."""
    assert oven("start stall --baker noor", cwd=tmp_path).code == 0
    assert oven("enter -", cwd=tmp_path / "stall", typed=LOAF).code == 0
    return tmp_path / "stall"


ONE = ("list", "rank", "rank --by revision", "history x-loaf", "show x-loaf", "show A1", "check")


@pytest.mark.parametrize("line", ONE)
def test_a_book_of_one_trial(line, small, oven, golden):
    """Every reading command answers for it, and claims no more than one bake can tell."""
    assert oven("record x-loaf --crumb 7 --crust 8", cwd=small, now=NOW).code == 0
    ran = oven(line, cwd=small, now=NOW)
    assert ran.code == 0, ran.err
    reads_well(ran.out)
    golden(f"bad/bakes/one-{line.replace(' ', '-')}", ran.out)


@pytest.mark.parametrize("line", ["list", "history x-loaf", "show x-loaf", "check"])
def test_a_book_of_no_trial(line, small, oven, golden):
    """Nothing baked yet is said, and no blank table is shown."""
    ran = oven(line, cwd=small, now=NOW)
    assert ran.code == 0, ran.err
    reads_well(ran.out)
    golden(f"bad/bakes/none-{line.replace(' ', '-')}", ran.out)


@pytest.mark.parametrize("line", ["rank", "rank x-loaf", "rank --by revision", "score last --crumb 7", "show last"])
def test_what_cannot_be_said_without_a_bake_is_refused(line, small, oven):
    """With a command that gives one, or shows what there is."""
    assert offered(refused(oven, line, small, now=NOW))


def test_a_book_of_one_trial_without_marks_ranks_nothing(small, oven):
    """The trial is left out with its reason, and there is no first place."""
    assert oven("record x-loaf --dough-temp 25C", cwd=small, now=NOW).code == 0
    screen = oven("rank", cwd=small, now=NOW).out
    assert "No trial could be ranked." in screen
    assert "not scored yet" in screen


def test_weights_that_are_all_zero_are_refused(oven, sample_book):
    """There is no score without a weight, on the command line as in book.yaml, where the usual ones stand in."""
    said = refused(oven, "rank --weights crumb=0,crust=0,flavour=0", sample_book, now=NOW)
    assert "one of them must be above zero" in " ".join(said.split())
    page = sample_book / "book.yaml"
    page.write_text(page.read_text().replace("  crumb: 1\n  crust: 1\n", "  crumb: 0\n  crust: 0\n"))
    ran = oven("rank", cwd=sample_book, now=NOW)
    assert ran.code == 0
    assert "In book.yaml, line" in ran.out
    assert "Score is crumb and crust in equal shares" in ran.out
    assert "book.yaml, line" in refused(oven, "record market-roll --crumb 5", sample_book, now=NOW)


# --- short names ---


@pytest.mark.parametrize(
    ("short", "item"),
    [
        ("caraway=1%", "caraway seed"),
        ("seed=1%", "caraway seed"),
        ("CARAWAY=1%", "caraway seed"),
        ("caraway-seed=1%", "caraway seed"),
        ("carawa=1%", "caraway seed"),
    ],
)
def test_a_short_name_that_fits_one_thing_will_do(short, item, run):
    """The first letters of any of its words are enough."""
    assert item in run(f'tweak caraway-rye "{short}" --why x')


def test_a_short_name_that_fits_two_is_asked_about(oven, sample_book, golden):
    """Both are named, each with the whole command."""
    said = refused(oven, "tweak caraway-rye flour=41% --why x", sample_book, now=NOW)
    golden("bad/bakes/short-name-of-two", said)
    assert [command.split("'")[1] for command in offered(said)] == ["medium rye flour=41%", "strong wheat flour=41%"]
