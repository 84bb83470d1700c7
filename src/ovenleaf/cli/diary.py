"""Play a diary: the very commands that a baker typed, each at its time, into a new book."""

from __future__ import annotations

import contextlib
import io
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

import typer

from ovenleaf.cli.context import Context, current, play
from ovenleaf.cli.main import run_words
from ovenleaf.errors import ExitCode, Interrupted, saved_so_far

if TYPE_CHECKING:
    from ovenleaf.jobs.diary import DiaryEntry


def play_sample(root: Path) -> None:
    """Build the sample book in the folder `root`, which is new or empty; other bakers' copies are gone afterwards."""
    from ovenleaf.jobs.diary import forget_the_place

    with TemporaryDirectory(prefix="ovenleaf-", ignore_cleanup_errors=True) as elsewhere:
        _play_all(root, Path(elsewhere))
    forget_the_place(root)


def _play_all(root: Path, elsewhere: Path) -> None:
    from ovenleaf.jobs.diary import sample_diary

    environ, diary = current().environ, sample_diary()
    for number, entry in enumerate(diary):
        folder = root if entry.copy == diary[0].copy else elsewhere / entry.copy
        world = Context(
            book=folder if number else None,
            cwd=root.parent,
            now=entry.at,
            interactive=False,
            environ=environ,
            baker=entry.baker,
            page=entry.page.encode(),
            lot=entry.at.isoformat(),
        )
        try:
            _play(entry, folder, elsewhere, world)
        except KeyboardInterrupt as stop:
            written = len(saved_so_far())
            raise Interrupted(saved=bool(written), what=f"{written} entries of the sample book") from stop


def _play(entry: DiaryEntry, root: Path, elsewhere: Path, world: Context) -> None:
    from ovenleaf.jobs.diary import edit_by_hand

    if entry.edit is not None:
        edit_by_hand(root, entry.edit)
        return
    words = [_placed(word, entry.words[0], root, elsewhere) for word in entry.words]
    with play(world), contextlib.redirect_stdout(io.StringIO()):
        try:
            run_words(words)
        except typer.Exit as end:
            if end.exit_code != ExitCode.OPEN:  # questions that the bakers settle later in the diary
                raise


def _placed(word: str, verb: str, root: Path, elsewhere: Path) -> str:
    """A word of the diary with its places filled in: the new book's folder, the one in which the diary lies, the one
    where bakers share, and a copy of another baker's."""
    from ovenleaf.jobs.diary import sample_folder

    if verb == "start":
        return word.replace("BOOK", str(root))
    if verb in ("share", "join"):
        return {"PLACE": str(elsewhere / "shared"), "COPY": str(root)}.get(word, word)
    return word.replace("SAMPLE", str(sample_folder())) if verb == "photo" else word
