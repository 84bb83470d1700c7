"""Commands with a slip in them: what is wrong, the nearest thing that is meant, and a book left alone."""

from __future__ import annotations

import shutil
import subprocess

import pytest

from refusals_support import as_document, offered, reads_well, refused, whole

pytestmark = pytest.mark.counted

NOW = "2026-11-25T12:00:00+01:00"

TWEAKS = {
    "misspelt-item": "market-roll watr=70%",
    "misspelt-new-item": "market-roll hony=3%",
    "misspelt-in-part": "market-roll poolish:watr=110%",
    "misspelt-part": "market-roll polish:water=110%",
    "misspelt-step": "market-roll blk.time=60min",
    "nothing-before": "market-roll =70%",
    "nothing-behind": "market-roll water=",
    "nan": "market-roll water=nan",
    "inf": "market-roll water=inf%",
    "far-too-much": "market-roll water=1e400%",
    "zero": "market-roll water=0%",
    "comma-parted": "market-roll 'water=62, 5%'",
    "weight-in-percent": "market-roll water=700g",
    "rest-of-water": "market-roll water=rest",
    "no-flour": "market-roll 'strong wheat flour=none'",
    "two-kinds-of-flour": "caraway-rye flour=55%",
    "rye-without-rest": "caraway-rye rye=+5points",
    "no-such-field": "market-roll bulk.colour=red",
    "negative-time": "market-roll bulk.time=-60min",
    "no-such-base": "market-roll water=70% --from r9",
}
RECORDS = {
    "nan": "--crumb nan",
    "inf": "--crumb inf",
    "below-the-scale": "--crumb -1",
    "comma-parted": "crumb 6, 5",
    "mark-missing": "crumb, crust 7",
    "weighed-nan": "--weighed water=nan",
    "weighed-inf": "--weighed water=infg",
    "weighed-negative": "--weighed water=-5g",
    "weighed-comma-parted": "--weighed 'water=396, 5 g'",
    "weighed-thousands": "--weighed water=1,020g",
    "weighed-no-equals": "--weighed water",
    "weighed-in-no-part": "--weighed polish:water=3g",
    "weighed-not-in-part": "--weighed poolish:honey=3g",
    "pieces-in-words": "--measured pieces=many",
    "no-weight-at-all": "--measured 'baked weight=0 g'",
    "dough-without-scale": "--measured 'dough temperature=26'",
    "room-without-scale": "--kitchen room=21",
    "thirty-first-of-november": "--baked-on 2026-11-31",
    "day-the-other-way": "--baked-on 25.11.2026",
    "thousand-years-ago": "--baked-on 1026-11-20",
    "tasted-before": "--hours-after -3 --crumb 5",
    "batch-of-nothing": "--batch 0g",
    "step-without-colon": "--step 'kneading 5 min'",
    "no-such-revision": "r9 --crumb 5",
    "no-such-page": "--from nothing.yaml",
    "nothing-told": "",
}
OTHERS = {
    "score-unknown-day": "score market-roll 2026-11-31 --crumb 7",
    "score-off-the-scale": "score A2 --taster tomas --crumb 11",
    "rank-unknown": "rank market-rol",
    "rank-by-nonsense": "rank market-roll --by luck",
    "rank-weights-nonsense": "rank --weights nonsense",
    "rank-weights-comma": "rank --weights crumb=1,5,crust=1",
    "rank-weights-below-zero": "rank --weights crumb=-1",
    "diff-three": "diff market-roll r1 r2 r3",
    "diff-unknown-trial": "diff market-roll --trials A1 Z9",
    "show-revision-nought": "show market-roll r0",
}
COMMANDS = {
    **{f"tweak-{name}": f"tweak {words} --why x" for name, words in TWEAKS.items()},
    **{f"record-{name}": f"record market-roll {words}" for name, words in RECORDS.items()},
    **OTHERS,
}


@pytest.fixture(scope="module")
def untouched(sample_as_built, tmp_path_factory):
    """One sample book for all tests that prove of it that nothing was changed."""
    return shutil.copytree(sample_as_built, tmp_path_factory.mktemp("untouched") / "ferry-lane")


