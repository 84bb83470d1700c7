"""The sample book: its diary, played through the program itself, gives the pages that lie beside it."""

from __future__ import annotations

import json
from pathlib import Path

SAMPLE = Path(__file__).parents[1] / "sample-book"
AFTER = "2026-11-25T12:00:00+01:00"  # when the story is over


def pages(folder):
    """All pages and pictures of a book, by name; the diary, what it hands in and the history are not of the book."""
    found = {path.relative_to(folder).as_posix(): path for path in folder.rglob("*") if path.is_file()}
    ours = ("formulas/", "trials/", "photos/", "book.yaml", "ingredients.yaml")
    return {name: path.read_bytes() for name, path in found.items() if name.startswith(ours)}


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
    """Formulas and many trials, three tasters, marks, and a bake that was left out."""
    found = json.loads(oven("check --json", cwd=sample_book, now=AFTER).out)
    assert found["formulas"] >= 6
    assert found["revisions"] >= 19
    assert found["trials"] >= 33
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


def test_the_sample_book_shows_what_the_bench_can_do(sample_book, oven):
    """An enriched formula with a preferment inside another, a soaker beside them, and a warming learned from bakes."""
    sheet = json.loads(oven("show advent-loaf --json", cwd=sample_book, now=AFTER).out)
    parts = {part["name"]: part for part in sheet["preferments"]}
    assert [(name, part["leavened"], part["into"]) for name, part in parts.items()] == [
        ("poolish", True, "sponge"),
        ("sponge", True, None),
        ("soaker", False, None),
    ]
    totals = {total["name"]: total["pct"] for total in sheet["totals"]}
    assert totals["fat"] > 10
    assert totals["milk sugar"] > 1
    line = "weigh advent-loaf --water-temp --room 19C --flour-temp 18C"
    assert "learned from three bakes with the spiral" in " ".join(oven(line, cwd=sample_book, now=AFTER).out.split())


def test_two_bakers_shared_the_sample_book_and_settled_a_question(sample_book, oven):
    """Two revisions 4, one that combines them with honey open, and one that settles it; nothing waits to be shared."""
    found = json.loads(oven("history advent-loaf --json", cwd=sample_book, now=AFTER).out)
    last = {one["revision"]: one for one in found["revisions"][-4:]}
    assert list(last) == ["r4.noor", "r4.tomas", "r5.noor.tomas", "r6.noor"]
    assert last["r5.noor.tomas"]["made_from"] == ["r4.noor", "r4.tomas"]
    assert [question["item"] for question in last["r5.noor.tomas"]["open"]] == ["honey"]
    assert last["r6.noor"]["open"] == []
    assert "share" not in oven(cwd=sample_book, now=AFTER).out


def test_two_bakers_bake_in_the_sample_book(sample_book, oven):
    """Both stand in book.yaml, and each has baked three times at the least."""
    book = (sample_book / "book.yaml").read_text(encoding="utf-8")
    assert "\n  noor:\n" in book
    assert "\n  tomas:\n" in book
    by = [page.read_text(encoding="utf-8") for page in (sample_book / "trials").rglob("*.yaml")]
    assert all(sum(f"\nbaker: {name}\n" in page for page in by) >= 3 for name in ("noor", "tomas"))
