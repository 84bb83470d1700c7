"""Bakes found by what was measured, done and noted: rows with what fits, what was understood, what they share."""

from __future__ import annotations

import json

import pytest

from refusals_support import reads_well, refused
from support import run_ovenleaf

NOW = "2026-11-25T12:00:00+01:00"


@pytest.fixture(scope="module")
def find(sample_as_built):
    """`find(WORDS)` looks through the sample book, as a screen; `find.codes(WORDS)` gives the codes alone."""

    def go(words, more=""):
        ran = run_ovenleaf("find", *words.split(), *more.split(), cwd=sample_as_built, now=NOW)
        assert ran.code == 0, ran.err
        if not more:
            reads_well(ran.out)
        return ran.out

    go.document = lambda words: json.loads(go(words, "--json"))
    go.codes = lambda words: [one["code"] for one in go.document(words)["trials"]]
    return go


SCREENS = {
    "gummy": "gummy, dough above 24C, since September",
    "crumb": "crumb below 6",
    "pale": "fault too pale",
    "hydration": "hydration above 70",
    "flour": "flour Mill Lane, crumb at least 8",
    "left_out": "left out",
    "none": "gummy, dough above 90C",
    "not_recorded": "market-roll, dough temperature not recorded",
}


@pytest.mark.parametrize("name", SCREENS)
def test_screens(name, find, golden):
    """What was understood is said; each row says what fits."""
    golden(f"find/{name}", find(SCREENS[name]))


def test_rows_can_be_spoken_whole(find, golden):
    """As every table."""
    golden("find/spoken", find("fault too pale", "--sentences"))


def test_every_bake_that_fits_is_found_and_no_other(find):
    """Against the pages themselves, told another way."""
    everyone = set(find.codes("since 2020"))
    assert (
        set(find.codes("crumb below 6")) | set(find.codes("crumb at least 6")) | set(find.codes("not scored"))
        <= everyone
    )
    assert not set(find.codes("crumb below 6")) & set(find.codes("crumb at least 6"))
    assert set(find.codes("before 1 October")) | set(find.codes("since 1 October")) == everyone
    assert set(find.codes("gummy")) | set(find.codes("not gummy")) == everyone
    assert find.codes("trial C1") == ["C1"]
    assert find.codes("revision r3, formula market-roll") == find.codes("market-roll, r3")


def test_scales_of_a_thermometer_are_one(find):
    """77 F is 25 C."""
    assert find.codes("dough above 77F") == find.codes("dough above 25 C")
    assert find.codes("dough above 77F")


def test_not_recorded_is_neither_above_nor_below(find):
    """A bake without a dough temperature is in no span of them."""
    unknown = set(find.codes("dough temperature not recorded"))
    assert unknown
    assert not unknown & set(find.codes("dough at least 0C"))


def test_a_share_is_as_weighed_or_else_as_planned_and_says_which(find):
    """Nobody is told that a plan was weighed."""
    why = [trial["why"][0] for trial in find.document("hydration above 60")["trials"]]
    assert any(words.endswith("planned") for words in why)
    assert any(words.endswith("as weighed") for words in why)


def test_a_span_is_heard_with_to_as_with_between(find):
    """As it is said of an oven."""
    assert find.codes("oven 220C to 240C") == find.codes("oven between 220C and 240C") != []


REFUSED = {
    "no_unit": "dough above 26",
    "near": "dought above 26C",
    "unknown": "viscosity above 26C",
    "no_day": "since flour",
    "no_figure": "dough above warm",
    "two_figures": "dough between 26C",
    "half_said": "fault",
    "half_a_figure": "dough above",
    "other_unit": "crumb above 6 min",
}


@pytest.mark.parametrize("name", REFUSED)
def test_what_cannot_be_understood(name, oven, sample_as_built, golden):
    """What is wrong with it, and how to write it."""
    golden(f"find/{name}", refused(oven, f"find {REFUSED[name]}", sample_as_built, now=NOW))


def test_an_empty_book_is_looked_through_too(oven, tmp_path, golden):
    """Nothing is there, and that is said."""
    assert oven("start stall --baker noor").code == 0
    golden("find/empty", oven("find dough above 26C", cwd=tmp_path / "stall", now=NOW).out)
