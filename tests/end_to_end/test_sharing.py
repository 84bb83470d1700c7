"""Two bakers, two copies of one book, and a folder between them: nothing lost, nothing let in, nothing to learn."""

from __future__ import annotations

import pytest

from ovenleaf.book import git
from ovenleaf.cli.completing import complete
from sharing_support import EVENING, GIT_WORDS, MONDAY, SUNDAY, pages, two_copies


@pytest.fixture(scope="module")
def story(tmp_path_factory):
    """Sara's and Tom's story: both change the rye, one water in two ways."""
    made = two_copies(tmp_path_factory.mktemp("story"))
    noor, tomas = made.noor, made.tomas
    made.type(tomas, 'tweak caraway-rye water=77% "caraway seed=1.2%" --why "dry by day two"', SUNDAY)
    made.type(tomas, "record caraway-rye --crumb 7 --crust 7", SUNDAY)
    made.type(noor, 'tweak caraway-rye water=76% --why "crumb a little tight"', MONDAY)
    made.type(noor, "record caraway-rye r1 --crumb 5 --crust 7", MONDAY)
    made.type(noor, "share --preview", MONDAY, name="preview")
    made.type(noor, "share", MONDAY, name="sent")
    made.type(tomas, "share", EVENING, code=4, name="open")
    made.type(tomas, "check", EVENING, code=1, name="check")
    made.type(tomas, "", EVENING, name="open_now")
    made.type(tomas, "list", EVENING, name="open_list")
    made.type(tomas, "show caraway-rye", EVENING, name="open_show")
    made.type(tomas, "diff caraway-rye r2.tomas r3", EVENING, name="open_diff")
    made.offered = complete(["ovenleaf", "--book", str(tomas), "settle", "caraway-rye", ""], 5)
    made.type(tomas, "weigh caraway-rye", EVENING, code=4, name="weigh")
    made.type(tomas, "begin caraway-rye", EVENING, code=4, name="begin")
    made.type(tomas, "record caraway-rye --crumb 5", EVENING, code=4, name="record")
    made.type(tomas, 'tweak caraway-rye salt=1.9% --why "less"', EVENING, code=4, name="tweak")
    made.type(tomas, "weigh caraway-rye r2.noor", EVENING)
    made.page = (tomas / "formulas/caraway-rye.yaml").read_text()
    made.type(tomas, "settle caraway-rye", EVENING, code=3, name="how")
    made.type(tomas, "settle caraway-rye wter=76%", EVENING, code=3, name="which")
    made.type(tomas, 'settle caraway-rye water=76% --why "the smaller step first"', EVENING, name="settle")
    made.type(tomas, "settle caraway-rye water=76%", EVENING, code=3, name="nothing")
    made.type(tomas, "", EVENING, name="waiting_now")
    made.type(tomas, "show caraway-rye r3", EVENING, name="settled_show")
    made.type(tomas, "share", EVENING, name="settled_sent")
    made.type(noor, "share", EVENING, name="settled_came")
    made.type(noor, "share", EVENING, name="nothing_new")
    made.type(noor, "history caraway-rye", EVENING, name="history")
    return made


@pytest.mark.parametrize(
    "name",
    [
        "preview_first", "first", "taken", "join", "preview", "sent", "open", "check", "weigh", "begin", "record",
        "open_now", "open_list", "open_show", "open_diff", "waiting_now", "settled_show",
        "tweak", "how", "which", "settle", "nothing", "settled_sent", "settled_came", "nothing_new", "history",
    ],
)  # fmt: skip
def test_the_story_reads_as_it_should(story, golden, name):
    """Each screen in the baker's words, 80 columns, without a word of git's."""
    said = story.said[name]

    assert not GIT_WORDS.search(said)
    assert all(len(line) <= 80 for line in said.splitlines())
    golden(f"sharing/{name}", said)


def test_both_copies_end_as_one(story):
    """The same last entry, so the same pages, and nothing unsaved."""
    assert git.head(story.noor) == git.head(story.tomas)
    assert git.changed(story.noor) == git.changed(story.tomas) == ()
    assert pages(story.noor) == pages(story.tomas)


def test_the_value_that_neither_wants_stands_only_while_it_is_open(story):
    """74 % is the ancestor's; what tomas alone changed is there, and so is noor's remark."""
    assert "water: 74%" in story.page
    assert "caraway seed: 1.2%" in story.page
    assert "# Mill Lane" in story.page
    assert "open:\n  water:\n    was: 74%\n    noor: 76%\n    tomas: 77%\n" in story.page


def test_both_bakers_revisions_stay_readable_by_name(story, oven):
    """For ever."""
    for name, water in (("r2.noor", "76"), ("r2.tomas", "77")):
        assert f"{water}.0 %" in oven(f"show caraway-rye {name}", cwd=story.noor).out


def test_the_shell_completes_an_answer(story):
    """With each baker's proposal."""
    assert story.offered == ("water=noor", "water=tomas")


def test_an_undo_goes_back_to_the_last_share_and_no_further(story, oven, golden):
    """Others hold what came before."""
    ran = oven("undo", cwd=story.tomas, now=EVENING)

    assert ran.code == 3
    golden("sharing/undo", ran.err)


def test_a_bake_whose_code_was_given_twice_has_another_and_says_so(story):
    """Its correction stands on its page."""
    page = (story.noor / "trials/caraway-rye/2026-11-23-noor.yaml").read_text()

    assert "code: A3\n" in page
    assert "field: code\n    was: A2\n    now: A3\n" in page