@pytest.mark.parametrize("name", COMMANDS)
def test_a_slip_in_a_command_is_told(name, untouched, oven, golden):
    """Exit 3, nothing on stdout, a golden message, and the book byte for byte as before."""
    golden(f"bad/commands/{name}", refused(oven, COMMANDS[name], untouched, now=NOW))


@pytest.mark.parametrize(
    "command", ["show market-rol", "rank --by luck", "diff market-roll r9", "history nothing", "list --jsn"]
)
def test_a_refusal_can_be_had_as_a_document(command, untouched, oven):
    """With --json it is a document on stderr, whatever kind of refusal it is."""
    ran = oven(f"{command} --json", cwd=untouched, now=NOW)
    assert ran.out == ""
    assert ran.code in (2, 3)
    assert as_document(ran)["next"]


@pytest.mark.parametrize(
    ("command", "said"),
    [
        ("rank --top 0", "--top: 0 is too small; it begins at 1."),
        ("rank --top many", "--top: 'many' is not a whole number."),
        ("diff", "Name a formula, or two bakes with --trials."),
        ("tweak market-roll", "ITEM=AMOUNT... is missing."),
        ("rekord market-roll", "There is no command rekord. Did you mean record?"),
        ("tweak market-roll water=70% --wy x", "ovenleaf tweak has no option --wy. Did you mean --why?"),
    ],
)
def test_a_command_typed_in_a_way_it_does_not_take(command, said, untouched, oven):
    """Exit 2, a sentence, and how help is had; the book stays as it was."""
    before = whole(untouched)
    ran = oven(command, cwd=untouched, now=NOW)
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.startswith(f"{said}\n")
    assert offered(ran.err)[0].endswith("--help")
    assert whole(untouched) == before


def test_a_rye_line_that_goes_up_ends_with_the_wheat_taking_up_the_rest(sample_book, oven, golden):
    """The short name is asked about, then the flours come to 105 %; each step's command leads to the next."""
    first = offered(refused(oven, COMMANDS["tweak-rye-without-rest"], sample_book, now=NOW))
    assert first[0] == "tweak caraway-rye 'medium rye flour=+5points' --why x"
    said = refused(oven, first[0], sample_book, now=NOW)
    golden("bad/commands/tweak-flours-at-105", said)
    assert oven(offered(said)[0], cwd=sample_book, now=NOW).code == 0


@pytest.mark.parametrize("name", ["tweak-misspelt-item", "tweak-misspelt-new-item", "tweak-misspelt-in-part"])
def test_the_command_that_is_offered_works(name, sample_book, oven):
    """What stands under Next can be typed as it stands."""
    command = offered(refused(oven, COMMANDS[name], sample_book, now=NOW))[-1]
    ran = oven(command, cwd=sample_book, now=NOW)
    assert ran.code == 0, ran.err


def test_a_step_the_formula_does_not_know_is_written_down(sample_book, oven):
    """What was done was done, planned or not."""
    ran = oven('record market-roll --step "kneading: 5 min"', cwd=sample_book, now=NOW)
    assert ran.code == 0
    assert "kneading     not planned         5 min" in ran.out


def test_a_formula_without_trials_cannot_be_ranked(oven, tmp_path, golden):
    """There is nothing to rank, and the command that would give something."""
    assert oven("start stall --baker noor", cwd=tmp_path).code == 0
    book = tmp_path / "stall"
    golden("bad/commands/rank-empty-book", refused(oven, "rank", book))
    page = "formula: x-loaf\ningredients:\n  strong wheat flour: 100%\n  water: 65%\n  salt: 2%\n"
    assert oven("enter -", cwd=book, typed=page).code == 0
    said = refused(oven, "rank x-loaf", book)
    golden("bad/commands/rank-no-trials", said)
    assert oven(offered(said)[0], cwd=book, terminal=True, typed="stop\n").code == 0


