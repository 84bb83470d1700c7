"""What was answered before: the same words, typed in a book that is in the same state, have the same answer.

Loads almost nothing, for it comes before all else. What it keeps can be thrown away at any time.
"""

from __future__ import annotations

import os
import sys
from typing import NamedTuple

from ovenleaf.book import stamps
from ovenleaf.book.index import Answer as Answer
from ovenleaf.book.index import answer_to, keep_answer

LONGEST = 2_000_000  # signs; a longer answer is not kept


class Asked(NamedTuple):
    """A question asked of the book in the folder `root`, which was in `state`."""

    root: str
    question: str
    state: str


def asked(root: str, words: tuple[str, ...], *, now: int) -> Asked | None:
    """The question that `words` are, of a book as it is `now` (nanoseconds); None where its state cannot be told.

    `words` name all that the answer hangs on besides the book's files: the command line, the folder, the day.
    """
    program = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
    try:
        state = stamps.of_folder(root, now=now)
        by = stamps.of_program(program, now=now)
    except stamps.Unsettled:
        return None
    return Asked(root, "\0".join((root, by, sys.version, *words)), state)


def answered(question: Asked) -> Answer | None:
    """The answer, if it is known. None also where it is not such as a screen of ours: a book can come from anyone."""
    answer = answer_to(*question)
    if answer is None or not all(line.isprintable() for line in answer.text.split("\n")):
        return None
    return answer


def keep(question: Asked, answer: Answer, *, now: int) -> None:
    """Keeps an answer for the next time, unless the book was changed while it was worked out."""
    if len(answer.text) > LONGEST:
        return
    try:
        if stamps.of_folder(question.root, now=now) == question.state:
            keep_answer(*question, answer)
    except stamps.Unsettled:
        return
