"""What a question about a bake is: how it is put, and what becomes of an answer to it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ovenleaf.domain.said import Said

if TYPE_CHECKING:
    from collections.abc import Callable
    from datetime import date

    from ovenleaf.domain.book import BookPage
    from ovenleaf.domain.sheet import Sheet

NOTHING = Said()
NO = frozenset({"no", "none", "nothing"})  # what means nothing where words are wanted


@dataclass(frozen=True, slots=True, kw_only=True)
class Bench:
    """What questions and answers are about: the sheet, the book, the taster, and the day it is."""

    sheet: Sheet
    book: BookPage
    taster: str
    today: date


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """How an answer was taken: `said` is kept, `echo` told; `problem` is why it means nothing, or ""."""

    said: Said = NOTHING
    echo: str = ""
    problem: str = ""


NOTHING_TAKEN = Taken()


@dataclass(frozen=True, slots=True, kw_only=True)
class Wording:
    """A question as it is put. `planned` is the answer that `=` stands for, as it would be typed, or ""."""

    text: str
    planned: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """One question: `put` words it by what was told so far, `take` makes something of an answer to it."""

    put: Callable[[Said], Wording]
    take: Callable[[str, Said], Taken]


def question(text: str, take: Callable[[str, Said], Taken], planned: str = "") -> Question:
    """A question that is put in the same words whatever was told before."""
    wording = Wording(text=text, planned=planned)
    return Question(put=lambda _: wording, take=take)
