"""What was read from a page, put into the index and taken out again."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ovenleaf.domain import benchline
from ovenleaf.domain.formula import Step
from ovenleaf.domain.trial import Correction, Marks, ScoreScale, State, Trial
from ovenleaf.findings import Finding, Severity
from ovenleaf.records.facts import from_text, shape, to_text

words = st.text(max_size=20)
figures = st.none() | st.decimals(allow_nan=False, allow_infinity=False, places=2)
pairs = st.tuples(words, words)


def some(one: st.SearchStrategy) -> st.SearchStrategy:
    """A few of something, as the domain keeps them."""
    return st.lists(one, max_size=3).map(tuple)


marks = st.builds(
    Marks, taster=words, crumb=figures, crust=figures, bake_again=st.none() | st.booleans(), faults=some(words),
    hours_after=figures, blind=st.none() | st.booleans(), note=words,
)  # fmt: skip
steps = st.builds(Step, name=words, line=words.map(benchline.read))
trials = st.builds(
    Trial, name=words, formula=words, revision=words, code=words, state=st.sampled_from(State), weighed=some(pairs),
    steps=some(steps), scale=st.none() | st.builds(ScoreScale, low=st.decimals(0, 1), high=st.decimals(5, 10)),
    scores=some(marks), log=some(words), corrections=some(st.builds(Correction, **dict.fromkeys(
        ("field", "was", "now", "by", "at", "why"), words))),
)  # fmt: skip
findings = st.builds(
    Finding, code=words, severity=st.sampled_from(Severity), path=words, line=st.none() | st.integers(1, 9),
    message=words, fix=words, text=words,
)  # fmt: skip


@given(trials | some(findings))
def test_what_goes_in_comes_out(value):
    """Nothing is lost or changed, down to the digits of a figure."""
    again = from_text(to_text(value))
    assert again == value
    assert repr(again) == repr(value)


def test_a_figure_keeps_its_digits():
    """7 and 7.0 are equal, and are written as they were."""
    assert str(from_text(to_text(Marks(taster="noor", crumb=Decimal("7.0")))).crumb) == "7.0"


@pytest.mark.parametrize(
    "text",
    ["", "[", "[]", '["os.system", "x"]', '["Trial", {}]', '["Trial", {"no_such": 1}]', '["number", "x"]', "[[]]",
     '["State", "no such"]', '["Trial"]', '{"a": 1', '["Trial", 5]'],
)  # fmt: skip
def test_what_was_never_written_is_refused(text):
    """A spoiled index makes nothing but a plain refusal, and no other thing than what is listed."""
    with pytest.raises(ValueError):
        from_text(text)


def test_another_shape_has_another_name(monkeypatch):
    """What an older program kept, with a field less, is not read by a newer one."""
    before = shape()
    monkeypatch.setattr("ovenleaf.records.facts._VALUES", (Trial, Step))
    assert shape() != before
