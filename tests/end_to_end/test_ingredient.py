"""`ingredient NAME` adds one to the book's own list; what cannot be is refused and nothing is written."""

from __future__ import annotations

import json
import subprocess

import pytest

from refusals_support import reads_well, snapshot

NOW = "2026-11-25T12:00:00+01:00"
MALT = 'ingredient rye malt --kind malt --water 6 --sugars 60 --allergen rye --source "the bag"'


@pytest.fixture
def run(oven, sample_book):
    """One command in a sample book of the test's own, which must go well."""

    def go(line, **world):
        ran = oven(line, cwd=sample_book, now=NOW, **world)
        assert ran.code == 0, ran.err
        return ran.out

    return go


def test_one_is_added_kept_and_shown(run, sample_book, oven, golden):
    """It stands on the page, in the history, and `show` tells what is known of it and what is not."""
    screen = run(f'{MALT} --why "for the dark loaf"')
    reads_well(screen)
    golden("ingredient/added", screen)
    golden("ingredient/page", (sample_book / "ingredients.yaml").read_text())
    shown = json.loads(run("show 'rye malt' --json"))
    assert (shown["per_100_g"]["water"], shown["per_100_g"]["fat"]) == (6, None)
    assert shown["source"] == "the bag"
    log = subprocess.check_output(["git", "log", "-1", "--format=%B"], cwd=sample_book, text=True)
    assert log.startswith("ingredients: rye malt (noor)\n\nfor the dark loaf\n")
    assert "nothing found" in run("check")
    assert "Nothing is unsaved" in oven(cwd=sample_book, now=NOW).out


def test_a_second_one_leaves_the_first_as_typed(run, sample_book):
    """The page is spliced, its remarks stay."""
    run(MALT)
    page = sample_book / "ingredients.yaml"
    page.write_text(page.read_text().replace("water: 6", "water: 6   # weighed"))
    run('save --why "a remark"')
    before = page.read_text()
    run("ingredient nigella --kind spice --stays-inside --allergen none")
    assert page.read_text() == f"{before}  nigella:\n    kind: spice\n    reaches_dough: false\n"


def test_a_built_in_name_is_overridden_and_it_is_said(run, golden):
    """The book's figures count from now on, under the other names too."""
    before = json.loads(run("show honey-milk-bun --json"))["totals"]
    screen = run("ingredient unsalted butter --kind fat --water 16 --fat 82 --salt 0 --sugars 0 --source wrapper")
    golden("ingredient/overridden", screen)
    assert "16 g" in run("show butter")
    after = json.loads(run("show honey-milk-bun --json"))["totals"]
    water = {total["name"]: total["pct"] for total in before}["all water"]
    assert {total["name"]: total["pct"] for total in after}["all water"] < water


def test_allergens_are_not_lost_by_a_new_figure(run):
    """What the built-in list warns of stays unless it is told otherwise, and it is said."""
    said = " ".join(run("ingredient rye flour --kind flour --protein 9").split())
    assert "No allergen was told, so what was listed stays: rye and gluten." in said
    assert json.loads(run("show 'rye flour' --json"))["allergens"] == ["rye", "gluten"]
    run("ingredient cornmeal --kind flour --allergen none")
    run("ingredient walnuts --kind nut --stays-inside --allergen none")
    assert json.loads(run("show walnuts --json"))["allergens"] == []


def test_another_name_can_become_one_of_its_own(run):
    """What was one more name for something else is told so."""
    screen = " ".join(run('ingredient bread flour --kind flour --protein 14 --source "the mill"').split())
    assert "where it was another name for strong wheat flour" in screen
    assert json.loads(run("show 'bread flour' --json"))["per_100_g"]["protein"] == 14


def test_a_culture_of_your_own_feeding_is_worked_out(run):
    """Wheat 100 and water 70 are 58.8 % flour, and bring the flour's allergens."""
    run('ingredient house levain --kind culture --made-of "strong wheat flour=100" --made-of water=70')
    shown = json.loads(run("show 'house levain' --json"))
    assert round(shown["per_100_g"]["flour"], 2) == 58.82
    assert shown["allergens"] == ["wheat", "gluten"]


