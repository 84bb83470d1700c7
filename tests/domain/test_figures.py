"""Figures as they are shown: each with its unit, no sign for a change."""

from __future__ import annotations

from decimal import Decimal

import pytest

from ovenleaf.domain import figures


@pytest.mark.parametrize(
    ("value", "shown"),
    [("62", "62.0 %"), ("0.62", "0.62 %"), ("58.2571", "58.3 %"), ("9.0909", "9.09 %"), ("167.62", "167.62 %")],
)
def test_a_percentage(value, shown):
    """As typed with two decimals or fewer; one decimal from 10 up."""
    assert figures.pct(Decimal(value)) == shown


@pytest.mark.parametrize(
    ("value", "shown"), [("1000.0", "1000 g"), ("1676.24", "1676.2 g"), ("0.247", "0.25 g"), ("0.1", "0.1 g")]
)
def test_a_weight(value, shown):
    """To a tenth of a gram, to a hundredth below one."""
    assert figures.grams(Decimal(value)) == shown


@pytest.mark.parametrize(
    ("before", "after", "words"),
    [
        ("65", "68", "up 3.0 points"),
        ("1.5", "1.2", "down 0.3 points"),
        ("2", "2.00", "same"),
        ("0.62", "0.65", "up 0.03 points"),
        ("66.666", "66.701", "same"),
    ],
)
def test_a_change_is_a_word_between_the_figures_shown(before, after, words):
    """Never a sign, and never a change that the printed figures do not have."""
    assert figures.points(Decimal(before), Decimal(after)) == words


def test_marks_and_scores():
    """A mark as given; a mean with one decimal or two; a score always with two."""
    assert figures.mark_as_given(Decimal("7.0")) == "7"
    assert [figures.mark(Decimal(m)) for m in ("7", "7.25", "6.875")] == ["7.0", "7.25", "6.88"]
    assert [figures.score(Decimal(s)) for s in ("7.5", "6.875", "10")] == ["7.50", "6.88", "10.00"]