def test_one_taster_scores_twice_only_visibly(sample_book, oven, golden):
    """Refused with the whole command; with --why the trial says what it was, is, by whom, when and why."""
    said = refused(oven, "score A1 --taster tomas --crumb 8", sample_book, now=NOW)
    golden("bad/commands/scored-twice", said)
    command = offered(said)[0]
    assert oven(command, cwd=sample_book, now=NOW).code == 0
    page = next(p for p in (sample_book / "trials/market-roll").iterdir() if "\ncode: A1\n" in p.read_text())
    assert page.read_text().partition("corrections:\n")[2].splitlines()[:6] == [
        "  - field: scores.tomas.crumb",
        '    was: "6"',
        '    now: "8"',
        "    by: noor",
        f"    at: {NOW}",
        "    why: typed the wrong mark",
    ]
    shown = oven("show A1", cwd=sample_book, now=NOW).out
    golden("bad/commands/scored-twice-show", shown)
    reads_well(shown)


def test_a_trial_that_two_pages_may_be_is_not_guessed(sample_book, oven, golden):
    """A formula and a day with two bakes: both are named, and each command works."""
    for crumb in (5, 6):
        assert oven(f"record market-roll --crumb {crumb} --baked-on 2026-11-20", cwd=sample_book, now=NOW).code == 0
    said = refused(oven, "show market-roll 2026-11-20", sample_book, now=NOW)
    golden("bad/commands/two-trials", said)
    for command in offered(said):
        assert oven(command, cwd=sample_book, now=NOW).code == 0


AMBIGUOUS = {
    "show": "show market-roll r3",
    "diff": "diff market-roll r2 r3",
    "record": "record market-roll r3 --crumb 5 --note 'a little tight'",
    "tweak": "tweak market-roll water=60% --from r3 --why 'a drier one'",
    "mark": "mark market-roll r3 dropped --why 'too wet'",
    "weigh": "weigh market-roll r3",
}


@pytest.fixture
def two_of_a_number(sample_book):
    """The sample book with a revision 3 by another baker beside the one that is there."""
    folder = sample_book / "formulas/market-roll"
    other = (
        (folder / "r3.noor.yaml").read_text().replace("by: noor", "by: tomas").replace("softer still", "his own try")
    )
    (folder / "r3.tomas.yaml").write_text(other)
    return sample_book


@pytest.mark.parametrize("name", AMBIGUOUS)
def test_a_revision_of_two_bakers_is_not_guessed(name, two_of_a_number, oven, golden):
    """Both are named; the whole command is offered with each, and works."""
    said = refused(oven, AMBIGUOUS[name], two_of_a_number, now=NOW)
    golden(f"bad/commands/ambiguous-{name}", said)
    commands = offered(said)
    assert [("r3.noor" in one, "r3.tomas" in one) for one in commands] == [(True, False), (False, True)]
    ran = oven(commands[1], cwd=two_of_a_number, now=NOW)
    assert ran.code == 0, ran.err


STARTS = {
    "not-empty": "start full --baker noor",
    "a-file": "start a-file --baker noor",
    "in-a-file": "start a-file/book --baker noor",
    "a-book": "start stall --baker noor",
    "inside-another": "start outer/deep/book --baker noor",
    "sample-not-empty": "start full --sample",
    "capitals": "start new --baker Noor",
    "device-name": "start new --baker con",
}


@pytest.mark.parametrize("name", STARTS)
def test_a_book_is_started_only_where_nothing_is(name, oven, tmp_path, golden):
    """A folder that holds something, a file, another history, a name that cannot be: refused, nothing touched."""
    (tmp_path / "full").mkdir()
    (tmp_path / "full/notes.txt").write_text("flour\n")
    (tmp_path / "a-file").write_text("flour\n")
    assert oven("start stall --baker noor", cwd=tmp_path).code == 0
    subprocess.run(["git", "init", "-q", tmp_path / "outer"], check=True)
    said = refused(oven, STARTS[name], tmp_path)
    golden(f"bad/commands/start-{name}", said)
    if name == "capitals":
        assert oven(offered(said)[0], cwd=tmp_path).code == 0