def test_a_sheet_names_what_is_not_known(run, golden):
    """What has no figure is not in the totals, and the sheet says of which item and what."""
    page = "formula: quark-roll\ningredients:\n  T65: 100%\n  water: 50%\n  quark: 25%\n  salt: 2%\n  yeast: 1%\n"
    run("enter -", typed=page.replace("yeast:", "instant yeast:"))
    shown = run("show quark-roll")
    reads_well(shown)
    golden("ingredient/sheet-not-known", shown)
    assert json.loads(run("show quark-roll --json"))["not_known"] == [
        {"item": "quark", "parts": ["water", "fat", "sugars", "salt"]}
    ]


def test_a_flour_that_is_called_like_a_trial_is_shown_where_no_trial_is(run, sample_book, oven):
    """T65 is a flour here; a code that is neither is still told to be no trial."""
    assert run("show T65").startswith("T65 flour.")
    assert "no trial T66" in oven("show T66", cwd=sample_book, now=NOW).err
    assert "A1" in run("show A1").splitlines()[0]


def test_a_preview_writes_nothing(run, sample_book):
    """It shows what would be, and the book is byte for byte as before."""
    before = snapshot(sample_book)
    said = run(f"{MALT} --preview")
    assert said.startswith("A preview")
    assert "Rye malt" in said
    assert snapshot(sample_book) == before


REFUSED = {
    "parts": "ingredient odd --kind fat --fat 60 --water 50",
    "kind-missing": "ingredient odd --water 50",
    "kind-unknown": "ingredient odd --kind stone",
    "not-a-number": "ingredient odd --kind seed --water much",
    "below-nothing": "ingredient odd --kind seed --water -5",
    "yeast-strength": "ingredient wild yeast --kind yeast",
    "culture-unfed": "ingredient odd --kind culture",
    "culture-unknown-part": "ingredient odd --kind culture --made-of moss=100",
    "culture-no-flour": "ingredient odd --kind culture --made-of water=100",
    "measure-unknown": "ingredient odd --kind seed --weighs bucket=3",
    "allergen-near": "ingredient odd --kind seed --allergen gluton",
    "name-of-another": "ingredient odd --kind seed --also water",
    "name-unusable": "ingredient water=2 --kind seed",
    "flour-changed": "ingredient bread flour --kind flour --flour 90",
    "levain-changed": 'ingredient rye sour --kind culture --made-of "rye flour=100" --made-of water=80',
    "kind-changed": "ingredient instant yeast --kind other",
}


@pytest.mark.parametrize("name", REFUSED)
def test_what_cannot_be_added_is_refused(name, sample_book, oven, golden):
    """Exit 3, a golden word, nothing written."""
    before = snapshot(sample_book)
    ran = oven(REFUSED[name], cwd=sample_book, now=NOW)
    assert (ran.code, ran.out) == (3, "")
    reads_well(ran.err)
    golden(f"ingredient/refused-{name}", ran.err)
    assert snapshot(sample_book) == before


def test_one_that_the_book_lists_is_not_added_twice(run, sample_book, oven, golden):
    """Nor under another name of it; the page and its line are named."""
    run(f"{MALT} --also korn")
    for typed in ("ingredient Rye-Malt --kind malt", "ingredient korn --kind malt"):
        ran = oven(typed, cwd=sample_book, now=NOW)
        assert ran.code == 3
        assert "ingredients.yaml, line 4" in ran.err
    golden("ingredient/refused-listed", ran.err)


def test_a_name_that_formulas_use_as_no_flour_does_not_become_flour(run, sample_book, oven, golden):
    """What a saved formula came to must not change behind its back."""
    run("enter -", typed="formula: x-loaf\ningredients:\n  wheat flour: 100%\n  water: 60%\n  teff: 5%\n  salt: 2%\n")
    ran = oven("ingredient teff --kind flour", cwd=sample_book, now=NOW)
    assert ran.code == 3
    golden("ingredient/refused-in-use", ran.err)
    run("ingredient teff --kind seed --stays-inside")


def test_a_list_that_cannot_be_read_is_not_written_to(sample_book, oven):
    """The fault is told with its line."""
    (sample_book / "ingredients.yaml").write_text("format: ingredients/1\ningredients:\n  odd:\n    water: 120\n")
    before = snapshot(sample_book)
    ran = oven(MALT, cwd=sample_book, now=NOW)
    assert ran.code == 3
    assert "line 4" in ran.err
    assert snapshot(sample_book) == before
