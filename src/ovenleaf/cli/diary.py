"""Play a diary: the very commands that a baker typed, each at its time, into a new book."""

from __future__ import annotations

import contextlib
import io
from typing import TYPE_CHECKING

from ovenleaf.cli.context import Context, current, play
from ovenleaf.cli.main import run_words
from ovenleaf.errors import Interrupted, saved_so_far

if TYPE_CHECKING:
    from pathlib import Path

    from ovenleaf.jobs.diary import DiaryEntry


def play_sample(root: Path) -> None:
    """Build the sample book in the folder `root`, which is new or empty."""
    from ovenleaf.jobs.diary import sample_diary

    environ = current().environ
    for number, entry in enumerate(sample_diary()):
        world = Context(
            book=root if number else None,
            cwd=root.parent,
            now=entry.at,
            interactive=False,
            environ=environ,
            baker=entry.baker,
            page=entry.page.encode(),
            lot=entry.at.isoformat(),
        )
        try:
            _play(entry, root, world)
        except KeyboardInterrupt as stop:
            written = len(saved_so_far())
            raise Interrupted(saved=bool(written), what=f"{written} entries of the sample book") from stop


def _play(entry: DiaryEntry, root: Path, world: Context) -> None:
    from ovenleaf.jobs.diary import edit_by_hand

    if entry.edit is not None:
        edit_by_hand(root, entry.edit)
        return
    words = [_placed(word, entry.words[0], root) for word in entry.words]
    with play(world), contextlib.redirect_stdout(io.StringIO()):
        run_words(words)


def _placed(word: str, verb: str, root: Path) -> str:
    """A word of the diary with its places filled in: the new book's folder, and the one in which the diary lies."""
    from ovenleaf.jobs.diary import sample_folder

    if verb == "start":
        return word.replace("BOOK", str(root))
    return word.replace("SAMPLE", str(sample_folder())) if verb == "photo" else word
