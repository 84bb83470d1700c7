"""What is looked at without quotes, in the middle of an edit, or before there is much to look at."""

from __future__ import annotations

import json

import pytest

from refusals_support import reads_well, refused

NOW = "2026-11-25T12:00:00+01:00"


@pytest.mark.parametrize("line", ["show fresh yeast", "show whole milk", "show strong wheat flour", "show T65 flour"])
def test_an_ingredient_of_several_words_needs_no_quotes(line, oven, sample_book):
    """`show fresh yeast` is what `show "fresh yeast"` is."""
    ran = oven(line, cwd=sample_book, now=NOW)
    assert ran.code == 0, ran.err
    assert ran.out == oven("show", line.removeprefix("show "), cwd=sample_book, now=NOW).out


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("show fresh yast", "fresh yast is no formula, no trial and no ingredient here. Did you mean fresh yeast?"),
        ("show market-rol r1", "There is no formula market-rol in this book. Did you mean market-roll?"),
    ],
)
def test_several_words_that_are_nothing_are_told_as_a_whole(line, said, oven, sample_book):
    """A revision behind a name makes it a formula's; other words are part of the name."""
    assert " ".join(refused(oven, line, sample_book, now=NOW).split()).startswith(said)


def test_a_misspelt_field_of_a_draft_is_told(oven, sample_book, golden):
    """`titel:` says nothing of the dough, and is not passed over: the page is not shown as if all of it were read."""
    page = sample_book / "formulas/market-roll.yaml"
    page.write_text(page.read_text().replace("\ntitle:", "\ntitel:"))
    said = refused(oven, "show market-roll", sample_book, now=NOW)
    golden("bad/books/draft-with-a-misspelt-field", said)
    assert oven("show market-roll r4", cwd=sample_book, now=NOW).code == 0
    alone = oven("--json", cwd=sample_book, now=NOW)
    assert [one["path"] for one in json.loads(alone.out)["findings"]] == ["formulas/market-roll.yaml"]
    screen = oven("--sentences", cwd=sample_book, now=NOW).out
    reads_well(screen)
    assert "Did you mean title?" in " ".join(screen.split())


def test_one_revision_that_was_baked_is_baked_again(oven, tmp_path):
    """The history of a formula offers the next bake in words that fit what was baked."""
    assert oven("start stall --baker noor").code == 0
    assert (
        oven(
            "enter -",
            cwd=tmp_path / "stall",
            typed="formula: loaf\ningredients:\n  strong wheat flour: 100%\n  water: 68%\n  salt: 2%\n",
        ).code
        == 0
    )
    for words in ("when it is baked\n", "when it is baked again\n"):
        assert oven("history loaf", cwd=tmp_path / "stall").out.endswith(words)
        assert oven("record loaf --crumb 6 --crust 7", cwd=tmp_path / "stall").code == 0
