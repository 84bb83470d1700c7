"""Lines of a log: written and read back, in the order in which things were seen, less what was taken back."""

from __future__ import annotations

from datetime import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders import QUICK
from ovenleaf.domain.log import LogLine, log_line, log_lines, standing_lines

AT = datetime.fromisoformat("2026-11-12T09:42:00+01:00")
TOLD = datetime.fromisoformat("2026-11-12T09:44:00+01:00")
WORDS = st.text(st.characters(exclude_categories=("Cs", "Cc")), min_size=1).filter(
    lambda text: not text.startswith("(")
)


@QUICK
@given(
    words=WORDS,
    told=st.sampled_from((None, TOLD)),
    by=st.sampled_from(("", "tomas", "noor-shop")),
    counted=st.booleans(),
)
def test_a_line_is_read_back_as_it_was_written(words, told, by, counted):
    """Whatever the words: when it was seen and told, by whom, and whether it counts."""
    line = LogLine(at=AT, words=words, told=told, by=by, counted=counted)
    assert log_line(str(line)) == line


@pytest.mark.parametrize(
    "text", ["felt tight", "12 Nov felt tight", "2026-11-12 felt tight", "2026-11-12T09:42 felt tight", ""]
)
def test_a_line_without_a_time_and_its_offset_is_none(text):
    """Typed by hand, perhaps; it is shown, and never counted."""
    assert log_line(text) is None


def test_words_in_brackets_stay_words():
    """Only our own asides are asides."""
    assert log_line("2026-11-12T09:42:00+01:00 (a joke) out").words == "(a joke) out"


def test_the_order_is_that_of_what_was_seen():
    """Across offsets too, and told late."""
    texts = (
        "2026-11-12T09:00:00+01:00 b",
        "2026-11-12T07:59:00+00:00 a",
        "2026-11-12T08:30:00+01:00 (told 2026-11-12T10:00:00+01:00) 0",
    )
    assert [line.words for line in log_lines(texts)] == ["0", "a", "b"]


def test_what_was_taken_back_does_not_count():
    """The last line of those words goes, and nothing else; what is words alone never counted."""
    texts = [
        f"2026-11-12T09:0{n}:00+01:00 {words}"
        for n, words in enumerate(("fold", "fold", "(as words) x", "taken back: fold", "out"))
    ]
    assert [(line.words, line.at.minute) for line in standing_lines(texts)] == [("fold", 0), ("out", 4)]
