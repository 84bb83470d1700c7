"""The sample book: its diary, played through the program itself, gives the pages that lie beside it."""

from __future__ import annotations

from pathlib import Path

SAMPLE = Path(__file__).parents[1] / "sample-book"
AFTER = "2026-11-25T12:00:00+01:00"  # when the story is over


def pages(folder):
    """All pages of a book, by name; the diary and the history are not pages."""
    found = (path for path in folder.rglob("*.yaml") if ".git" not in path.relative_to(folder).parts)
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in found if p.name != "diary.yaml"}


def test_diary_rebuilds_the_sample_book(sample_as_built, request):
    """The diary gives the pages of the sample book again, byte for byte."""
    made = pages(sample_as_built)
    if request.config.getoption("--update-sample"):
        for name in pages(SAMPLE):
            (SAMPLE / name).unlink()
        for name, data in made.items():
            (SAMPLE / name).parent.mkdir(parents=True, exist_ok=True)
            (SAMPLE / name).write_bytes(data)
    assert pages(SAMPLE) == made


def test_sample_book_is_in_order(sample_book, oven):
    """`check` finds nothing in the sample book, and nothing in it is unsaved."""
    result = oven("check", cwd=sample_book, now=AFTER)
    assert result.code == 0
    assert "nothing found" in result.out
    assert "Nothing is unsaved" in oven(cwd=sample_book, now=AFTER).out


def test_sample_book_holds_its_story(sample_book, oven):
    """Five formulas, sixteen revisions, thirty trials, three tasters, marks, and a bake that was left out."""
    looked = " ".join(oven("check", cwd=sample_book, now=AFTER).out.split())
    assert "five formulas, 16 revisions and 30 trials" in looked
    ranked = oven("rank", cwd=sample_book, now=AFTER).out
    assert "noor, petra and tomas" in ranked
    assert "the power failed" in ranked
    history = oven("history caraway-rye", cwd=sample_book, now=AFTER).out
    assert "keeper" in history
    assert "dropped" in history


def test_a_draft_that_was_turned_down_leaves_the_formula_as_it_was(sample_book, oven):
    """The oil was tried on the page and put back, so the flatbread has no third revision."""
    diary = (SAMPLE / "diary.yaml").read_text(encoding="utf-8")
    assert diary.count("olive oil: 14%") == 2
    assert "two revisions" in oven("history olive-flatbread", cwd=sample_book, now=AFTER).out
