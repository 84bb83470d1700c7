"""The diary of the sample book: who typed what, when; and what the book holds when all is typed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from ovenleaf.book import sharing
from ovenleaf.book.steps.bakes import trial_pages
from ovenleaf.book.steps.opening import baker_of, open_book
from ovenleaf.book.steps.shelf import formula_names
from ovenleaf.records.assets import sample_book_folder
from ovenleaf.records.codec.diary import read_diary
from ovenleaf.records.yaml_text import read
from ovenleaf.results import Started

if TYPE_CHECKING:
    from pathlib import Path

PAGE = "diary.yaml"


@dataclass(frozen=True, slots=True, kw_only=True)
class DiaryEntry:
    """One command of the diary: when, by whom, which words; `page` is what was handed in with it.

    `copy` is the copy of the book in which it was typed; `edit` is a hand edit instead of a command: (page, text that
    stood there, text put there).
    """

    at: datetime
    baker: str
    copy: str
    words: tuple[str, ...] = ()
    page: str = ""
    edit: tuple[str, str, str] | None = None


def sample_diary() -> tuple[DiaryEntry, ...]:
    """The diary that comes with ovenleaf, in order."""
    text = (sample_book_folder() / PAGE).read_text(encoding="utf-8")
    return tuple(
        DiaryEntry(
            at=datetime.fromisoformat(line.at),
            baker=line.baker,
            copy=line.copy,
            words=line.words,
            page=line.page,
            edit=line.edit,
        )
        for line in read_diary(read(text, path=PAGE))
    )


def sample_folder() -> Path:
    """The folder in which the diary lies, and the pictures that it hands in."""
    return sample_book_folder()


def edit_by_hand(root: Path, edit: tuple[str, str, str]) -> None:
    """What a baker does in an editor: one text for another, where it stands once."""
    page, old, new = edit
    text = (root / page).read_text(encoding="utf-8")
    if text.count(old) != 1:
        raise ValueError(f"{old!r} stands {text.count(old)} times in {page}")
    (root / page).write_text(text.replace(old, new), encoding="utf-8", newline="\n")


def forget_the_place(root: Path) -> None:
    """The bakers of the diary shared somewhere that is no more: whoever has the sample shares it with nobody yet."""
    sharing.forget(root)


def finished(root: Path, shown: Path) -> Started:
    """The book when the diary has been played."""
    book = open_book(root, root)
    return Started(
        folder=shown,
        page=book.page,
        baker=baker_of(root),
        formulas=formula_names(root),
        trials=len(trial_pages(root)),
    )
