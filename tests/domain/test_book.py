"""Marks are only added: which stand, which were taken back, and which revision is the keeper."""

from __future__ import annotations

import pytest

from ovenleaf.domain.book import Mark, MarksPage, Meant


def page(*marks):
    """Marks given one after another, as `r2 keeper`."""
    said = [one.split(" ", 1) for one in marks]
    return MarksPage(
        formula="loaf",
        marks=tuple(Mark(revision=revision, mark=mark, by="noor", at="", why="") for revision, mark in said),
    )


@pytest.mark.parametrize(
    ("marks", "standing", "keeper", "taken_back"),
    [
        ([], {}, "", set()),
        (["r2 keeper"], {"r2": "keeper"}, "r2", set()),
        (["r2 keeper", "r2 taken back"], {}, "", set()),
        (["r2 dropped", "r2 keeper", "r2 taken back"], {"r2": "dropped"}, "", set()),
        (["r2 keeper", "r3 keeper"], {"r2": "keeper", "r3": "keeper"}, "r3", set()),
        (["r2 keeper", "r3 keeper", "r3 taken back"], {"r2": "keeper"}, "r2", set()),
        (["r2 keeper", "r3 keeper", "r2 keeper", "r2 taken back"], {"r2": "keeper", "r3": "keeper"}, "r3", set()),
        (["r3 taken back"], {"r3": "taken back"}, "", {"r3"}),
        (["r3 keeper", "r3 taken back", "r3 taken back"], {"r3": "taken back"}, "", {"r3"}),
        (["r3 taken back", "r3 taken back"], {"r3": "taken back"}, "", {"r3"}),
        (["r3 taken back", "r3 keeper"], {"r3": "keeper"}, "r3", set()),
        (["r3 taken back", "r3 keeper", "r3 taken back"], {"r3": "taken back"}, "", {"r3"}),
    ],
)
def test_taken_back_undoes_the_last_mark_or_else_the_revision(marks, standing, keeper, taken_back):
    """What stood before a mark that was taken back stands again."""
    found = page(*marks)
    assert found.standing == standing
    assert found.keeper == keeper
    assert found.taken_back == taken_back


def test_an_answer_taken_back_answers_no_more():
    """Another about something else, or given again, stands."""

    def meant(about, *, taken_back=False):
        return Meant(revision="r1", about=about, by="noor", at="", why="", taken_back=taken_back)

    salt, water = meant("salt"), meant("water")
    assert MarksPage(formula="loaf", meant=(salt, water, meant("salt", taken_back=True))).answers == (water,)
    assert MarksPage(formula="loaf", meant=(salt, meant("salt", taken_back=True), salt)).answers == (salt,)
